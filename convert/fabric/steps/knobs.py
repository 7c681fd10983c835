"""Knobs at the end of a cord: "8 sc in second ch from hook, join in first sc, 1 sc in each ch".

The slip stitch closes the stitches worked into that one chain, and no round: the work goes on along the chain. Common
practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Join, Origin, Place, Repeat, Step, What, Which, Work
from convert.fabric.remembered import remembered


@remembered
def without_knobs(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps without the slip stitch that closes such a knob; it is no stitch of the row."""
    at = next((index for index, step in enumerate(steps) if isinstance(step, Join)), 0)
    if not at or at + 1 >= len(steps) or not _is_knob(steps[at - 1]):
        return steps
    join, further = steps[at], _place(steps[at + 1])
    closes = isinstance(join, Join) and join.place is not None and join.place.which is Which.FIRST
    along = further is not None and further.what is What.CHAIN and further.origin is None and further.within is None
    return (*steps[:at], *steps[at + 1 :]) if closes and along else steps


def _is_knob(step: Step) -> bool:
    """Whether several stitches go into one chain at the hook."""
    place = _place(step)
    several = isinstance(step, Work) and isinstance(step.each, int) and step.each > 1
    return several and place is not None and place.origin is Origin.HOOK and place.number == 1


def _place(step: Step) -> Place | None:
    if isinstance(step, Repeat):
        return _place(step.steps[0]) if step.steps else None
    return step.place if isinstance(step, Work) else None
