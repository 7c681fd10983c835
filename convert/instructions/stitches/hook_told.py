"""Reads stitches told together with the hook: "yarn over and make a tr as before, inserting the hook in next loop"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Step, Verbatim, Work
from convert.instructions.places.place import read_place
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item, counted_on
from convert.instructions.words.phrases import takes_sign
from convert.source import NOWHERE
from convert.trade.stitches import stitches


def read_wrapped_work(cur: Cursor) -> list[Step] | None:
    """ "Wool over and make a treble": the wrap with which a tall stitch begins anyway, and the stitch."""
    start = cur.at
    if not cur.take_words("yarn-over"):
        return None
    cur.take_mark(",")
    cur.take_words("and", "then")
    steps = read_work(cur) if cur.is_word("work") else None
    one = steps[0] if steps is not None and len(steps) == 1 else None
    entry = stitches().get(one.stitch) if isinstance(one, Work) else None
    if steps is None or entry is None or (entry.height or 0) < _TALL:
        cur.at = start
        return None
    takes_sign(cur, "as_before")  # "make a treble as before": it is told once more how
    return [replace(one, span=cur.span(start))] if isinstance(one, Work) else steps


_TALL = 2
"""Height in chains from which a stitch begins with a wrap."""


def placed_by_hook(cur: Cursor, items: list[Item]) -> bool:
    """ "1 treble, inserting the hook under the 3 chain": gives the stitch told last, whose place nothing tells, the
    one that the hook goes into.
    """
    start = cur.at
    if cur.peek().kind not in ("word", "unknown"):
        return False
    at = len(items) - 1
    while at >= 0 and isinstance(told := items[at], Verbatim) and told.inert:
        at -= 1
    last = items[at] if at >= 0 else None
    untold = isinstance(last, Work) and last.place is not None and last.place.span == NOWHERE and last.each == 1
    if not untold or not cur.peek().text.lower().endswith("ing") or not takes_sign(cur, "inserting"):
        cur.at = start
        return False
    place = read_place(cur)
    ends = cur.done or cur.peek().kind == "mark"
    if (
        place is None
        or not ends
        or not isinstance(last, Work)
        or last.place is None
        or last.place.number != place.number
    ):
        cur.at = start
        return False
    items[at : at + 1] = counted_on(items[:at], [replace(last, place=replace(place, span=cur.span(start)))])
    return True
