"""Rounds that go on along each side and turn each corner otherwise: "*ch 1, skip next st, dc in next st; rep from *
around, working (dc, ch 3, dc) in each corner". Common practice of edgings, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, Decrease, Extent, Group, Place, Repeat, Skip, Step, What, Which, Work
from convert.fabric.faults import Unknown
from convert.fabric.steps.rounds import to_end
from convert.fabric.steps.turns import Doer
from convert.fabric.steps.worker import Worker

UNEVEN = "corners that the repeat does not come to"


def corner_behind(tail: tuple[Step, ...]) -> Work | Group | None:
    """What a row works in each corner, told right behind the work along its sides; None where it is not, or the row
    goes on with other work.
    """
    corner = tail[0] if tail else None
    if not isinstance(corner, Work | Group) or corner.place is None:
        return None
    place = corner.place
    each = place.what is What.CORNER and place.which is Which.EACH and place.every == 1 and not place.also
    return corner if each and not any(isinstance(s, Work | Group | Decrease | Repeat) for s in tail[1:]) else None


def turns_corners(worker: Worker, step: Repeat, tail: tuple[Step, ...]) -> bool:
    """Whether a repeat goes along the sides of the row below, and the corners between them are told behind it."""
    corner = corner_behind(tail)
    if corner is None or corner.place is None or step.extent is not Extent.END or step.ending or step.place:
        return False
    plain = all(isinstance(one, Chain | Skip | Work | Group) for one in step.steps)
    return plain and not worker.untold and worker.base.find(worker.test(corner.place), worker.position) is not None


def work_sides(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """Works the repeat along each side and the corners between them. Raises `Unknown` where a working neither ends in
    front of a corner nor comes to it with a stitch, which that of the corner stands for.
    """
    corner = corner_behind(tail)
    assert corner is not None
    assert corner.place is not None
    there = replace(corner, place=replace(corner.place, which=Which.NEXT))
    test = worker.test(corner.place)
    while (at := worker.base.find(test, worker.position)) is not None:
        while not _once(worker, step.steps, there, at, do):
            worker.tick(step.span)
    to_end(worker, step, tail[1:], do)


def _once(worker: Worker, body: tuple[Step, ...], corner: Work | Group, at: int, do: Doer) -> bool:
    """Works the body once, or up to the corner and that; whether it came to the corner."""
    begun = worker.position
    for step in body:
        if isinstance(step, Work | Group) and _comes_to(worker, step.place, at):
            do(worker, (corner,))
            return True
        do(worker, (step,))
        if worker.position > at:
            raise Unknown(step.span, why=UNEVEN)
    if worker.position == begun:
        raise Unknown(body[0].span, why=UNEVEN)
    return False


def _comes_to(worker: Worker, place: Place | None, at: int) -> bool:
    """Whether the place that a step looks for is the corner, or none is left in front of it."""
    if place is None or place.which is not Which.NEXT or place.what not in (What.STITCH, What.SPACE):
        return False
    found = worker.base.find(worker.test(place), worker.position)
    return found is None or found >= at
