"""Slip stitches that lead along the last row to where the work begins: "sl st over next sp up to tr".

They come to that stitch and end in it, so that the one behind it is the next. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Decrease, Extent, Group, Repeat, Slip, Step, What, Which, Work
from convert.fabric.cells import SLIP, SPACE, STITCH
from convert.fabric.remembered import remembered
from convert.fabric.rows.readings import flat_steps
from convert.fabric.steps.filet import begins_with_meshes
from convert.fabric.steps.worker import Worker


@remembered
def slips_told(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with slips over one space up to the next stitch as a slip into each of the two."""
    if not steps or not isinstance(steps[0], Repeat):
        return steps
    first = steps[0]
    slip = first.steps[0] if len(first.steps) == 1 else None
    to = first.place
    if not isinstance(slip, Slip) or first.extent is not Extent.TO_PLACE or to is None:
        return steps
    over = slip.place.what is What.SPACE and slip.place.number == 1 and slip.place.which in (Which.FIRST, Which.NEXT)
    onto = to.what is What.STITCH and to.which is Which.NEXT and to.number == 1 and not (to.words or slip.place.words)
    return (slip, Slip(to, first.span), *steps[1:]) if over and onto else steps


def slips_travel(steps: tuple[Step, ...]) -> bool:
    """Whether slip stitches lead to other work, so that they are no row of their own."""
    return any(isinstance(leaf, Work | Group | Decrease) for leaf in flat_steps(steps)) or begins_with_meshes(steps)


def stands_where_led(worker: Worker) -> bool:
    """Whether the chain that begins a flat row stands on the stitch that slip stitches led to: a space is behind it, on
    which it cannot stand.
    """
    made, at = worker.out.last(), worker.position
    if not worker.flat or made is None or made.sort != SLIP or worker.last is None or worker.last + 1 != at:
        return False
    here, behind = (worker.base.at(p)[0] if p < worker.base.length else None for p in (worker.last, at))
    return here is not None and behind is not None and here.sort == STITCH and behind.sort == SPACE
