"""Moves along the row below without a stitch: slips, skips, joins."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Join, Place, Skip, Slip, What, Which
from convert.fabric.cells import CHAIN, PICOT, SLIP, SPACE, STITCH, Cell, Loop, Strip, closed_chains
from convert.fabric.faults import OTHER_EDGE, RanOut, Unknown
from convert.fabric.places.into import into
from convert.fabric.places.place import base_kind, is_workable
from convert.fabric.steps.far_ends import leads_away
from convert.fabric.steps.worker import Worker
from convert.source import NOWHERE
from convert.trade.stitches import stitches


def do_slip(worker: Worker, step: Slip) -> None:
    """Slip stitches: at the beginning of a round they move its start, in flat work they leave stitches behind."""
    starting = worker.travels and worker.out.made == 0 and worker.pending == 0
    if starting and not worker.flat and step.place.words not in worker.others and not worker.unit[0]:
        into(worker, step.place, step.span)
        last = worker.last if worker.last is not None else 0
        if worker.passes_on and last < worker.base.length and worker.base.at(last)[0].size > 2:
            last = _behind_group(worker.base, last)
        cell = worker.base.at(last)[0] if last < worker.base.length else None
        before = cell.part if cell is not None else 0
        worker.slid = cell.size if cell is not None and step.place.of is not None else 0
        worker.base = worker.base.from_position(last)
        if 0 < before < worker.base.length:
            worker.base = _without_group(worker.base, before)
        worker.origin += last
        worker.position, worker.last = 0, None
        return
    in_group = bool(worker.unit[0]) and step.place == Place() and step.place.span == NOWHERE
    if starting and worker.flat and not worker.untold and leads_away(step):
        raise Unknown(step.span, why=OTHER_EDGE)
    if in_group or step.place.words in worker.others:
        worker.close_chains()
        worker.out.add(Cell("sl-st", SLIP))
        return
    if _closes_spiral(worker, step.place):
        worker.joined = True
        return
    if _comes_back(worker, step.place):
        return
    place = replace(step.place, which=Which.MADE) if _is_on_last(worker, step.place) else step.place
    leads = starting or _leads_on(worker)
    places = into(worker, place, step.span)
    if not places and worker.out.last() is not None:
        return
    if leads:
        worker.out.add(Cell("sl-st", SLIP), places)
    else:
        worker.make("sl-st", places)


def _leads_on(worker: Worker) -> bool:
    """Whether nothing but slip stitches, which lead to where a flat row begins, has been worked so far."""
    last = worker.out.last() if worker.travels and worker.flat and not (worker.pending or worker.unit[0]) else None
    if last is None or last.sort != SLIP:
        return False
    return all(cell.sort == SLIP for loop in worker.out.loops for cell, _ in loop.runs)


def _is_on_last(worker: Worker, place: Place) -> bool:
    """ "Ch 4, sl st in top of dc", "ch 3, sl st in last sc": the stitch just made, behind chains and where the row
    below has none of the kind.
    """
    named = place.what is What.STITCH and place.which in (Which.NEXT, Which.LAST) and place.of is not None
    if not named or not worker.pending:
        return False
    last = worker.out.last()
    made = last is not None and last.sort == STITCH and last.kind == place.of
    return made and worker.base.find(worker.test(place), 0) is None


def _comes_back(worker: Worker, place: Place) -> bool:
    """ "Ch 3, sl st in same sc": chains led back to where they rose. Behind a picot they are another one on the same
    stitch, and otherwise a loop that stands on it; nothing is worked into the slip stitch. Common practice, no source.
    """
    here = place.which is Which.SAME and place.number == 1 and place.within is None and not place.words
    last = worker.out.last()
    if not here or not worker.pending or last is None or worker.last is None or worker.in_ring:
        return False
    if last.sort == PICOT:
        worker.out.add(closed_chains(worker.pending, worker.unit[0])._replace(part=last.part + 1))
        worker.pending = 0
        return True
    entry = stitches().get(base_kind(last.kind))
    if last.sort == SLIP or (entry is not None and entry.height is not None and entry.height <= _LOW):
        worker.close_chains()
        worker.out.add(Cell("sl-st", SLIP))
        return True
    return False


_LOW = 1
"""The height of stitches so low that a chain from their top and a slip stitch beside their foot make one loop."""


def _behind_group(strip: Strip, position: int) -> int:
    """The position behind the group in which a cell stands; the first one, 0, behind the last."""
    cell = strip.at(position)[0]
    return (position - cell.part + cell.size) % strip.length


def _closes_spiral(worker: Worker, place: Place) -> bool:
    """Whether a slip stitch goes into the first stitch of the round that it ends, since the row below is used up."""
    plain = place.what is What.STITCH and place.which is Which.NEXT and place.number == 1
    if not plain or worker.flat or not worker.out.made or not worker.base.length or worker.in_ring:
        return False
    test = worker.test(place)
    passes_space = worker.base.length - worker.position <= 1 and worker.base.find(is_workable, worker.position) is None
    return worker.base.length == worker.position or (passes_space and test(worker.base.at(0)[0]))


def _without_group(strip: Strip, many: int) -> Strip:
    """The strip, whose last cells are the first ones of the group in which it begins: no group by themselves."""
    start = strip.length - many
    loops = (
        Loop(tuple((cell._replace(unit="", part=0, size=0), n) for cell, n in loop.runs), loop.times)
        for loop in strip.cut(start, strip.length)
    )
    return Strip.of((*strip.cut(0, start), *loops))


def do_skip(worker: Worker, step: Skip) -> None:
    """Passes places on purpose: they are no left-overs."""
    place = step.place
    if worker.untold or (worker.others and place.what is What.PIECE):  # what is passed is of the other piece
        return
    if place.which is Which.REST or step.leave:
        worker.left = True
        worker.left_from = worker.position
        counted = place.which is Which.LAST or (place.which is Which.REST and place.number != 1)
        if counted and isinstance(place.number, int):
            left = worker.remaining()
            if left < place.number:
                raise RanOut(step.span, what=place, wanted=place.number, left=left)
            worker.left_beside = left - place.number
        worker.position = worker.base.length
        return
    slipped = place.of == "sl-st" and worker.base.find(worker.test(place), 0) is None
    if place.which is Which.SAME or slipped:  # slip stitches that fastened the row before are no stitches of it
        return
    if place.what is What.CHAIN and place.within is None and not _is_first_of_chain(worker, place):
        many = worker.number(place.number, step.span)
        into(worker, Place(What.CHAIN, number=many), step.span)
        return
    spaced = worker.spaced
    if place.which is Which.FIRST and place.within is None and _is_behind(worker, place):
        place = replace(place, which=Which.NEXT, number=_more_of_first(worker, place))
        if not place.number:
            return
    saved, begin = worker.last, worker.position
    if _lies_over_space(worker, place):
        worker.position += 1
        return
    into(worker, place, step.span)
    if place.within is not None and worker.last is not None and place.what is What.STITCH:
        worker.position = worker.last + 1  # the rest of the group is still to be worked
    if place.within is None:
        worker.last = saved
    worker.spaced = spaced
    worker.skipped, worker.gone_back = (begin, worker.position), 0


def _is_first_of_chain(worker: Worker, place: Place) -> bool:
    """ "Skip first 2 ch" on a foundation: one of them may lie below the beginning chain."""
    return place.which is Which.FIRST and worker.base.find(lambda c: c.sort == CHAIN, 0) is not None


def _is_behind(worker: Worker, place: Place) -> bool:
    """Whether the first such place of the row is passed."""
    return worker.position > 0 and worker.base.count(worker.test(place), 0, worker.position) > 0


def _more_of_first(worker: Worker, place: Place) -> int:
    """ "Ch 4 (counts as dc and ch 1), sk first 2 sts": the one below the chain is among them, and so many follow."""
    passed = worker.base.count(worker.test(place), 0, worker.position)
    return max(0, place.number - passed) if isinstance(place.number, int) else 0


def _lies_over_space(worker: Worker, place: Place) -> bool:
    """Whether the stitches skipped are the chains of a space: "ch 2, skip next 2 sts" above a ch-2 sp goes past it, and
    the mesh stays as wide as it is. Common practice of filet crochet, no source.
    """
    plain = place.what is What.STITCH and place.which is Which.NEXT and place.of is None and place.within is None
    if not plain or place.number != worker.pending or worker.position >= worker.base.length:
        return False
    cell = worker.base.at(worker.position)[0]
    return cell.sort == SPACE and cell.chains == place.number


def do_join(worker: Worker, step: Join) -> None:
    """Closes the round, or joins the work to another piece on its way."""
    if step.place is not None and step.place.words in worker.others:
        worker.close_chains()
        worker.out.add(Cell("sl-st", SLIP))
        return
    worker.joined = True
