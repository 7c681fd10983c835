"""Reads where a clause that goes to the end of the row is worked otherwise: "sc in each ch, making 3 sc in last ch"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Again, Extent, Group, Place, Repeat, Step, Verbatim, What, Which, Work
from convert.instructions.shaping.shaping_words import read_in_words
from convert.instructions.stitches.groups import first_that_reads, read_open_group
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item, RepeatFrom
from convert.instructions.words.said import said_from


def modifies(cur: Cursor, items: list[Item]) -> bool:
    """Whether a participle says how the work just told of differs somewhere: "..., making 3 doubles in each corner".

    It does behind what already goes to the end of the row, behind a row worked again, and behind words not understood.
    """
    if cur.peek().kind not in ("word", "unknown"):
        return False
    last = items[-1] if items else None
    unread = isinstance(last, Verbatim) and not last.inert
    whole = (
        unread
        or isinstance(last, Again)
        or (isinstance(last, RepeatFrom) and last.whole)
        or (isinstance(last, Work) and last.place is not None and last.place.which is Which.EACH)
    )
    if (
        isinstance(last, Work)
        and whole
        and cur.is_word("with")
        and cur.peek(1).kind == "num"
        and cur.is_word("in", ahead=2)
    ):
        return True  # "a double in each double, with 2 at the end"
    beside = cur.is_word("with") and cur.peek(1).kind == "num" and cur.peek(2).id != "ch" and cur.is_word("in", ahead=3)
    if not whole or not (beside or cur.is_listed("exceptions")):
        return False
    ahead = 2 if cur.is_word("the", ahead=1) else 1
    rows = cur.is_word("row", "round", ahead=ahead + 1)  # "working 2 rows each of A and B" is about the yarn
    return cur.peek(ahead).kind in ("num", "stitch", "tog") and not rows


def modified(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """The last step parted at its exception, taken from the items; None where it cannot be."""
    last = items[-1]
    if isinstance(last, Verbatim):
        return _all_along(cur)
    parted = read_exception(cur, last) if isinstance(last, Work) else None
    if parted is not None:
        cur.clauses += 1
        items.pop()
        return parted
    told = read_in_words(cur)
    cur.clauses += told is not None
    return told


def _all_along(cur: Cursor) -> list[Step] | None:
    """ "..., making a double in each stitch": behind words not understood, what the whole row is worked in."""
    start = cur.at
    steps = read_work(cur)
    only = steps[0] if steps and len(steps) == 1 else None
    if isinstance(only, Work) and only.place is not None and only.place.which is Which.EACH:
        cur.clauses += 1
        return [only]
    cur.at = start
    return None


def read_exception(cur: Cursor, whole: Work) -> list[Step] | None:
    """The steps that stand for `whole` with the exception at the position ("making 3 sc in last ch").

    None, with nothing read, where the place of the exception is not one that the row can be parted at.
    """
    start = cur.at
    cur.at += 1
    steps = first_that_reads(cur, (read_open_group, read_work))
    one = steps[0] if steps else None
    parted = None
    if steps is not None and len(steps) == 1 and isinstance(one, Work | Group) and one.place is not None:
        several = _each_of_two(cur, whole, one)
        if several is not None:
            return several
        if whole.place is not None and whole.place.what is What.PIECE and _in_each_corner(one):
            return [whole, replace(one, span=cur.span(start))]
        if whole.place is not None and whole.place.what is What.PIECE:  # how many go along that edge is open anyway
            return [whole, Verbatim(said_from(cur, start), True, cur.span(start))]
        parted = _parted(whole, replace(one, span=cur.span(start)), one.place)
    if parted is None or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return parted


_ALL_ALONG = frozenset({"closely", "evenly", "around", "across"})


def _each_of_two(cur: Cursor, whole: Work, one: Step) -> list[Step] | None:
    """ "Dc closely around, making 8 dc in each ch-6 sp and 5 dc in each ch-3 sp": told in full by the spaces."""
    start = cur.at
    along = whole.place.words.split() if whole.place is not None and whole.place.what is What.PIECE else []
    if (
        not along
        or not _ALL_ALONG.issuperset(along)
        or not _in_each_space(one, whole.stitch)
        or not cur.take_words("and")
    ):
        cur.at = start
        return None
    steps = read_work(cur)
    if not steps or len(steps) != 1 or not _in_each_space(steps[0], whole.stitch):
        cur.at = start
        return None
    return [Verbatim((" ".join(along),), True, whole.span), one, steps[0]]


def _in_each_corner(one: Work | Group) -> bool:
    place = one.place
    return place is not None and place.what is What.CORNER and place.which is Which.EACH and not place.words


def _in_each_space(step: Step, stitch: str) -> bool:
    place = step.place if isinstance(step, Work) and step.stitch == stitch else None
    return place is not None and place.what is What.SPACE and place.which is Which.EACH and place.chains is not None


def _parted(whole: Work, one: Step, there: Place) -> list[Step] | None:
    if there.words and there.which is Which.CENTER and there.what is What.SPACE and isinstance(one, Work | Group):
        plain = replace(there, words="")
        parted = _parted(whole, replace(one, place=plain), plain)
        said = Verbatim((there.words,), True, one.span)
        return [*parted[:2], said, *parted[2:]] if parted is not None else None
    if there.number != 1 or there.words or there.within is not None or whole.place is None or whole.place.every > 1:
        return None
    if there.which is Which.FIRST:
        return [one, whole]
    beside = there.which is Which.EACH and there.what in (What.SPACE, What.CORNER)
    if beside and whole.place.which is Which.EACH and whole.place.what is What.STITCH:
        return [whole, one]
    each = replace(whole, place=replace(whole.place, which=Which.NEXT, also=()))
    if whole.place.also:
        return None
    if there.which is Which.LAST:
        return [Repeat((each,), Extent.TO_LAST, place=replace(there, number=1), span=whole.span), one]
    if there == Place(What.SPACE, Which.CENTER):
        up_to = whole.place.what is What.SPACE and whole.place.which is Which.EACH
        return [Repeat((each,), Extent.TO_PLACE, place=there, span=whole.span), one, whole] if up_to else None
    if there.which is Which.CENTER and there.what is What.STITCH and there.of in (None, whole.place.of, whole.stitch):
        center = Place(What.STITCH, Which.CENTER, span=there.span)
        middle = replace(one, place=center) if isinstance(one, Work | Group) else one
        return [Repeat((each,), Extent.TO_PLACE, place=center, span=whole.span), middle, whole]
    if there.which is Which.NEXT and there.what in (What.SPACE, What.CORNER) and whole.place.what is What.STITCH:
        return [Repeat((each,), Extent.TO_PLACE, place=there, span=whole.span), one, whole]
    return None
