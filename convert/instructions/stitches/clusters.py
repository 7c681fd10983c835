"""Reads what makes a cluster or a group of plain stitches: chains in between, last loops held back on the hook."""

from __future__ import annotations

from convert.document.numbers import Number
from convert.document.records import Special
from convert.document.steps import (
    Chain,
    Decrease,
    Extent,
    Group,
    Place,
    Repeat,
    Step,
    Verbatim,
    Work,
)
from convert.instructions.places.place import as_space, read_place
from convert.instructions.repeats.brackets import closing
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.remarks import is_inert
from convert.trade.stitches import drawn_together, stitches


def with_chains_between(cur: Cursor, stitch: str, each: Number | None, start: int) -> list[Step] | None:
    """ "7 tr with ch 1 between each tr in next loop", "2 tr divided by 3 ch in next st", "2 tr, 3 ch between, in next
    st": a group, chains between.
    """
    at = cur.at
    if not isinstance(each, int) or each < 2:
        return None
    explained = _explained(cur)
    between = chains_between(cur) or _set_off(cur)
    place = read_place(cur) if between is not None else None
    if between is None or place is None:
        cur.at = at
        return None
    group = Group((*_several(Work(stitch), between, each - 1), Work(stitch)), as_space(place), cur.span(start))
    return [group, *explained]


def _explained(cur: Cursor) -> list[Step]:
    """What a bracket behind the name of a stitch tells of it: "2 dtr (3 times over hook) with ch 4 between"."""
    start, end = cur.at, closing(cur) if cur.is_mark("(") else None
    if end is None or not is_inert(cur.text(start + 1, end)):
        return []
    cur.at = end + 1
    return [Verbatim((cur.text(start, end + 1),), inert=True, span=cur.span(start))]


def unit_of(cur: Cursor, unit: str, start: int) -> list[Step] | None:
    """ "Shell of 3 tr, 2 ch and 3 tr in next st", "cluster of 4 tr in next sp": what the group is made of."""
    at = cur.at
    if not cur.take_words("of"):
        return None
    made = _made_of(cur)
    between = chains_between(cur) if made else None
    if between is not None:
        made = _with_between(made, between)
    place = read_place(cur) if made else None
    first, last = (made[0], made[-1]) if made else (None, None)
    if place is None or not isinstance(first, Work) or not isinstance(last, Work) or first.stitch != last.stitch:
        cur.at = at
        return None
    span = cur.span(start)
    entry = stitches().get(unit)
    if entry is not None and entry.unit and not entry.decoration and not drawn_together(unit):
        _tell(cur, unit, tuple(made))
    if len(made) > 1:
        return [Group(tuple(made), place, span)]
    if drawn_together(unit) and isinstance(first.each, int):
        return [Decrease(first.stitch, first.each, (place,), span)]
    return [Work(first.stitch, first.each, place, span=span)]


def _tell(cur: Cursor, unit: str, made: tuple[Step, ...]) -> None:
    """The trade's name for a group means what the row says it is made of, until the pattern says otherwise."""
    if any(special.id == unit for special in (*cur.context.specials, *cur.defined)):
        return
    name = stitches()[unit].names(cur.context.system).name
    cur.defined.append(Special(unit, name, name, steps=(Group(made, Place()),)))


def _made_of(cur: Cursor) -> list[Step]:
    """Plain stitches and chains in a list, up to where the group goes."""
    steps: list[Step] = []
    while True:
        start = cur.at
        chained = cur.peek().kind == "stitch" and cur.peek().id == "ch"
        stitch = cur.take_kind("stitch") if chained else None
        number = cur.take_kind("num")
        stitch = stitch or cur.take_kind("stitch")
        entry = stitches().get(stitch.id) if stitch is not None else None
        if number is None or stitch is None or entry is None or entry.unit:
            cur.at = start
            return steps
        steps.append(Chain(number.value) if stitch.id == "ch" else Work(stitch.id, number.value))
        comma = cur.at
        cur.take_mark(",")
        cur.take_words("and", "then")
        if cur.at == comma or not (cur.peek().kind == "num" or cur.peek().id == "ch"):
            cur.at = comma
            return steps


def _with_between(made: list[Step], between: Step) -> list[Step]:
    """The stitches one by one with the chain between any two; none where there are chains or sizes among them."""
    spaced: list[Step] = []
    for step in made:
        if not isinstance(step, Work) or not isinstance(step.each, int):
            return []
        spaced += [Work(step.stitch), between] * step.each
    return spaced[:-1]


def _several(stitch: Work, between: Step, times: int) -> tuple[Step, ...]:
    return (stitch, between) if times == 1 else (Repeat((stitch, between), Extent.TIMES, times),)


def chains_between(cur: Cursor) -> Step | None:
    """The chain or picot in "with ch 1 between each tr", "divided by 2 chain"; nothing is read without these words."""
    start = cur.at
    divided = cur.take_words("divided-by") > 0
    between = read_between(cur) if divided or cur.take_words("with") else None
    if between is None or not (cur.take_words("between") or divided):
        cur.at = start
        return None
    cur.take_words("each", "the", "it")
    cur.take_kind("stitch")
    cur.take_words("stitch")
    return between


def _set_off(cur: Cursor) -> Step | None:
    """The chain in ", 3 ch between, in next st", ", divided by 3 ch, in next st", where a place follows."""
    start = cur.at
    comma = cur.take_mark(",")
    if comma and cur.is_word("divided-by"):
        divided = chains_between(cur)
        cur.take_mark(",")
        cur.at = cur.at if divided is not None else start
        return divided
    between = read_between(cur) if comma else None
    told = between is not None and cur.take_words("between") > 0
    cur.take_mark(",")
    if told and cur.is_word("in"):
        return between
    cur.at = start
    return None


def read_between(cur: Cursor) -> Step | None:
    """The chains between stitches, or picots."""
    cur.take_words("the")
    number = cur.take_kind("num")
    picot = cur.peek()
    entry = stitches().get(picot.id) if picot.kind == "stitch" else None
    if entry is not None and entry.decoration:
        cur.at += 1
        return Work(entry.id, number.value if number is not None else 1)
    if cur.peek().kind != "stitch" or cur.peek().id != "ch":
        return None
    cur.at += 1
    cur.take_mark("-")
    number = number or cur.take_kind("num")
    return Chain(number.value if number is not None else 1)


def held_back(cur: Cursor, steps: list[Step], start: int) -> list[Step]:
    """ "3 tr in same sp keeping last loop of each tr on hook" is a cluster: one stitch drawn from three."""
    only = steps[0]
    if len(steps) != 1 or not isinstance(only, Work) or only.place is None or not takes_held(cur):
        return steps
    number = only.each if only.each != 1 else only.place.number
    if not isinstance(number, int) or number < 2:
        return steps
    return [Decrease(only.stitch, number, (only.place,), cur.span(start))]


def takes_held(cur: Cursor) -> bool:
    """Reads "keeping (leaving, holding back) the last loop of each tr on hook"."""
    start = cur.at
    cur.take_mark(",")
    if not cur.take_words("holding-back"):
        cur.at = start
        return False
    while (
        cur.is_word("on-hook", "the", "last", "loop", "of", "each", "stitch", "in", "hook")
        or cur.peek().kind == "stitch"
    ):
        cur.at += 1
    return True
