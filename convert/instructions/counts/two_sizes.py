"""Tells a stated count from the number of the second size: "(sc, inc) x 6 (18)" in a pattern of two sizes."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import PerSize
from convert.document.records import CountItem
from convert.document.steps import Decrease, Extent, Repeat, Skip, Step, Verbatim, Work
from convert.instructions.words.cursor import Cursor
from convert.trade.stitches import stitches

_TWO = 2


def with_count_told(steps: tuple[Step, ...], cur: Cursor) -> tuple[Step, ...]:
    """The steps of a row that states no count and is a repeat whose second number is what the repeat makes, with that
    number as the stated count. By chance a second size would hardly be worked as often as the first makes stitches.
    """
    if cur.stated or len(cur.context.sizes) != _TWO:
        return steps
    at = next((i for i in range(len(steps) - 1, -1, -1) if not _is_inert(steps[i])), None)
    last = steps[at] if at is not None else None
    if at is None or not isinstance(last, Repeat) or last.extent is not Extent.TIMES or last.ending is not None:
        return steps
    first, second = last.times.values if isinstance(last.times, PerSize) else (None, None)
    each = _makes(last.steps)
    if first is None or not each or second != first * each or any(not _is_inert(s) for s in steps[:at]):
        return steps
    cur.stated.append(CountItem(second, span=last.span))
    return (*steps[:at], replace(last, times=first), *steps[at + 1 :])


def _is_inert(step: Step) -> bool:
    return isinstance(step, Verbatim) and step.inert


def _makes(steps: tuple[Step, ...]) -> int:
    """How many stitches the steps make; 0 where a number differs by size or chains are among them."""
    total = 0
    for step in steps:
        if isinstance(step, Work) and step.stitch in stitches():
            number = step.place.number if step.place is not None else 1
            if not (isinstance(step.each, int) and isinstance(number, int)):
                return 0
            total += step.each * number * stitches()[step.stitch].makes
        elif isinstance(step, Decrease):
            total += 1
        elif not (_is_inert(step) or isinstance(step, Skip)):
            return 0
    return total
