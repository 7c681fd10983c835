"""Begins a row: foundations, rings, and yarn joined on an edge."""

from __future__ import annotations

from convert.document.steps import Begin, Place, Start, What, Which
from convert.fabric.cells import CHAIN, Cell, Loop, Strip
from convert.fabric.faults import OTHER_EDGE, PIECE_EDGE, Unknown
from convert.fabric.places.into import into
from convert.fabric.places.place import is_workable
from convert.fabric.places.spaces_between import spaces_are_gaps
from convert.fabric.rows.row_parts import is_row_start
from convert.fabric.rows.untold import goes_beyond
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import stitches

_NEXT = Place()


def do_begin(worker: Worker, step: Begin) -> None:
    """Sets what the row is worked on; raises `Unknown` where that is an edge that no row has left."""
    if step.start in (Start.ADJUSTABLE_RING, Start.CHAIN_RING):
        if worker.out.made:
            raise Unknown(step.span, why="a ring is made in the middle of the row")
        number = worker.number(step.number, step.span) if step.start is Start.CHAIN_RING else 0
        worker.base, worker.in_ring, worker.flat = foundation_of(number), True, False
        return
    if (worker.untold or worker.sides is not None) and step.start in (Start.ALONG, Start.OTHER_SIDE):
        return
    if step.start is Start.ALONG and goes_beyond(worker):
        return
    if step.start is Start.ALONG:
        raise Unknown(step.span, why=OTHER_EDGE)
    if step.start is Start.OTHER_SIDE:
        _other_side(worker, step)
        return
    number = worker.number(step.number, step.span)
    if step.start is Start.CHAIN:
        worker.base = foundation_of(number)
        return
    if step.start is Start.STITCHES and step.stitch is not None:
        entry = stitches()[step.stitch]
        worker.make(_foundation_kind(entry.id), number)
        return
    _edge(worker, step)


def _other_side(worker: Worker, step: Begin) -> None:
    """Around the end of the foundation: the chains that were worked are met again from their other side, the
    last one left out unless chains lead around the end ("..., ch 2, working along opposite side").
    """
    chains = worker.base.count(lambda c: c.sort == CHAIN)
    if not chains or chains != worker.base.length or worker.last is None:
        raise Unknown(step.span, why=OTHER_EDGE)
    if worker.position < worker.base.length:
        worker.passed += worker.base.length - worker.position
    worker.base = foundation_of(max(0, worker.last - worker.entered + (worker.pending > 0)))
    worker.around = True
    worker.position, worker.last, worker.hooked = 0, None, True


def foundation_of(chains: int) -> Strip:
    """A foundation of so many chains."""
    return Strip.of((Loop(((Cell("ch", CHAIN), 1),), chains),)) if chains else Strip()


def _foundation_kind(id: str) -> str:
    """The stitch that a foundation stitch is to the next row: fsc leaves sc."""
    bare = id.removeprefix("f")
    return bare if bare in stitches() else id


def _between_stitches(worker: Worker, place: Place, step: Begin) -> int:
    """Between the first two stitches, where spaces are those between stitches that are all alike. Raises `NotFound`
    where the edge has no such place.
    """
    if not spaces_are_gaps(worker.base, place):
        worker.seek(place, step.span)
    return 0


def _edge(worker: Worker, step: Begin) -> None:
    """Yarn joined on the edge: the round begins at the first place of that kind."""
    place = step.place
    if worker.out.made:
        raise Unknown(step.span, why=OTHER_EDGE)  # the yarn is joined anew behind work
    if place is not None and place.what is What.PIECE and is_row_start(place.words) and worker.flat:
        # Yarn that was cut is joined where the last row began, so that its stitches are met in the same order again.
        worker.base = worker.base.reversed()
        return
    at_corner = worker.sides is not None and place is not None and place.what in (What.PIECE, What.CORNER)
    if worker.untold or at_corner:
        if step.by is not None:
            worker.make(step.by)
        return
    if place is None or place.what in (What.PIECE, What.ROW_END, What.MARKER) or worker.base.length == 0:
        if worker.in_ring:
            return
        raise Unknown(step.span, why=PIECE_EDGE)
    if place.which is Which.SAME:
        if worker.flat or worker.position:
            raise Unknown(step.span, why=PIECE_EDGE)
        found: int | None = 0  # where the last round was joined
    else:
        found = worker.base.find(worker.test(place), worker.position)
    if found is None:
        found = _between_stitches(worker, place, step)
    if worker.flat and worker.position:  # what was passed in front of it lies behind, and is not come to again
        worker.base = Strip.of(worker.base.cut(found, worker.base.length))
    else:
        worker.base = worker.base.from_position(found + worker.comes_back)
    worker.position, worker.last = 0, None
    if step.by is not None:
        into(worker, _NEXT if is_workable(worker.base.at(0)[0]) else Place(What.SPACE), step.span)
        worker.make(step.by)
