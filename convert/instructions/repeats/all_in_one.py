"""Reads a repeat that goes on in the place just named: "into next loop 2 dc, * 4 ch, 2 dc; rep from * twice more"."""

from __future__ import annotations

from collections.abc import Callable

from convert.document.steps import Chain, Extent, Repeat, Step, Work
from convert.instructions.repeats.repeat import is_sign, read_repeat_from
from convert.instructions.words.cursor import Cursor


def all_in_one(cur: Cursor, listed: Callable[[Cursor, str], list[Step]]) -> list[Step]:
    """What is repeated a number of times behind stitches of one place, and names no place of its own; nothing is read
    where it is anything else. `listed` reads stitches and chains without a place.
    """
    start = cur.at
    cur.take_mark(",", ";")
    if not is_sign(cur):
        cur.at = start
        return []
    sign, begun = cur.peek().id, cur.at
    cur.at += 1
    steps = listed(cur, "")
    cur.take_mark(",", ";")
    cur.take_words("and", "then")
    again = read_repeat_from(cur) if any(isinstance(step, Work) for step in steps) else None
    chained = bool(steps) and isinstance(steps[0], Chain)
    if again is None or not chained or again.sign != sign or again.between or again.how.extent is not Extent.TIMES:
        cur.at = start
        return []
    return [Repeat(tuple(steps), Extent.TIMES, again.how.times, None, None, again.how.doubtful, cur.span(begun))]
