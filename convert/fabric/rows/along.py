"""Works a row along the sides of a piece, edge by edge, and shares out stitches that go "evenly" along one.

"Sc evenly around (120 sc)" says nowhere else how many: the count is the instruction, and cannot be checked. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.records import CountKind
from convert.document.steps import Step, What, Which, Work
from convert.fabric.cells import STITCH, Strip
from convert.fabric.counts import agrees, total
from convert.fabric.faults import OTHER_EDGE, UNTOLD, Unknown
from convert.fabric.places.place import base_kind, is_workable
from convert.fabric.rows.around_start import without_groups
from convert.fabric.rows.jobs import Edge, Outcome, RowJob
from convert.fabric.rows.legs import BOTTOM, EDGE, SIDE, Leg, legs_of
from convert.fabric.rows.sides import Sides
from convert.fabric.steps.turns import Doer
from convert.fabric.steps.worker import Worker
from convert.source import NOWHERE

Alone = Callable[[RowJob, Edge], Outcome]
"""Works a row on an edge, in the reading that fits."""


_CORNER, _CORNERS = 3, 4
"""How many stitches look like a corner, and how many of them a rectangle has."""


def along_sides(job: RowJob, edge: Edge, sides: Sides | None, unknown: Outcome, work: Alone) -> Outcome:
    """The row along the sides of the piece, where it names them and comes out there; else what it was found `unknown`
    for. It is never called wrong: which stitch of a corner belongs to which edge is seldom told.
    """
    legs = legs_of(job.steps) if sides is not None and not unknown.faults else ()
    if sides is None or not legs or (sides.bottom is None and any(leg.side == BOTTOM for leg in legs)):
        return unknown
    on = Edge(sides.top, fresh=False, flat=job.flat, pending=edge.pending, untested=True)
    made = shared_out(replace(job, sides=sides), lambda one: work(one, on))
    strip = made.made
    if strip is None or made.faults or any(agrees(strip, item, job.size) is False for item in job.stated):
        return unknown
    agreed = not made.shared and any(agrees(strip, item, job.size) for item in job.stated)
    if not agreed and not made.shared and any(leg.loose for leg in legs):
        return unknown
    why = "" if agreed else UNTOLD if made.shared else OTHER_EDGE
    if not job.flat and strip.count(lambda cell: cell.size >= _CORNER and cell.part == 0) != _CORNERS:
        strip = without_groups(strip)  # some corner is told otherwise, so that nobody knows which stitch it is
    return replace(made, base=None, why=why, edge=replace(made.edge, strip=strip, untested=not agreed))


def shared_out(job: RowJob, work: Callable[[RowJob], Outcome]) -> Outcome:
    """The row with what its stated count leaves for the edges along which it goes "evenly", the same for each as nearly
    as can be.
    """
    steps = [step for leg in legs_of(job.steps) for step in leg.steps] if job.sides is not None else job.steps
    evenly = [step for step in steps if is_evenly(step)]
    wanted = _stated(job, evenly) if evenly else None
    if wanted is None:
        return work(job)
    bare = work(replace(job, shares=(1,) * len(evenly), stated=()))
    strip = bare.made
    if strip is None or bare.faults or wanted < _count(strip, evenly[0], job):
        return work(job)
    left = wanted - _count(strip, evenly[0], job) + len(evenly)
    each, more = divmod(left, len(evenly))
    shares = tuple(each + (index < more) for index in range(len(evenly)))
    return replace(work(replace(job, shares=shares)), shared=True)


def is_evenly(step: Step) -> bool:
    """Whether as many stitches are meant as the edge takes."""
    place = step.place if isinstance(step, Work) and step.each == 1 else None
    return place is not None and place.what is What.PIECE and place.which is Which.EACH


def _stated(job: RowJob, evenly: list[Step]) -> int | None:
    """The one count of the row, if it is of the stitches that go evenly along."""
    item = job.stated[0] if len(job.stated) == 1 else None
    kinds = {step.stitch for step in evenly if isinstance(step, Work)}
    if item is None or len(kinds) != 1 or not isinstance(item.number, int):
        return None
    counts = item.kind is CountKind.TOTAL or (item.kind is CountKind.STITCH and {item.of} == kinds)
    return item.number if counts else None


def _count(strip: Strip, evenly: Step, job: RowJob) -> int:
    if job.stated[0].kind is CountKind.TOTAL or not isinstance(evenly, Work):
        return total(strip)
    return strip.count(lambda cell: cell.sort == STITCH and base_kind(cell.kind) == evenly.stitch)


def work_legs(worker: Worker, legs: tuple[Leg, ...], do: Doer) -> None:
    """Works the row edge by edge; it stands on the first. Raises `Unknown` where one is left before its end."""
    for index, leg in enumerate(legs):
        if index and worker.sides is not None:
            worker.base, worker.position, worker.last = edge_of(leg, worker.sides), 0, None
            worker.chain_inside = worker.ends_met = 0
            worker.untold = leg.side == EDGE
        do(worker, tuple(leg.steps))
        if worker.sides is not None and leg.side != EDGE and (worker.passed or _left(worker, leg)):
            raise Unknown(leg.steps[-1].span if leg.steps else NOWHERE, why=OTHER_EDGE)


def _left(worker: Worker, leg: Leg) -> bool:
    if leg.side == SIDE:
        return worker.position < worker.base.length
    return worker.remaining(is_workable) > 0


def edge_of(leg: Leg, sides: Sides) -> Strip:
    """What the steps of a leg are worked into; nothing where nobody tells."""
    known = {SIDE: sides.ends, BOTTOM: sides.bottom or Strip(), EDGE: Strip()}
    return known[leg.side] if leg.side in known else sides.top.reversed()
