"""Stitch markers: which stitch of the row one hangs in, and work that goes up to it in the row above.

A marker hangs in a stitch, told by its place among those just made. It is met in the next row alone: where a row does
not tell that its markers are moved up, nothing is known of them behind it. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Group, Marker, MarkerAct, Place, Repeat, Step, Verbatim, What, Which
from convert.fabric.cells import STITCH, Builder, Cell
from convert.fabric.faults import Unknown
from convert.fabric.steps.worker import Worker
from convert.source import Span

_UP_TO = "a repeat up to a marker"


def is_marked(cell: Cell) -> bool:
    """Whether a marker hangs in the stitch."""
    return cell.marked


def do_marker(worker: Worker, step: Marker) -> None:
    """Hangs a marker into a stitch of the row in work, where the text tells which; else none is known to hang."""
    told = step.place is not None or (step.act is MarkerAct.MOVE and _worked_marked(worker))
    known = told and step.act is not MarkerAct.REMOVE and not worker.pending
    back = _stitches_back(worker, step.place) if known else None
    if back is not None:
        _hang(worker.out, back)


def _worked_marked(worker: Worker) -> bool:
    """Whether the row has just worked into the marked stitch; a marker that is moved elsewhere, without a word where
    to, may hang between two stitches.
    """
    return worker.last is not None and worker.last < worker.base.length and worker.base.at(worker.last)[0].marked


def _hang(out: Builder, back: int) -> None:
    """Hangs a marker into the stitch so many before the one made last, if nothing but stitches of this working lies
    between.
    """
    taken: list[Cell] = []
    while len(taken) <= back and len(out.loops) > out.barrier and (cell := out.drop_last()) is not None:
        taken.append(cell)
    whole = len(taken) > back and all(cell.sort == STITCH for cell in taken)
    for at, cell in reversed(tuple(enumerate(taken))):
        out.add(cell._replace(marked=True) if whole and at == back else cell)


def _stitches_back(worker: Worker, place: Place | None) -> int | None:
    """How many stitches behind the one made last the marker hangs; None where that is not told."""
    last = worker.out.last()
    if last is None or last.sort != STITCH:
        return None
    if place is None or (place.which is Which.MADE and place.number == 1):
        return 0 if last.size <= 1 else None  # of several in one place it may be any
    if place.what is not What.STITCH or place.words:
        return None
    if place.within is None:
        whole = last.size % 2 == 1 and last.part == last.size - 1
        return last.size // 2 if place.which is Which.CENTER and whole else None
    made = place.within.number if place.within.which is Which.MADE else None
    if not isinstance(made, int):
        return None
    nth = place.nth if place.which is Which.NTH else None
    nth = {Which.FIRST: 1, Which.LAST: made, Which.CENTER: made // 2 + 1 if made % 2 else None}.get(place.which, nth)
    return made - nth if nth is not None and 0 < nth <= made else None


def into_marked(worker: Worker, place: Place, span: Span) -> int:
    """Where the next stitch is the marked one: its position is the row's. Raises `Unknown` where it is another."""
    found = worker.base.find(is_marked, worker.position)
    if found is None or found != worker.position or place.number != 1 or place.which is not Which.NEXT:
        raise Unknown(span, why="a marked stitch")
    return found


def up_to_marker(worker: Worker, place: Place, tail: tuple[Step, ...], span: Span) -> int:
    """The position up to which "sc to marked st", "sc to 2 sts before marker" go.

    Up to the marker is up to the stitch that it hangs in, if that is what is worked then. Raises `Unknown` where it is
    not, or no marker is known to hang there.
    """
    found = worker.base.find(is_marked, worker.position)
    if found is None or not (place.what is not What.MARKER or _goes_into_marked(tail)):
        raise Unknown(span, why=_UP_TO)
    if place.what is What.MARKER:
        return found
    before = worker.number(place.number, span)
    cells = [cell for _, cell, many in worker.base.runs(worker.position, found) for _ in range(many)]
    stitches = [at for at, cell in enumerate(cells) if cell.sort == STITCH]
    if len(stitches) < before:
        raise Unknown(span, why=_UP_TO)
    return worker.position + stitches[len(stitches) - before] if before else found


def _goes_into_marked(tail: tuple[Step, ...]) -> bool:
    """Whether the next work goes into the marked stitch."""
    for step in tail:
        if isinstance(step, Marker) or (isinstance(step, Verbatim) and step.inert):
            continue
        inner = step.steps[0] if isinstance(step, Repeat) and step.steps else step
        place = inner.place if isinstance(inner, Group) else getattr(inner, "place", None)
        return isinstance(place, Place) and place.what is What.MARKER
    return False
