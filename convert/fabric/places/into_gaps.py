"""Goes between stitches or groups of the row below."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which, Work
from convert.fabric.cells import PETAL, SPACE, STITCH, Cell
from convert.fabric.faults import TOLD_IN_WORDS, NotFound, RanOut, Unknown
from convert.fabric.places.place import Test, test_for
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.stitches import drawn_together, stitches


def into_gap(worker: Worker, place: Place, span: Span) -> int:
    """The next gaps, each before a stitch or, where the place says so, before a group."""
    worker.spaced = True
    if place.which is Which.SAME:
        return 1
    if place.which is Which.NTH and place.within is not None:
        return _gap_of_group(worker, place, place.within, span)
    if place.within is None and _by_look(worker, place):
        place = replace(place, of=None, within=Place(What.GROUP))
    many = worker.number(place.number, span)
    if place.which is Which.EACH:
        many = max(1, _gaps_left(worker, place))
    for _ in range(many):
        if worker.position >= worker.base.length:
            raise RanOut(span, what=place, wanted=many, left=0)
        _to_gap(worker, place)
    if place.which is Which.EACH and worker.flat:
        # The last stitch or group has no gap behind it; a last stitch beside the groups is left for what follows.
        worker.position = worker.base.length - (1 if _behind_groups(worker, place) else 0)
    return many


def _by_look(worker: Worker, place: Place) -> bool:
    """Whether the gaps are those between groups as they look: "in next gap" where groups stand side by side, "between
    clusters" where none is drawn together and three stitches in one place are what looks like one.
    """
    if worker.base.find(lambda c: c.size >= PETAL, 0) is None:
        return False
    if place.of is None:
        return True
    if _is_plain_group(worker, place.of):
        return True
    named = worker.base.find(lambda c: c.unit == place.of or c.kind.endswith("tog"), 0) is not None
    return drawn_together(place.of) and not named


def _is_plain_group(worker: Worker, named: str) -> bool:
    """Whether the author gives the name to so many plain stitches in one place ("cluster = 3 dc in same sp"): groups
    that look so are between, whether made under that name or as part of a corner.
    """
    told = worker.definitions.steps(named)
    group = told[0] if told is not None and len(told) == 1 else None
    return isinstance(group, Work) and isinstance(group.each, int) and group.each >= PETAL


def _gaps_left(worker: Worker, place: Place) -> int:
    """The gaps up to the end: in a round there is one behind the last stitch, or group, too."""
    between = worker.remaining() if place.within is None else worker.remaining(worker.test(place.within))
    halves = (_before_groups(worker, place) >= _HALF) + (_behind_groups(worker, place) >= _HALF)
    inside = place.within is not None and worker.position < worker.base.length
    inside = inside and worker.base.at(worker.position)[0].part > 0  # behind the middle of a corner
    return between - 1 + halves if worker.flat else between + inside


_HALF = 2
"""The fewest stitches at the edge of a row that are half a group, with a gap beside them."""


def _before_groups(worker: Worker, place: Place) -> int:
    """How many stitches stand at the row's beginning in front of the first group."""
    return (worker.base.find(_in_group, 0) or 0) if place.within is not None else 0


def _behind_groups(worker: Worker, place: Place) -> int:
    """How many stitches stand at the row's end behind the last group."""
    return (worker.base.reversed().find(_in_group, 0) or 0) if place.within is not None else 0


def _in_group(cell: Cell) -> bool:
    return cell.size > 1


def _gap_of_group(worker: Worker, place: Place, group: Place, span: Span) -> int:
    """ "Between 2nd and 3rd dc of next shell"."""
    test = worker.test(group)
    begin = worker.base.find(test, worker.position)
    if begin is None:
        worker.not_found(group, test, span)
    assert begin is not None
    size = worker.base.at(begin)[0].size
    kind = test_for(Place(of=place.of)) if place.of else None
    inside = [p for p in range(begin, begin + size) if kind is None or kind(worker.base.at(p)[0])]
    if not place.nth or place.nth >= len(inside):
        raise NotFound(span, wanted=f"gap behind stitch {place.nth} of a group of {len(inside)}", place=place)
    worker.last = inside[place.nth] - 1
    worker.position = begin + size
    return 1


def into_gap_of_groups(worker: Worker, place: Place, span: Span) -> int:
    """The next gap between groups that the row below consists of; raises `Unknown` where it does not."""
    alone = worker.base.find(lambda cell: cell.sort == STITCH and cell.size < PETAL, 0)
    if alone is not None or not worker.base.length:
        raise Unknown(span, why=TOLD_IN_WORDS)
    worker.spaced = True
    _to_gap_of_groups(worker, place, lambda cell: cell.part == 0 and cell.size >= PETAL)
    return 1


def _to_gap_of_groups(worker: Worker, place: Place, test: Test) -> None:
    """ "Between next 2 shells": the chains between two groups are one gap with them. Behind a group just worked
    into that is the gap right here, else the one behind the next group.
    """
    base, at = worker.base, worker.position
    if at >= base.length:
        raise RanOut(place.span, what=place, wanted=1, left=0)
    if base.find(test, 0) is None:
        raise Unknown(place.span, why="groups that the row below does not mark as such")
    cell = base.at(at)[0]
    rest = cell.size - cell.part if cell.part else 0  # of a group in whose middle the round began
    behind = _behind_chains(worker, at + rest)
    before = base.find(test, at)
    if not (at > 0 and behind in (before, base.length) and worker.gap_used != at):
        if before is None:
            raise RanOut(place.span, what=place, wanted=1, left=0)
        behind = _behind_chains(worker, before + max(1, base.at(before)[0].size))
    worker.position = worker.gap_used = behind
    worker.last = max(0, behind - 1)


def _behind_chains(worker: Worker, position: int) -> int:
    """The position behind the spaces that stand there outside of groups."""
    base = worker.base
    while position < base.length and base.at(position)[0].sort == SPACE and not base.at(position)[0].unit:
        position += 1
    return position


def _to_gap(worker: Worker, place: Place) -> None:
    """Goes to the next gap: between groups that is where the next group begins, if its gap has not been used."""
    if place.within is not None and worker.base.find(lambda c: c.size > 1, 0) is None:
        raise Unknown(place.span, why="groups that the row below does not mark as such")
    group = stitches().get(place.of) if place.of is not None and place.within is None else None
    if group is not None and group.unit and not group.decoration:
        _to_gap_of_groups(worker, place, worker.test(Place(of=place.of)))
        return
    cell, _ = worker.base.at(worker.position)
    boundary = place.within is not None and cell.part == 0 and worker.position > 0
    if not (boundary and worker.gap_used != worker.position):
        step = cell.size - cell.part if cell.size and place.within is not None else 1
        worker.position += max(1, step)
    if place.within is not None:
        worker.position = _behind_chains(worker, worker.position)  # chains between two groups are their gap
    worker.gap_used = worker.position
    worker.last = max(0, worker.position - 1)
