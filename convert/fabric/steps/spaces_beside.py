"""Spaces of several lengths in one pass: "9 dc in each ch-8 sp and 6 dc in each ch-5 sp"."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import Place, Step, What, Which, Work
from convert.fabric.cells import SPACE
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import stitches


def are_spaces_beside(step: Step, other: Step) -> bool:
    """Whether two clauses work one stitch into all spaces of two lengths, which stand among one another."""
    one, two = _each_space(step), _each_space(other)
    if one is None or two is None or not isinstance(step, Work) or not isinstance(other, Work):
        return False
    plain = step.stitch in stitches() and not stitches()[step.stitch].unit
    return plain and step.stitch == other.stitch and one.chains != two.chains


def _each_space(step: Step) -> Place | None:
    place = step.place if isinstance(step, Work) else None
    if place is None or place.what is not What.SPACE or place.which is not Which.EACH or place.chains is None:
        return None
    return place


def work_spaces(worker: Worker, *steps: Work) -> None:
    """Works all of them in the order in which they come; raises `NotFound` where there are none of one length."""
    total = 0
    for step in steps:
        place = step.place
        assert place is not None
        test = worker.test(place)
        many = worker.remaining(test)
        if not many:
            worker.not_found(place, test, step.span)
        total += many * worker.number(step.each, step.span)
    worker.make(steps[0].stitch, total)
    worker.spaced = True
    worker.position, worker.last = worker.base.length, worker.base.length - 1


def work_beside(worker: Worker, step: Work, other: Step, do: Callable[[Worker, Step], None]) -> bool:
    """Works two clauses of one pass, if they are spaces of two lengths or all stitches and all chains; whether so."""
    if isinstance(other, Work) and are_spaces_beside(step, other):
        work_spaces(worker, step, other)
        return True
    if isinstance(other, Work) and _are_chains_beside(worker, step, other):
        do(worker, _in_stitches_and_chains(step, other))
        return True
    return False


def _are_chains_beside(worker: Worker, step: Work, other: Work) -> bool:
    """ "Sc in each ch, sc in each st": one stitch into every stitch and every chain that the row below made."""
    if (step.stitch, step.each) != (other.stitch, other.each):
        return False
    places = [place for place in (step.place, other.place) if place is not None]
    whole = all(place.which is Which.EACH and place.every == 1 and not place.of for place in places)
    spaces = worker.base.find(lambda cell: cell.sort == SPACE, worker.position) is not None
    return whole and spaces and {place.what for place in places} == {What.STITCH, What.CHAIN}


def _in_stitches_and_chains(step: Work, other: Work) -> Work:
    """The two as one pass, in the order in which stitches and chains come."""
    one, two = (step, other) if step.place is not None and step.place.what is What.STITCH else (other, step)
    assert one.place is not None
    assert two.place is not None
    return replace(one, place=replace(one.place, also=(two.place,)))
