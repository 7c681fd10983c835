"""Rows that begin behind stitches that they pass: "skip first 6 sts, join yarn in next st, ch 3, ...". Common practice,
no source.
"""

from __future__ import annotations

from convert.document.steps import Begin, Skip, Start, Step


def joins_behind(steps: tuple[Step, ...]) -> int:
    """How many stitches are passed in front of the one where yarn is joined, with which the steps begin: "skip first 6
    sts, join yarn in next st"; 0 where they begin otherwise.
    """
    first = steps[0] if len(steps) > 1 else None
    joined = steps[1] if first is not None else None
    if not isinstance(first, Skip) or first.leave or not isinstance(joined, Begin) or joined.start is not Start.EDGE:
        return 0
    number = first.place.number
    return number if isinstance(number, int) else 1
