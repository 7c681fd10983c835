"""A group that lies across the beginning of a round: "..., 2 sc in same st as first sc, join".

The last stitches of the round go into the place of its first one, and are one group with it: the corner of an edging
that began there. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Decrease, Group, Repeat, Step, What, Which, Work
from convert.fabric.cells import STITCH, Cell, Loop, Strip, compact

_GROUP = 3
"""Fewer stitches in one place are an increase."""


def with_group_at_start(strip: Strip, steps: tuple[Step, ...]) -> Strip:
    """What the round made, with its last and its first stitches marked as one group, where they went into one place."""
    begin, end = _in_first_place(steps)
    size = begin + end
    if not end or size < _GROUP or strip.length <= size:
        return strip
    first, last = strip.at(0), strip.at(strip.length - end)
    if first[0].size or last[0].size or first[0].sort != STITCH or first[1] < begin or last[1] < end:
        return strip
    parts = [last[0]._replace(unit="group", part=index, size=size) for index in range(end)]
    begun = [first[0]._replace(unit="group", part=end + index, size=size) for index in range(begin)]
    loops = (*_singly(begun), *strip.cut(begin, strip.length - end), *_singly(parts))
    return Strip.of(compact(loops))


def _singly(cells: list[Cell]) -> tuple[Loop, ...]:
    return tuple(Loop(((cell, 1),), 1) for cell in cells)


def _in_first_place(steps: tuple[Step, ...]) -> tuple[int, int]:
    """How many stitches the round begins and ends with in its first place."""
    worked = [step for step in steps if isinstance(step, Work | Group | Decrease | Repeat)]
    last = worked[-1] if len(worked) > 1 else None
    place = last.place if isinstance(last, Work) else None
    if place is None or place.what is not What.STITCH or place.which is not Which.FIRST or place.number != 1:
        return 1, 0
    first = worked[0]
    there = first.place if isinstance(first, Work) else None
    together = there is not None and there.which in (Which.SAME, Which.FIRST, Which.NEXT) and there.number == 1
    begin = first.each if isinstance(first, Work) and together and isinstance(first.each, int) else 1
    return begin, last.each if isinstance(last, Work) and isinstance(last.each, int) else 0


def without_groups(strip: Strip) -> Strip:
    """The same stitches, of which none are told as a group."""
    loops = (
        Loop(tuple((cell._replace(unit="", part=0, size=0), number) for cell, number in runs), times)
        for runs, times in strip.loops
    )
    return Strip.of(compact(tuple(loops)))
