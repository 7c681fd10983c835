"""Picots at the beginning of a round, which stand for those that a last working would end with.

A round that begins with a stitch and the picot behind it, and repeats "..., picot, stitch", has that picot at its end
already: the last working stops in front of it. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Chain, Origin, Slip, Step, Which, Work
from convert.fabric.cells import PICOT, Builder


def picots_in(out: Builder) -> int:
    """How many picots have been made."""
    return sum(n * loop.times for loop in out.loops for cell, n in loop.runs if cell.sort == PICOT)


def first_without_these(
    lasts: tuple[tuple[Step, ...], ...], body: tuple[Step, ...], begun: int
) -> tuple[tuple[Step, ...], ...]:
    """The ways to cut the last working short, first those that leave out as many picots as the round `begun` with."""
    if not begun:
        return lasts
    fitting = [cut for cut in lasts if _picots(body[len(cut) :]) == begun and not (cut and isinstance(cut[-1], Chain))]
    return (*fitting, *(cut for cut in lasts if cut not in fitting))


def _picots(steps: tuple[Step, ...]) -> int:
    return sum(_closes_picot(step) for step in steps)


def _closes_picot(step: Step) -> bool:
    """Whether the step closes a chain to a picot: into a chain counted from the hook, or the stitch below the chain."""
    place = step.place if isinstance(step, Work | Slip) else None
    return place is not None and (place.origin is Origin.HOOK or place.which is Which.MADE)
