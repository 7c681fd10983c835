"""Reads rows on one side of a piece: "working 1 shoulder at a time, sc in next 12 sts, turn". The rest of the row below
is left for the other side.
"""

from __future__ import annotations

from convert.document.steps import (
    Chain,
    Decrease,
    FastenOff,
    Group,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    Verbatim,
    Which,
    Work,
)
from convert.instructions.words.cursor import Cursor

_WORKED = (Work, Group, Decrease, Repeat, Slip)


def read_one_at_a_time(cur: Cursor) -> list[Step] | None:
    """The words in front of such a row, as a remark."""
    start = cur.at
    if "at-once" not in cur.holds or not cur.take_words("work"):
        return None
    cur.take_words("in")
    number = cur.take_kind("num")
    side = cur.peek().kind in ("unknown", "word")
    cur.at += side
    if number is None or number.value != 1 or not side or not cur.take_words("at-once"):
        cur.at = start
        return None
    cur.alone = True
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def with_rest_left(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps of such a row with those places left that none of them works."""
    if any(isinstance(step, Skip) and step.leave for step in steps):
        return steps
    end = max((at + 1 for at, step in enumerate(steps) if isinstance(step, _WORKED)), default=0)
    closing = steps[end:]
    if not end or not all(
        isinstance(s, Chain | Turn | FastenOff) or (isinstance(s, Verbatim) and s.inert) for s in closing
    ):
        return steps
    return (*steps[:end], Skip(Place(which=Which.REST), True, steps[end - 1].span), *closing)
