"""Reads several stitches into one place: "in next sp work 3 dc, ch 1 and 3 dc", "2 dc, ch 2, 2 dc in next loop"."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.records import Special
from convert.document.steps import (
    Again,
    Begin,
    Chain,
    Extent,
    Group,
    Join,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.instructions.chains.chain import read_chain
from convert.instructions.moves import read_colour, read_skip
from convert.instructions.places.carried_on import placed_behind
from convert.instructions.places.place import as_space, read_place
from convert.instructions.repeats.all_in_one import all_in_one
from convert.instructions.repeats.brackets import closing, goes_on, only_names
from convert.instructions.repeats.repeat import read_how_often
from convert.instructions.rows.for_rows import lasts
from convert.instructions.stitches.clusters import chains_between
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.instructions.words.remarks import remark_follows
from convert.trade.stitches import stitches

Reader = Callable[[Cursor], list[Step] | None]


def read_grouped_work(cur: Cursor) -> list[Step] | None:
    """A stitch clause inside a group."""
    return read_work(cur, grouped=True)


GROUP_READERS: tuple[Reader, ...] = (read_chain, read_grouped_work, read_skip, read_colour)
"""The readers of clauses inside a group that goes into one place."""


def first_that_reads(cur: Cursor, readers: tuple[Reader, ...]) -> list[Step] | None:
    """What the first of the readers that knows the clause at the position reads."""
    for reader in readers:
        start = cur.at
        steps = reader(cur)
        if steps is not None:
            return steps
        cur.at = start
    return None


def repeated(cur: Cursor, steps: list[Step]) -> list[Step]:
    """The steps just read, repeated if "6 times" or "twice" follows them directly, or in the place that does."""
    if len(steps) == 1 and isinstance(steps[0], Repeat):
        return [placed_behind(cur, steps[0])]
    if len(steps) != 1 or isinstance(steps[0], Verbatim | Repeat | Turn | Begin | Again):
        return steps
    start = cur.at
    how = None if lasts(cur, steps) else read_how_often(cur, total=True)
    if how is None:
        return steps
    doubtful = how.extent is Extent.END
    span = steps[0].span.to(cur.span(start))
    one = _next_of_each(steps[0]) if how.extent is Extent.TO_PLACE else steps[0]
    bare = how.extent is Extent.TIMES
    return [Repeat((one,), how.extent, how.times, how.place, said_doubtful=doubtful, said_bare=bare, span=span)]


def _next_of_each(step: Step) -> Step:
    """ "Skip all sts to next sp": what is repeated up to there is one of them."""
    if not isinstance(step, Skip) or step.place.which is not Which.EACH:
        return step
    return replace(step, place=replace(step.place, which=Which.NEXT))


def read_place_first(cur: Cursor) -> list[Step] | None:
    """ "in next sp work 3 dc, ch 1 and 3 dc"; "in ring, work 12 dc"; "working in BLO, sc in each st"."""
    start = cur.at
    with_stitch = cur.take_words("work") > 0 and cur.peek(1).kind == "stitch" and cur.peek(1).id != "ch"
    ring = cur.is_word("form-ring") and cur.is_word("work", ahead=1)  # "into ring work (2 dc, ch 2, 3 dc)"
    if not (cur.is_word("in") or ring) or (with_stitch and cur.peek(2).kind != "word"):
        cur.at = start  # "work in dc, ..." tells the stitch and no place
        return None
    place = read_place(cur)
    if place is None or (place.what is What.PIECE and cur.is_mark(",")):
        cur.at = start
        return None
    comma = cur.take_mark(",", ":")
    goes_on = start and cur.words[start - 1].id == "and" and _is_each_stitch(place)
    if goes_on and not cur.is_word("work"):
        cur.at = start  # "... and in each ch across (9 dc)" goes on with the stitch before
        return None
    set_off = comma or cur.take_words("work") > 0
    cur.take_words("work")
    if not set_off and cur.peek().kind == "stitch":
        cur.at = start
        return None
    bracket = cur.peek().kind == "mark" and cur.peek().id in ("(", "[")
    closer = {"(": ")", "[": "]"}[cur.peek().id] if bracket else ""
    if bracket:
        cur.at += 1
    steps = _listed(cur, closer)
    if bracket and not cur.take_mark(closer):
        steps = []
    if bracket and place.what is not What.RING:
        steps = _times_and_more(cur, steps)
    if steps and not bracket and as_space(place).what is What.SPACE:
        steps += all_in_one(cur, _listed)
    if not steps:
        cur.at = start
        return None
    span = cur.span(start)
    chain = steps[:1] if place.what is What.RING and not bracket and isinstance(steps[0], Chain) else []
    rest = steps[len(chain) :]  # "in ring, ch 3 (counts as dc), 11 dc": the chain begins the round
    if not rest:
        return [Group(tuple(steps), as_space(place), span)]
    if len(rest) == 1 and isinstance(rest[0], Work) and rest[0].place is None:
        loop = as_space(place) if rest[0].each != place.number else place
        return [*chain, replace(rest[0], place=loop, span=span)]
    return [*chain, Group(tuple(rest), as_space(place), span)]


def _is_each_stitch(place: Place) -> bool:
    return place.which is Which.EACH and place.what in (What.STITCH, What.CHAIN)


def _times_and_more(cur: Cursor, steps: list[Step]) -> list[Step]:
    """The bracket with what "and" adds behind its number of times: "in next loop (dc, ch 2) 3 times and dc"."""
    start = cur.at
    how = read_how_often(cur, total=True) if steps else None
    if how is None or how.extent is not Extent.TIMES or not cur.take_words("and"):
        cur.at = start
        return steps
    more = first_that_reads(cur, GROUP_READERS)
    if more is None or any(_has_place(step) for step in more):
        cur.at = start
        return steps
    return [Repeat(tuple(steps), Extent.TIMES, how.times, span=cur.span(start)), *more]


def _listed(cur: Cursor, closer: str) -> list[Step]:
    """The steps of "3 dc, ch 1 and 3 dc": up to the one behind "and", or the last that needs no place of its own."""
    steps: list[Step] = []
    last = False
    while not cur.done:
        before = cur.at
        found = first_that_reads(cur, GROUP_READERS)
        picot = found is not None and bool(steps) and _closes_picot(found, steps[-1])
        passes = found is not None and not closer and any(map(_passes, found))
        if found is None or passes or (not picot and any(_has_place(step) for step in found)):
            cur.at = before
            break
        steps += repeated(cur, found)
        steps += _purpose(cur) if picot else _explained(cur)
        if closer and cur.is_mark(closer):
            break
        if last and not closer:
            break
        before = cur.at
        cur.take_mark(",")
        last = cur.take_words("and") > 0
        if cur.at == before:
            break
    else:
        return steps
    return steps


def _passes(step: Step) -> bool:
    """ "Miss next loop" behind what goes into one: the list is at its end."""
    return isinstance(step, Skip) and step.place.what is What.SPACE


def _closes_picot(found: list[Step], before: Step) -> bool:
    """ "Ch 4, sl st in top of last tr": a picot on the way, behind which the list goes on in the same place."""
    one = found[0] if len(found) == 1 else None
    return isinstance(one, Slip) and one.place.which is Which.MADE and isinstance(before, Chain)


def _explained(cur: Cursor) -> list[Step]:
    """A bracket that only explains the stitch in front of it, "(hdc: yo, insert hook ...)": the list goes on."""
    start, end = cur.at, closing(cur) if cur.is_mark("(") else None
    if end is None or not only_names(cur, start, end) or goes_on(cur, end):
        return []
    cur.at = end + 1
    return [Verbatim((cur.text(start, cur.at),), inert=True, span=cur.span(start))]


def _purpose(cur: Cursor) -> list[Step]:
    """ "For picot": what the clause was worked for, up to its end."""
    start = cur.at
    if not remark_follows(cur):
        return []
    while not (cur.done or cur.peek().kind == "mark"):
        cur.at += 1
    return [Verbatim((cur.text(start, cur.at),), inert=True, span=cur.span(start))]


def _has_place(step: Step) -> bool:
    return isinstance(step, Group | Join | Turn | Slip) or (isinstance(step, Work) and step.place is not None)


def read_open_group(cur: Cursor) -> list[Step] | None:
    """ "2 dc, ch 2, 2 dc in next loop": several stitches into one place, listed without brackets.

    Only where it can mean nothing else: "3 sc, 2 sc in next st" works the first three into a place each. Into "each
    corner" go all of them, numbers or not: "dc, ch 2 and dc in each corner".
    """
    start = cur.at
    cur.take_words("work", "then")
    first, second = cur.peek(), cur.peek(1)
    numbered = first.kind == "num" and second.kind == "stitch" and second.id != "ch"
    bare = first.kind == "stitch" and first.id != "ch" and "corner" in cur.ids[cur.at : cur.at + _AHEAD]
    if not (numbered or bare) or cur.is_word("in", "around", "between", ahead=2):  # the first has a place of its own
        cur.at = start
        return None
    entry = stitches().get(second.id) if second.kind == "stitch" else None
    if entry is not None and entry.decoration:  # a picot stands on what was worked before
        cur.at = start
        return None
    found = up_to_place(cur)
    corners = found is not None and found[1].what is What.CORNER and found[1].which is Which.EACH
    if found is None or not _is_one_group(*found) or (bare and not corners):
        cur.at = start
        return None
    steps, place = found
    return [Group(tuple(steps), place, cur.span(start))]


def up_to_place(cur: Cursor) -> tuple[list[Step], Place] | None:
    """The stitches and chains of the list, and the place behind the last one."""
    steps: list[Step] = []
    first = cur.at
    while not cur.done:
        spaced = _with_chains(cur, steps)
        if spaced is not None:
            place = read_place(cur)
            return (spaced, place) if place is not None else None
        found = first_that_reads(cur, GROUP_READERS[:2])
        last = found[0] if found else None
        if found is None or len(found) != 1 or not isinstance(last, Work | Chain):
            return None
        if isinstance(last, Work) and last.place is not None:
            return ([*steps, replace(last, place=None)], last.place)
        steps.append(last)
        place = _named_place(cur, first, steps)
        if place is not None:
            return steps, place
        if not cur.take_mark(","):
            cur.take_words("and")
        cur.take_words("and")
    return None


def _with_chains(cur: Cursor, before: list[Step]) -> list[Step] | None:
    """The list with a chain between any two stitches: "2 tr, 3 dtr, 2 tr with ch 2 between each st"."""
    start = cur.at
    number = read_number(cur) if cur.peek().kind == "num" else None
    stitch = cur.take_kind("stitch") if isinstance(number, int) else None
    chains = chains_between(cur) if stitch is not None else None
    if chains is None or stitch is None or not isinstance(number, int) or not before:
        cur.at = start
        return None
    kinds: list[str] = []
    for step in before:
        if not isinstance(step, Work) or not isinstance(step.each, int):
            cur.at = start
            return None
        kinds += [step.stitch] * step.each
    kinds += [stitch.id] * number
    spaced: list[Step] = []
    for kind in kinds:
        spaced += [Work(kind), chains]
    return spaced[:-1]


def _named_place(cur: Cursor, first: int, steps: list[Step]) -> Place | None:
    """The place behind a bracket that names the group: "(shell) in next loop" defines the stitch as well."""
    start = cur.at
    name = cur.peek(1)
    if not (cur.is_mark("(") and name.kind == "stitch" and cur.is_mark(")", ahead=2)):
        return None
    cur.at += 3
    place = read_place(cur)
    entry = stitches().get(name.id)
    if place is None or len(steps) < 2:
        cur.at = start
        return None
    if entry is not None and entry.unit and not any(special.id == name.id for special in cur.context.specials):
        span = cur.span(first, start)
        cur.defined.append(
            Special(name.id, name.text, name.text, steps=(Group(tuple(steps), Place(), span),), span=span)
        )
    return place


_AHEAD = 16
"""So many words on, the corner is named into which a list of stitches goes."""


def _is_one_group(steps: list[Step], place: Place) -> bool:
    """Whether the steps can only go into one place together."""
    if len(steps) < 2 or place.number != 1 or place.what is What.GAP:
        return False
    works = [step for step in steps if isinstance(step, Work)]
    if len(works) < 2 or not isinstance(steps[0], Work):
        return False
    between = any(isinstance(step, Chain) for step in steps)
    if not between and len({step.stitch for step in works}) == 1:
        return False  # nobody tells the same stitch twice for one place: the first ones go where they come to
    if place.what not in (What.STITCH, What.CHAIN) or place.which is Which.SAME or place.within is not None:
        return True
    unit = stitches().get(place.of) if place.of else None
    if unit is not None and unit.unit:
        return True
    return between and (works[0].stitch, works[0].each) == (works[-1].stitch, works[-1].each)
