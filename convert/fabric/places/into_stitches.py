"""Goes into stitches, spaces, corners and groups of the row below."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.fabric.cells import SPACE, STITCH, Cell, closed_chains
from convert.fabric.faults import FURTHER_DOWN, NotFound, RanOut, Unknown
from convert.fabric.places.place import is_cluster_in_group, is_workable, kind_test, test_for
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.stitches import stitches


def into_stitches(worker: Worker, place: Place, span: Span) -> int:
    """A stitch, a space, a corner or a group of the row below."""
    entry = stitches().get(place.of) if place.of is not None else None
    if place.what in (What.SPACE, What.CORNER) or (entry is not None and entry.decoration):
        worker.spaced = True
    if place.below == 1 and place.which is Which.SKIPPED:
        return _over_chains(worker, span)
    if place.below:
        raise Unknown(span, why=FURTHER_DOWN)
    if place.which is Which.MADE:
        return _just_made(worker, place, span)
    if place.which is Which.SKIPPED:
        return _passed(worker, place, span)
    if place.which is Which.SAME:
        worker.same(span)
        if place.what is What.SPACE:
            worker.into_slid()
        return 1
    if _closes_on_stitch(worker, place):
        _close_on_stitch(worker)
        return 1
    if place.within is not None:
        return _within(worker, place, span)
    next_one = place.number == 1 and place.which in (Which.NEXT, Which.FIRST)
    if next_one and (_into_group(worker, place) or _into_beginning_loop(worker, place)):
        return 1
    return _counted(worker, place, worker.number(place.number, span), span)


def _is_next_on_piece(place: Place) -> bool:
    """ "Next dc of 7-dc group", "next dc of pineapple": what is said of the group only tells where the work is."""
    within = place.within
    named = within is not None and within.what is What.PIECE and within.which is Which.NEXT
    return named and place.which is Which.NEXT and place.nth is None and place.what is What.STITCH


def _into_beginning_loop(worker: Worker, place: Place) -> bool:
    """ "Ch-8 loop" where only a beginning chain is so long: it stood for a stitch and the loop beside it."""
    length = place.chains
    if place.what is not What.SPACE or length is None or worker.base.find(worker.test(place), 0) is not None:
        return False
    top = worker.base.find(lambda c: c.sort == STITCH and c.chains == length, max(0, worker.position - 1))
    beside = () if top is None else (top + 1, top - 1)
    loop = next((p for p in beside if worker.position <= p < worker.base.length and _is_space(worker, p)), None)
    if loop is None:
        return False
    worker.last, worker.position = loop, loop + 1
    return True


def _is_space(worker: Worker, position: int) -> bool:
    return worker.base.at(position)[0].sort == SPACE


def _into_group(worker: Worker, place: Place) -> bool:
    """Goes into the middle of the next group, a space or a stitch: "shell in next shell"."""
    entry = stitches().get(place.of) if place.of is not None else None
    if place.what is not What.GROUP and (entry is None or not entry.unit or entry.decoration):
        return False  # a picot may stand inside a group, of which more is met behind it
    found = worker.base.find(worker.test(place), worker.position)
    size = worker.base.at(found)[0].size if found is not None else 0
    if found is not None and place.of is not None and is_cluster_in_group(worker.base.at(found)[0], place.of):
        return False
    if found is None or size < 3 or (size % 2 == 0 and worker.base.at(found + size // 2)[0].sort != SPACE):
        return False
    worker.last, worker.position, worker.spaced = found + size // 2, found + size, True
    return True


def _counted(worker: Worker, place: Place, many: int, span: Span) -> int:
    """So many places, told by which of them they are."""
    if worker.in_ring and place.what is What.STITCH and place.which is Which.NEXT and place.of is None:
        inside = worker.position == 0 and worker.last is None and worker.out.made > 0
        if inside or many > worker.remaining():
            return many  # "12 dc" without a place, in a ring
    if place.which is Which.FIRST:
        return _first(worker, place, many, span)
    if place.which is Which.LAST:
        return _last(worker, place, many, span)
    if place.which in (Which.EACH, Which.REST):
        many = _all(worker, place, span)
        _past_group(worker, place)
        return many
    if place.which is Which.CENTER and place.of is not None:
        return _center_of_group(worker, place, span)
    if place.which is Which.NTH and place.nth:
        begin = worker.position
        worker.runs_of(place, place.nth, span)
        if place.nth > 1 and worker.last is not None:
            worker.skipped, worker.gone_back = (begin, worker.last), 0  # those in front of it were passed on the way
        return 1
    if many:
        worker.runs_of(place, many, span)
        _past_group(worker, place)
    return many


def _past_group(worker: Worker, place: Place) -> None:
    """A group that was worked into by its name is used up, whatever stitches it is made of."""
    entry = stitches().get(place.of) if place.of is not None else None
    unit = entry is None or (entry.unit and not entry.decoration)  # a picot is only a part of the group it stands in
    named = place.what is What.GROUP or (place.of is not None and unit)
    cell = worker.base.at(worker.last)[0] if named and worker.last is not None else None
    if cell is not None and place.of is not None and is_cluster_in_group(cell, place.of):
        return  # it is one stitch of the group, and the next of them comes next
    if cell is not None and cell.size and cell.unit and worker.last is not None:
        worker.position = max(worker.position, worker.last - cell.part + cell.size)


def _all(worker: Worker, place: Place, span: Span) -> int:
    many = worker.remaining(worker.test(place)) if place.every == 1 else _every(worker, place)
    if many == 0:
        worker.not_found(place, worker.test(place), span)
    worker.runs_of(place, many, span)
    if place.every > 1 and worker.remaining(worker.test(place)) < place.every:
        worker.position = worker.base.length  # what is left behind the last one is passed like those between
    return many


def _every(worker: Worker, place: Place) -> int:
    return -(-worker.remaining(worker.test(place)) // place.every)


def _closes_on_stitch(worker: Worker, place: Place) -> bool:
    """Whether the place is the stitch that closed the last round instead of a join: it closes this one in
    turn.
    """
    return (
        bool(worker.closing)
        and not worker.flat
        and place.what is What.STITCH
        and place.of == worker.closing
        and worker.position < worker.base.length
        and (_only_last_loop(worker) or worker.base.find(kind_test(worker.closing), worker.position) is None)
    )


def _only_last_loop(worker: Worker) -> bool:
    """Whether of all loops only the one that the closing stitch formed is left."""
    return worker.spaced and worker.base.find(lambda c: c.sort == SPACE, worker.position) == worker.base.length - 1


def _close_on_stitch(worker: Worker) -> None:
    """Closes the round on the stitch that closed the last one: the loop which that stitch formed is taken."""
    worker.closed = worker.spaced = True
    if _only_last_loop(worker):
        worker.position, worker.last = worker.base.length, worker.base.length - 1


def _just_made(worker: Worker, place: Place, span: Span) -> int:
    """The stitch made last: chains before it close to a picot on top of it. A loop is that of the row before."""
    if place.what is What.SPACE:
        return _into_closing_loop(worker, span)
    if not worker.pending:
        raise Unknown(span, why="a stitch into one just made")
    worker.out.add(closed_chains(worker.pending, worker.unit[0]))
    worker.pending = 0
    return 0


def _into_closing_loop(worker: Worker, span: Span) -> int:
    """The loop that the last round closed with, in whose middle this one begins, perhaps with a chain that counts; one
    of this row itself is unknown.
    """
    if worker.out.made > 1 or not worker.base.length:
        raise Unknown(span, why="a space that this row makes")
    worker.same(span)
    return 1


def _passed(worker: Worker, place: Place, span: Span) -> int:
    """Goes back into what this row has passed; how far the work has come does not change."""
    test = worker.test(place)
    passed = [at for at in range(*worker.skipped) if test(worker.base.at(at)[0])]
    begin = place.nth - 1 if place.nth else worker.gone_back
    many = worker.number(place.number, span)
    if not many or begin + many > len(passed):
        raise Unknown(span, why="a place that was not passed before")
    worker.gone_back = begin + many
    worker.last = passed[begin + many - 1]
    return many


def _over_chains(worker: Worker, span: Span) -> int:
    """Over the chains of the last row into what it passed beneath them: the long stitch covers them, and the next row
    finds it in their place. Common practice, no source.
    """
    at = worker.position
    if at >= worker.base.length or not _is_space(worker, at):
        raise Unknown(span, why=FURTHER_DOWN)
    worker.position, worker.last = at + 1, at
    return 1


def _first(worker: Worker, place: Place, many: int, span: Span) -> int:
    test = worker.test(place)
    found = worker.base.find(test, 0)
    made = worker.out.first()
    if found is None and made is not None and not worker.flat and test(made):
        worker.closed, worker.last = True, 0  # "first cluster" of this very round
        return 1
    if found is None:
        raise NotFound(span, wanted="", place=place)
    stood = worker.opening and worker.last == found  # the first stitch of all, at the foot of the beginning chain
    group = _next_group(worker, found, test) if many == 1 and place.of is not None and not stood else None
    if group is not None:
        worker.last, worker.position = group, group + 1
        return 1
    if found < worker.position and worker.position > 1 and not worker.flat:
        worker.closed = True
        worker.last = found
        return 1
    if found < worker.position:
        worker.last = found
        return 1
    worker.position = found
    worker.runs_of(place, many, span)
    worker.first_ones = worker.position if many > 1 else 0
    return many


def _next_group(worker: Worker, first: int, test: Callable[[Cell], bool]) -> int | None:
    """The first stitch of the next group, where the first of the row is passed: "sc in 1st dc" of one group after the
    other.
    """
    if first >= worker.position or not worker.base.at(first)[0].size:
        return None
    return worker.base.find(lambda cell: cell.size > 1 and cell.part == 0 and test(cell), worker.position)


def _last(worker: Worker, place: Place, many: int, span: Span) -> int:
    test = worker.test(place)
    total = worker.base.count(test)
    before = worker.base.count(test, 0, worker.position)
    if total - before < many:
        raise RanOut(span, what=place, wanted=many, left=total - before)
    skipped = total - before - many
    if skipped:
        worker.runs_of(Place(place.what, of=place.of, chains=place.chains), skipped, span)
    start = worker.position
    worker.runs_of(Place(place.what, of=place.of, chains=place.chains), many, span)
    if place.what is What.STITCH and not worker.spaced:
        worker.passed += skipped + worker.base.count(is_workable, start, worker.position) - many
    return many


def _center_of_group(worker: Worker, place: Place, span: Span) -> int:
    assert place.of is not None
    test = worker.test(Place(of=place.of))
    found = worker.base.find(test, worker.position)
    if found is None:
        worker.not_found(place, test, span)
    assert found is not None
    cell, _ = worker.base.at(found)
    begin = found - cell.part if cell.part <= cell.size // 2 else found  # the work may stand in the group already
    worker.last = begin + cell.size // 2
    worker.position = begin + max(1, cell.size)
    worker.spaced = True
    return 1


def _within(worker: Worker, place: Place, span: Span) -> int:
    """Stitches or a space inside a group: "centre dc of next shell", "ch-2 sp of next shell", "next 3 dc of same
    shell".
    """
    outer = place.within
    assert outer is not None
    if _is_next_on_piece(place):
        return into_stitches(worker, replace(place, within=None), span)
    walking = outer.which is Which.SAME
    begin = _start_of_same(worker, span) if walking else worker.base.find(worker.test(outer), worker.position)
    if outer.which is Which.LAST:
        begin = _last_group(worker, outer, begin, span)
    if begin is None:
        worker.not_found(outer, worker.test(outer), span)
    assert begin is not None
    size = max(1, worker.base.at(begin)[0].size)
    beside = _loop_beside(worker, place, begin, size) if place.what is What.SPACE and not walking else None
    if beside is not None:
        worker.last, worker.position, worker.spaced = beside[0], max(beside[1], begin + size), True
        return 1
    if walking and place.which is Which.CENTER and place.of is None and place.what is What.STITCH:
        worker.last = begin + size // 2
        worker.position, worker.spaced = max(worker.position, worker.last + 1), True
        return 1
    many = worker.number(place.number, span)
    worker.last = _inside_group(worker, place, begin, size, many, span)
    worker.position = worker.last + 1 if walking else begin + size
    worker.spaced = True
    return many


def _last_group(worker: Worker, outer: Place, begin: int | None, span: Span) -> int | None:
    """The last group, though its stitches may have been worked into already: its loop is still free. Where others stand
    between, the row is told by one that has fewer.
    """
    test = worker.test(outer)
    if begin is None:
        at = worker.base.find(test, 0)
        while at is not None:
            begin, at = at, worker.base.find(test, at + 1)
    elif worker.base.find(test, begin + 1) is not None:
        raise Unknown(span, why="groups are passed before the last one")
    return begin


def _loop_beside(worker: Worker, place: Place, begin: int, size: int) -> tuple[int, int] | None:
    """The loop of a group that has none inside, and where the work goes on behind it: the space beside the group, or at
    the end of a row the chain that began the row below, however long. Common practice, no source.
    """
    base, test = worker.base, test_for(Place(What.SPACE, chains=place.chains))
    end = min(begin + size, base.length)
    if any(test(base.at(at)[0]) for at in range(begin, end)):
        return None
    for at in (end, begin - 1):
        if worker.position - 1 <= at < base.length and at >= 0 and test(base.at(at)[0]):
            return at, at + 1
    rest = range(begin, base.length)
    top = next((at for at in rest if base.at(at)[0].sort == STITCH and base.at(at)[0].chains > 0), None)
    if not worker.flat or top is None or top < base.length - 1 or base.length - begin > size + _BEGINNING:
        return None
    if worker.last is not None and top <= worker.last:
        return None
    return top, base.length


_BEGINNING = 2
"""The cells that a beginning chain comes to: the stitch it stands for, and a space."""


def _start_of_same(worker: Worker, span: Span) -> int:
    """Where the group begins in which the work stands."""
    if worker.last is None or worker.last >= worker.base.length:
        raise Unknown(span, why="a part of a group that the row below does not mark as such")
    cell = worker.base.at(worker.last)[0]
    return worker.last - cell.part if cell.size else worker.last


def _inside_group(worker: Worker, place: Place, begin: int, size: int, many: int, span: Span) -> int:
    """The position of the stitch or space meant, the last of several; the next one is behind the last worked into."""
    outer = place.within
    test = test_for(Place(place.what, of=place.of, chains=place.chains))
    group = range(begin, min(begin + size, worker.base.length))
    hits = [p for p in group if test(worker.base.at(p)[0]._replace(unit=""))]
    if not hits and worker.base.find(test, 0) is not None:
        raise Unknown(span, why="a part of a group that the row below does not mark as such")
    if not hits:
        raise NotFound(span, wanted="", place=place)
    index = {Which.FIRST: 0, Which.LAST: -1, Which.CENTER: len(hits) // 2}.get(place.which, (place.nth or 1) - 1)
    if outer is not None and outer.which is Which.SAME and place.which is Which.NEXT and worker.last is not None:
        index += sum(1 for hit in hits if hit <= worker.last)
    if index + many > len(hits):
        raise NotFound(span, wanted="", place=place)
    return hits[index + many - 1 if index >= 0 else index]
