"""Spaces of several lengths in one pass: "9 dc in each ch-8 sp and 6 dc in each ch-5 sp"."""

from __future__ import annotations

from convert.document.steps import Place, Step, What, Which, Work
from convert.fabric.worker import Worker
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
