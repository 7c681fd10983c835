"""Reads where a clause that goes to the end of the row is worked otherwise: "sc in each ch, making 3 sc in last ch"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent, Group, Place, Repeat, Step, What, Which, Work
from convert.instructions.cursor import Cursor
from convert.instructions.groups import first_that_reads, read_open_group
from convert.instructions.work import read_work


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
        parted = _parted(whole, one, one.place)
    if parted is None or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return parted


def _parted(whole: Work, one: Step, there: Place) -> list[Step] | None:
    if there.number != 1 or there.words or there.within is not None or whole.place is None or whole.place.every > 1:
        return None
    if there.which is Which.FIRST:
        return [one, whole]
    each = replace(whole, place=replace(whole.place, which=Which.NEXT, also=()))
    if whole.place.also:
        return None
    if there.which is Which.LAST:
        return [Repeat((each,), Extent.TO_LAST, place=replace(there, number=1), span=whole.span), one]
    if there.which is Which.NEXT and there.what in (What.SPACE, What.CORNER) and whole.place.what is What.STITCH:
        return [Repeat((each,), Extent.TO_PLACE, place=there, span=whole.span), one, whole]
    return None
