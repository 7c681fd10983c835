"""Groups told by how many stitches they have: "in next 3-dc cluster", "center dc of next 5-dc shell".

Where all such groups of the row below are of that size, they are meant whatever else they are called; where some are of
another, the very next one must have it. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.group_size import said_size
from convert.document.steps import Place, What, Which
from convert.fabric.cells import PICOT, STITCH, Cell
from convert.fabric.faults import TOLD_IN_WORDS, RanOut, Unknown
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.stitches import stitches


def told_by_size(worker: Worker, place: Place, span: Span) -> Place:
    """The place by its kind alone, where the row below bears its size out. Raises `Unknown` where it does not."""
    picot = _picot_of_group(worker, place, span) if place.within is not None else None
    if picot is not None:
        return picot
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


def _picot_of_group(worker: Worker, place: Place, span: Span) -> Place | None:
    """ "First loop of next 3-picot cluster", "next loop of same picot cluster": one of picots that stand on one stitch;
    None where no such group is named. Raises `Unknown` where the next picots are fewer or more.
    """
    outer = place.within
    of, size = picots_told(outer), said_size(outer.words) if outer is not None else None
    if outer is None or worker.base.find(_is_picot, 0) is None:
        return None
    at = worker.last if worker.last is not None and worker.last < worker.base.length else None
    if outer.which is Which.SAME and at is not None and _is_picot(worker.base.at(at)[0]):
        return Place(What.STITCH, of=of or PICOT, span=place.span) if place.which is Which.NEXT else None
    if of is None:
        return None
    begin = worker.base.find(begins_picots, worker.position)
    if begin is None and worker.base.find(begins_picots, 0) is not None:
        raise RanOut(span, what=place, wanted=1, left=0)
    many = 0 if begin is None else (worker.base.find(_is_no_further, begin + 1) or worker.base.length) - begin
    inside = {Which.CENTER: many // 2, Which.LAST: many - 1, Which.NTH: (place.nth or 1) - 1}.get(place.which, 0)
    if begin is None or outer.which is not Which.NEXT or (size is not None and many != size[0]) or inside >= many:
        raise Unknown(span, why=TOLD_IN_WORDS)
    worker.position = begin + inside
    return Place(What.STITCH, of=of, span=place.span)


def picots_told(outer: Place | None) -> str | None:
    """The picot, where a place is one of several that stand on one stitch: "3-picot cluster", "picot group"."""
    size = said_size(outer.words) if outer is not None else None
    of = size[1] if size is not None else outer.of if outer is not None and outer.what is What.GROUP else None
    entry = stitches().get(of) if of is not None else None
    return of if entry is not None and entry.decoration else None


def begins_picots(cell: Cell) -> bool:
    """Whether the cell is the first of the picots on a stitch."""
    return _is_picot(cell) and cell.part == 0


def _is_picot(cell: Cell) -> bool:
    return cell.sort == PICOT


def _is_no_further(cell: Cell) -> bool:
    return cell.sort != PICOT or cell.part == 0


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
