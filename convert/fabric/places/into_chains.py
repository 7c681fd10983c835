"""Goes into rings and into chains: of the foundation, of a chain space, of the chain that a row begins with."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.fabric.cells import CHAIN, SLIP, SPACE, STITCH, Cell, Loop, Strip, closed_chains
from convert.fabric.faults import UNTOLD, NotFound, RanOut, Unknown
from convert.fabric.places.into_stitches import into_stitches
from convert.fabric.places.place import is_workable, test_for
from convert.fabric.steps.worker import Worker
from convert.source import Span


def into_ring(worker: Worker, place: Place, span: Span) -> int:
    """The ring that a round is worked into."""
    if not worker.in_ring and worker.base.length:
        raise NotFound(span, wanted="ring", place=place)
    worker.in_ring = True  # "6 sc in ring" at the very beginning makes the ring that it works into
    return 1


def into_chain(worker: Worker, place: Place, span: Span) -> int:
    """A chain of the foundation, or one chain of a chain space."""
    if place.origin is not None:
        return _from_hook(worker, place, span)
    if worker.around and place.which is Which.FIRST and worker.last is None and worker.position == 0:
        # "..., 2 sc in last ch; along the other side, 2 sc in first ch": the chain at the turn is met once more
        worker.base = Strip.of((Loop(((Cell("ch", CHAIN), 1),), worker.base.length + 1),))
    if not worker.base.length and not worker.out.made and not worker.in_ring:
        raise Unknown(span, why=UNTOLD)
    if worker.base.find(lambda c: c.sort == CHAIN, 0) is not None and place.within is None:
        return into_stitches(worker, place, span)
    return _inside_space(worker, place, span)


def _from_hook(worker: Worker, place: Place, span: Span) -> int:
    nth = place.nth or 1
    if (
        not worker.hooked
        and not worker.in_ring
        and worker.base.find(lambda c: c.sort == CHAIN, 0) is not None
        and nth > worker.position
    ):
        worker.hooked = True
        worker.entered = nth - 1
        if nth > worker.base.length:
            raise RanOut(span, what=place, wanted=nth, left=worker.base.length)
        worker.position = nth
        worker.last = nth - 1
        return 1
    _over_joining(worker, nth)
    if worker.pending >= nth:
        before = worker.pending - nth
        worker.pending = before
        worker.close_chains()
        worker.out.add(closed_chains(nth, worker.unit[0]))
        return 0
    raise NotFound(span, wanted=f"{nth} chains before the hook", place=place)


def _over_joining(worker: Worker, nth: int) -> None:
    """A picot joined to another piece in its middle: the chains on both sides and the joining are its chains."""
    last = worker.out.last() if worker.others and 0 < worker.pending < nth else None
    if last is None or last.sort != SLIP:
        return
    worker.out.drop_last()
    before = worker.out.last()
    if before is not None and before.sort == SPACE and before.chains + 1 + worker.pending >= nth:
        worker.out.drop_last()
        worker.pending += before.chains + 1
    else:
        worker.out.add(last)


def _inside_space(worker: Worker, place: Place, span: Span) -> int:
    """ "2nd ch of next ch-3 sp", "next ch" where the next cell is a space."""
    if place.which is Which.SAME and place.within is None:
        worker.same(span)
        return 1
    outer = place.within or Place(What.SPACE)
    worker.spaced = True
    many = worker.number(place.number, span)
    if place.which in (Which.NEXT, Which.EACH) and place.nth is None and place.within is None:
        return _chains_one_by_one(worker, place, many, span)
    if outer.which is Which.SAME and worker.last is not None:
        return _further_inside(worker, place, many)
    found = worker.base.find(worker.test(outer), worker.position)
    if found is None and not worker.flat and outer.chains is not None and outer.chains == worker.began:
        worker.closed, worker.last = True, 0  # "4th ch of ch-7": the chain that began this round
        return 1
    if found is None and place.nth and _is_turning_chain(worker, outer):
        worker.last, worker.position = worker.base.length - 1, worker.base.length
        return many
    if found is None:
        if worker.last is not None and _holds(worker, worker.base.at(worker.last)[0], outer):
            return 1
        worker.not_found(outer, worker.test(outer), span)
    assert found is not None
    length = worker.base.at(found)[0].chains
    if place.nth is not None and place.nth > length:
        raise NotFound(span, wanted=f"chain {place.nth} of a ch-{length} sp", place=place)
    worker.last = found
    worker.position = found + 1
    used = (place.nth or 1) + many - 1 if place.which in (Which.FIRST, Which.NTH) else 0
    worker.chain_inside = used if used < length else 0
    return many


def _holds(worker: Worker, cell: Cell, outer: Place) -> bool:
    """Whether the place gone into last has a further chain. The chain that stands for the last stitch of a row has none
    to come back to: "tr in each tr, tr in 3rd of 3 ch" leaves it to the last tr.
    """
    stands = worker.flat and cell.sort == STITCH and cell.chains > 0
    return worker.test(outer)(cell) and not stands


def _further_inside(worker: Worker, place: Place, many: int) -> int:
    """Another chain of the space in which the work stands, whose first chains it may have passed."""
    if place.which is Which.NEXT and worker.chain_inside and worker.position:
        inside = worker.chain_inside + many
        worker.chain_inside = inside if inside < worker.base.at(worker.position - 1)[0].chains else 0
    return 1


def _is_turning_chain(worker: Worker, outer: Place) -> bool:
    """ "3rd ch of ch-5" at the end of a row, where no space is so long: the chain that began the row below."""
    base = worker.base
    if not worker.flat or outer.chains is None or worker.position >= base.length or outer.what is not What.SPACE:
        return False
    cell = base.at(base.length - 1)[0]
    return cell.sort == STITCH and cell.chains > 0 and base.find(is_workable, worker.position) == base.length - 1


def _chains_one_by_one(worker: Worker, place: Place, many: int, span: Span) -> int:
    every = place.which is Which.EACH
    if _at_beginning_chain(worker) and many == 1:
        worker.last = worker.position
        worker.position += 1
        return 1
    if worker.flat and not worker.position and place.which is Which.NEXT and many == _chains_at_end(worker.base):
        worker.position, worker.last = 1, 0
        return many
    found = worker.base.find(lambda c: c.sort == SPACE, max(0, worker.position - (1 if worker.chain_inside else 0)))
    onward = _first_chains(worker) if found is None and every else 0
    if onward:
        return onward
    if found is None:
        raise RanOut(span, what=place, wanted=many, left=0)
    length = worker.base.at(found)[0].chains - worker.chain_inside
    if every:
        many = length
    if many > length:
        raise RanOut(span, what=place, wanted=many, left=length)
    worker.chain_inside = worker.chain_inside + many if many < length else 0
    worker.last = found
    worker.position = found + 1
    return many


def _first_chains(worker: Worker) -> int:
    """ "Ch 5, skip 5 sc, sc in each remaining sc, sc in each ch": once around, the work goes on into the chains that
    the round began with. How many there are; they are no space of the round any more.
    """
    first, out = worker.out.first(), worker.out
    if worker.flat or out.barrier or not worker.used_up() or first is None or first.sort != SPACE:
        return 0
    if len(out.loops) == 1 and len(out.loops[0].runs) == 1:
        return 0  # nothing stands behind them
    out.drop_first()
    worker.last = worker.position = worker.base.length
    return first.chains


def _chains_at_end(base: Strip) -> int:
    """How many chains stand for the stitch that the row meets first; 0 where it is a stitch."""
    cell = base.at(0)[0] if base.length else None
    return cell.chains if cell is not None and cell.sort == STITCH else 0


def _at_beginning_chain(worker: Worker) -> bool:
    """Whether all chains of a space are passed and the next one belongs to the chain that stood for a stitch."""
    if worker.chain_inside or not 0 < worker.position < worker.base.length:
        return False
    cell = worker.base.at(worker.position)[0]
    return cell.sort == STITCH and cell.chains > 0


def _stands_behind_slip(worker: Worker) -> bool:
    """Whether the row below slipped to where a chain begins what is left of it."""
    return worker.flat and worker.base.find(lambda c: c.kind == "sl-st", 0) is not None


def into_beginning_chain(worker: Worker, place: Place, span: Span) -> int:
    """The top of the beginning chain: of this round where it closes it, of the row below as a row's last stitch."""
    if worker.base.find(lambda c: c.sort == CHAIN, 0) is not None:
        return _of_foundation(worker, place, span)
    test = test_for(place)
    found = worker.base.find(test, worker.position)
    if found is None and (_stands_behind_slip(worker) or (place.nth and place.chains is None and not worker.began)):
        raise Unknown(span, why="a chain that the row below does not begin with")
    if found is None and not worker.flat and worker.out.made:
        worker.closed = True
        worker.last = 0
        return 1
    if found is None:
        if worker.position < worker.base.length or worker.base.find(test, 0) is None:
            raise NotFound(span, wanted="beginning chain that counts as a stitch", place=place)
        raise RanOut(span, what=place, wanted=1, left=0)
    if not worker.spaced:
        worker.passed += worker.base.count(is_workable, worker.position, found)
    worker.last = found
    worker.position = found + 1
    return 1


def _of_foundation(worker: Worker, place: Place, span: Span) -> int:
    """ "4th st of ch", "next st of ch" on a foundation chain: counted from the hook, or simply the next. The first is
    the one that was made first ("ch 2, 8 sc in first st of ch").
    """
    if place.nth == 1 and not worker.position:
        place = replace(place, nth=worker.base.length)
    if place.nth is not None:
        return _from_hook(worker, place, span)
    return into_stitches(worker, replace(place, what=What.CHAIN, chains=None), span)
