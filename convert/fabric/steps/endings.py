"""How the ending of a repeat across lies on the row below."""

from __future__ import annotations

from convert.document.steps import Decrease, Group, Place, Repeat, Skip, Step, What, Which, Work
from convert.fabric.steps.worker import Worker


def jumps_over(worker: Worker, step: Repeat, last: tuple[Step, ...], begun: int) -> bool:
    """Whether an ending in the turning chain, worked from the position `begun` instead of all the last working, went
    past a stitch that the working begins in, and that nothing else in it is worked into or passes: "*5 dc in next sc,
    sc in center dc of next shell; rep from * across, ending with sc in top of tch" has 5 dc in the last sc too, and no
    sc in the middle of the half shell that the turning chain is part of.
    Common practice, no source.
    """
    first = step.steps[0]
    target = getattr(first, "place", None)
    alone = step.ending is not None and bool(last) and last[0] is next(iter(step.ending.steps), None)
    if not alone or not isinstance(target, Place) or not _is_own(target):
        return False
    into = getattr(last[0], "place", None)
    if not isinstance(into, Place) or into.what is not What.BEGINNING_CHAIN:
        return False
    if not all(_elsewhere(other, target) for other in step.steps[1:]):
        return False
    landed = worker.position - 1
    into_group = getattr(getattr(step.steps[-1], "place", None), "within", None) is not None
    return (into_group and _behind_half(worker, begun, landed)) or worker.base.count(
        worker.test(target), begun, landed
    ) > 0


def _behind_half(worker: Worker, begun: int, landed: int) -> bool:
    """Whether the working before went into a half shell, which the turning chain right behind it belongs to."""
    if begun != landed or landed < 1:
        return False
    half = worker.base.at(landed - 1)[0].size
    return half > 1 and worker.base.find(lambda cell: cell.size >= 2 * half, 0) is not None


def _is_own(place: Place) -> bool:
    return place.what is What.STITCH and place.which is Which.NEXT and place.of is not None and place.within is None


def _elsewhere(step: Step, target: Place) -> bool:
    """Whether the step goes into another kind of stitch than the target, or into none."""
    if isinstance(step, Repeat | Decrease):
        return False
    if not isinstance(step, Work | Group | Skip) or step.place is None:
        return True
    place = step.place
    return place.within is not None or place.what is not What.STITCH or place.of not in (None, target.of)
