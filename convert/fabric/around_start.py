"""A group that lies across the beginning of a round: "..., 2 sc in same st as first sc, join".

The last stitches of the round go into the place of its first one, and are one group with it: the corner of an edging
that began there. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Decrease, Group, Repeat, Step, What, Which, Work
from convert.fabric.cells import STITCH, Loop, Strip, compact

_GROUP = 3
"""Fewer stitches in one place are an increase."""


def with_group_at_start(strip: Strip, steps: tuple[Step, ...]) -> Strip:
    """What the round made, with its last and its first stitches marked as one group, where they went into one place."""
    many = _into_first(steps)
    if many + 1 < _GROUP or strip.length <= many:
        return strip
    first, last = strip.at(0)[0], strip.at(strip.length - many)[0]
    if first.size or last.size or first.sort != STITCH or strip.at(strip.length - many)[1] < many:
        return strip
    group = tuple(last._replace(unit="group", part=index, size=many + 1) for index in range(many))
    begun = first._replace(unit="group", part=many, size=many + 1)
    loops = (
        Loop(((begun, 1),), 1),
        *strip.cut(1, strip.length - many),
        *(Loop(((cell, 1),), 1) for cell in group),
    )
    return Strip.of(compact(loops))


def _into_first(steps: tuple[Step, ...]) -> int:
    """How many stitches the round ends with in its first place."""
    worked = [step for step in steps if isinstance(step, Work | Group | Decrease | Repeat)]
    last = worked[-1] if len(worked) > 1 else None
    place = last.place if isinstance(last, Work) else None
    if place is None or place.what is not What.STITCH or place.which is not Which.FIRST or place.number != 1:
        return 0
    return last.each if isinstance(last, Work) and isinstance(last.each, int) else 0


def without_groups(strip: Strip) -> Strip:
    """The same stitches, of which none are told as a group."""
    loops = (
        Loop(tuple((cell._replace(unit="", part=0, size=0), number) for cell, number in runs), times)
        for runs, times in strip.loops
    )
    return Strip.of(compact(tuple(loops)))
