"""Groups told by how many stitches they have: "in next 3-dc cluster", "center dc of next 5-dc shell".

Where all such groups of the row below are of that size, they are meant whatever else they are called; where some are of
another, the very next one must have it. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.group_size import said_size
from convert.document.steps import Place, What, Which
from convert.fabric.cells import STITCH, Cell
from convert.fabric.faults import TOLD_IN_WORDS, Unknown
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.source import Span


def told_by_size(worker: Worker, place: Place, span: Span) -> Place:
    """The place by its kind alone, where the row below bears its size out. Raises `Unknown` where it does not."""
    if place.within is not None and place.within.words:
        if _walks(worker, place, place.within):
            return replace(place, within=None)
        place = replace(place, within=told_by_size(worker, place.within, span))
    size = said_size(place.words)
    if size is None:
        return place
    plain = replace(place, words="")
    if place.which in (Which.SAME, Which.MADE, Which.SKIPPED):
        return plain
    test = worker.test(plain)
    found = worker.base.find(test, worker.position if place.which is not Which.FIRST else 0)
    next_one = place.which is Which.NEXT and place.number == 1
    while found is not None:
        if not _is_so_large(worker, found, *size):
            raise Unknown(span, why=TOLD_IN_WORDS)
        if next_one:
            return plain
        found = worker.base.find(test, found + 1)
    return plain if worker.base.find(test, 0) is not None else _stitches(worker, place, span, *size)


def _walks(worker: Worker, place: Place, outer: Place) -> bool:
    """ "(Dc in next dc of 5-dc shell, ch 1) 5 times": whether the next stitch is meant, of the group in which the work
    stands, or of the very next one, which it goes on to.
    """
    size, at = said_size(outer.words), worker.position
    plain = place.what is What.STITCH and place.which is Which.NEXT and not place.nth and outer.which is Which.NEXT
    if size is None or not plain or at >= worker.base.length:
        return False
    part = worker.base.at(at)[0].part
    if 0 < part <= at and _is_so_large(worker, at - part, *size):
        return True
    begin = worker.base.find(worker.test(replace(outer, words="")), at)
    if begin is None or not _is_so_large(worker, begin, *size):
        return False
    worker.position = begin
    return True


def _is_so_large(worker: Worker, at: int, number: int, stitch: str) -> bool:
    cell = worker.base.at(at)[0]
    if cell.kind.endswith("tog"):
        return cell.kind.endswith(f"{number}tog") and base_kind(cell.kind) == stitch
    if not cell.size:
        return not cell.unit  # of one stitch that stands for the group, nobody tells how many went into it
    end = min(at + cell.size, worker.base.length)
    return number == sum(_is_of(worker.base.at(inside)[0], stitch) for inside in range(at, end))


def _is_of(cell: Cell, stitch: str) -> bool:
    return cell.sort == STITCH and base_kind(cell.kind) == stitch


def _stitches(worker: Worker, place: Place, span: Span, number: int, stitch: str) -> Place:
    """So many stitches side by side, where the row below does not mark them as a group: they can be passed."""
    at, base = worker.position, worker.base
    ahead = range(at, min(at + number, base.length))
    alike = len(ahead) == number and all(_is_of(base.at(inside)[0], stitch) for inside in ahead)
    ends = at + number >= base.length or not _is_of(base.at(at + number)[0], stitch)
    if not (place.what is What.GROUP and place.which is Which.NEXT and place.number == 1 and alike and ends):
        raise Unknown(span, why=TOLD_IN_WORDS)
    return Place(What.STITCH, number=number, of=stitch, span=place.span)
