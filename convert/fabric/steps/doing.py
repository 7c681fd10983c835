"""Executes steps: each kind of step has its function in `_DO`."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

from msgspec.structs import replace

from convert.document.steps import (
    Again,
    Begin,
    Chain,
    ChangeColour,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Marker,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import SPACE, Builder, Cell, Run, flattened
from convert.fabric.faults import TOLD_ELSEWHERE, UNREAD, NotFound, RanOut, Unknown
from convert.fabric.places.into import into
from convert.fabric.places.place import Test
from convert.fabric.remembered import remembered
from convert.fabric.rows.beginnings import do_begin
from convert.fabric.rows.completed import complete, piece_named
from convert.fabric.rows.corners import turns_corners, work_sides
from convert.fabric.rows.mirrored import is_mirrored, work_mirrored
from convert.fabric.rows.untold import counts_along, share_of, stops_at_edge
from convert.fabric.steps.arches import Arch, make_arch
from convert.fabric.steps.drawn import draw_through
from convert.fabric.steps.filet import meshes_told, work_meshes
from convert.fabric.steps.markers import do_marker
from convert.fabric.steps.meshes_beside import OuterStitch, make_outer
from convert.fabric.steps.moves import do_join, do_skip, do_slip
from convert.fabric.steps.repeats import do_each, do_repeat
from convert.fabric.steps.spaces_beside import work_beside
from convert.fabric.steps.spread import do_spread, is_spread, left_behind, short_of
from convert.fabric.steps.spurs import spur_length, work_spur
from convert.fabric.steps.worker import Worker
from convert.instructions.stitches.drawn_through import draws_through
from convert.source import Span
from convert.trade.stitches import stitches

_NEXT = Place()


def do_steps(worker: Worker, steps: tuple[Step, ...]) -> None:
    """Works the steps in order. A repeat to the end of the row is told what comes behind it."""
    beside = False
    done = 0
    for index, step in enumerate(steps):
        if index < done:
            continue
        worker.tick(step.span)
        spur = spur_length(worker, steps, index) if worker.pending else 0
        if spur:
            done = index + spur
            work_spur(worker, steps[index:done], do_steps)
            continue
        tail = steps[index + 1 :]
        if beside:
            beside = False
        elif isinstance(step, Repeat):
            beside = turns_corners(worker, step, tail)
            (work_sides if beside else do_repeat)(worker, step, tail, do_steps)
        elif isinstance(step, Work) and is_spread(step):
            stops_at_edge(worker, step)
            do_spread(worker, step, left_behind(tail))
        elif tail and isinstance(step, Work) and _goes_to_end(step):
            spaced = work_beside(worker, step, tail[0], do_step)
            beside = spaced or _is_beside(worker, step, tail[0])
            if beside:
                _in_one_pass(worker, step, tail[0], done=spaced)
            elif left_behind(tail):
                do_repeat(worker, short_of(step, left_behind(tail)), tail, do_steps)
            elif _demands(tail) and step.place is not None and step.place.what is not What.GAP:
                do_each(worker, step, tail, do_steps)
            else:
                _do_before(worker, step, tail)
        else:
            _do_before(worker, step, tail)


def _do_before(worker: Worker, step: Step, tail: tuple[Step, ...]) -> None:
    """Works a step. Where it fails and words that nobody understands stand right behind it, they may be about it."""
    try:
        do_step(worker, step)
    except (RanOut, NotFound):
        unread = tail[0] if tail else None
        if isinstance(unread, Again) and not unread.first and not unread.even:
            raise Unknown(unread.span, why=TOLD_ELSEWHERE) from None
        aside = isinstance(unread, Verbatim) and str(unread.words[0]).startswith(("(", "["))
        if isinstance(unread, Verbatim) and not unread.inert and not aside:
            raise Unknown(unread.span, why=UNREAD) from None
        raise


def _goes_to_end(step: Work) -> bool:
    """Whether each place up to the end of the row is meant; how many go along an edge in words is told otherwise."""
    return step.place is not None and step.place.which is Which.EACH and step.place.what is not What.PIECE


def _is_beside(worker: Worker, step: Work, other: Step) -> bool:
    """Whether two clauses are one pass over the row: "dc in each dc and (2 dc, ch 3, 2 dc) in each ch-3 loop"."""
    place = step.place
    if place is None or place.which is not Which.EACH or place.what is not What.STITCH:
        return False
    there = other.place if isinstance(other, Work | Group) else None
    if (
        there is None
        or there.what not in (What.SPACE, What.CORNER)
        or there.which not in (Which.EACH, Which.NEXT)
        or there.number != 1
    ):
        return False
    if place.also and worker.base.find(_in_both(worker.test(place), worker.test(there)), worker.position) is not None:
        return False
    passed = worker.base.count(worker.test(there), worker.position)
    found = worker.base.find(worker.test(there), worker.position)
    behind = found is not None and worker.base.find(worker.test(place), found) is not None
    return behind and (there.which is Which.EACH or passed == 1)


def _in_both(one: Test, other: Test) -> Test:
    return lambda cell: one(cell) and other(cell)


def _in_one_pass(worker: Worker, step: Work, other: Step, *, done: bool) -> None:
    """Works the stitches up to each of the spaces, and what goes into it, in turn; then the stitches that are left.
    Nothing where the pass is `done`.
    """
    if done:
        return
    assert step.place is not None
    assert isinstance(other, Work | Group)
    assert other.place is not None
    also = tuple(replace(place, which=Which.NEXT) for place in step.place.also)
    one = replace(step, place=replace(step.place, which=Which.NEXT, also=also))
    there = replace(other.place, which=Which.NEXT)
    turn = (Repeat((one,), Extent.TO_PLACE, place=there, span=step.span), replace(other, place=there))
    do_repeat(worker, Repeat(turn, Extent.TIMES, worker.base.count(worker.test(there), worker.position)), (), do_steps)
    if worker.base.find(worker.test(step.place), worker.position) is not None:
        do_step(worker, step)


def _demands(tail: tuple[Step, ...]) -> bool:
    """Whether further steps of the row work into it."""
    return any(isinstance(step, Work | Group | Decrease | Repeat) for step in tail)


def do_step(worker: Worker, step: Step) -> None:
    """Works one step; raises a `RowStops` where it cannot be worked."""
    _DO[type(step)](worker, step)


def _work(worker: Worker, step: Work) -> None:
    each = worker.number(step.each, step.span)
    entry = stitches().get(step.stitch)
    if step.place is not None and step.place.also and step.place.which is Which.EACH:
        _each_of_several(worker, step, each)
        return
    if worker.definitions.steps(step.stitch) is not None:
        _defined(worker, step, each)
        return
    if worker.definitions.only_named(step.stitch):
        raise Unknown(step.span, why="a stitch that is named and not explained")
    if entry is not None and entry.prevailing:
        _shaped(worker, step, each, entry.takes, entry.makes)
        return
    if entry is not None and entry.decoration:
        into(worker, step.place if step.place is not None and step.place.which is not Which.NEXT else None, step.span)
        return
    if worker.opening and step.place is not None and step.place.which is Which.SAME:
        worker.first_many = 1 + each
        if (worker.pending or each > 1) and entry is not None and not worker.unit[0]:
            # "Ch 6, dc in same sp", "ch 3, 4 dc in same st": what the chain stands for and the dc are one group.
            _group(worker, Group((replace(step, place=None),), step.place, step.span))
            return
    if counts_along(worker, step, each):
        worker.make(step.stitch, each)
        return
    share = share_of(worker, step, each)
    if share is not None:
        worker.make(step.stitch, share)
        return
    places = into(worker, step.place, step.span)
    kind = worker.made_kind(step.stitch, step.place)
    if step.place is not None and not worker.unit[0] and (each >= 3 or (each == 2 and _is_tall(step.stitch))):
        _grouped(worker, kind, each, places)
    else:
        worker.make(kind, each * places)


def _grouped(worker: Worker, kind: str, each: int, places: int) -> None:
    """Three or more stitches in one place are a group, whose middle can be named later; two tall ones are a pair, which
    a later row may call a group too.
    """
    worker.close_chains()
    worker.kind = kind
    if worker.in_ring:
        worker.make(kind, each * places)
        return
    unit = "group" if each > 2 else ""
    cells = tuple((Cell(kind, unit=unit, part=i, size=each), 1) for i in range(each))
    if places > 1:
        worker.out.mark()
    worker.out.counted(each * places)
    worker.out.loop(cells, places)


def _is_tall(stitch: str) -> bool:
    """Whether two of the stitch in one place look like a group, and not like an increase."""
    entry = stitches().get(stitch)
    return entry is not None and (entry.height or 0) >= 2


def _each_of_several(worker: Worker, step: Work, each: int) -> None:
    """ "dc in each st and in each ch-1 sp around": one pass over all the kinds named."""
    assert step.place is not None
    stops_at_edge(worker, step)
    if any(place.what is What.CHAIN for place in step.place.also):
        worker.open_chains()
    many = worker.remaining(worker.test(step.place))
    if not many:
        raise RanOut(step.span, what=step.place, wanted=1, left=0)
    kind = worker.made_kind(step.stitch, step.place)
    worker.make(kind, each * many)
    worker.position = worker.base.length
    worker.last = worker.base.length - 1


def _shaped(worker: Worker, step: Work, each: int, takes: int, makes: int) -> None:
    """ "inc" and "dec": the stitch is that of the work around them."""
    stops_at_edge(worker, step)
    place = step.place or _NEXT
    if takes > 1:
        many = worker.number(place.number, step.span)
        if place.which is Which.EACH:
            many = worker.remaining() // takes
        for _ in range(many):
            worker.runs_of(Place(of=place.of), takes, step.span)
            worker.make(f"{_kind_here(worker)}{takes}tog", each)
        return
    places = into(worker, step.place, step.span)
    worker.make(_kind_here(worker), each * makes * places)


def _kind_here(worker: Worker) -> str:
    return worker.kind


def _defined(worker: Worker, step: Work, each: int) -> None:
    """A stitch that is defined by steps: the definition is worked at the place, as often as there are places."""
    steps = worker.definitions.steps(step.stitch)
    assert steps is not None
    if _in_one_place(steps):
        _repeat_group(worker, step, steps, each, step.stitch)
        return
    place = step.place
    if place is not None and place.which is Which.EACH and place.what is What.STITCH and place.of is None:
        # "Crosses across": each takes several stitches, so that there are as many as the row has room for.
        do_repeat(worker, Repeat((replace(step, place=None),), Extent.END, span=step.span), (), do_steps)
        return
    many = 1 if place is None else worker.number(place.number, step.span)
    taken = _taken(steps)
    if each == 1 and taken > 1 and many % taken == 0:
        many //= taken  # "cable over next 6 sts": the stitches that one takes
    for _ in range(many * each):
        _as_unit(worker, steps, step.stitch, step.span)


@remembered
def _taken(steps: tuple[Step, ...]) -> int:
    """How many stitches a definition goes over, one after the other; 0 where that is not told by plain numbers."""
    taken = 0
    for step in steps:
        place = step.place if isinstance(step, Work | Skip) else None
        if place is None or not isinstance(place.number, int) or place.what is not What.STITCH:
            return 0
        taken += place.number if place.which is Which.NEXT else 0
    return taken


def _in_one_place(steps: tuple[Step, ...]) -> bool:
    return all(_single(step) for step in steps)


def _single(step: Step) -> bool:
    if isinstance(step, Work):
        return step.place is None or (step.place.which in (Which.NEXT, Which.SAME) and step.place.number == 1)
    if isinstance(step, Group):
        return step.place.number == 1 and step.place.which in (Which.NEXT, Which.SAME)
    if isinstance(step, Decrease):
        return len(step.places) == 1 and step.places[0].number == 1
    if isinstance(step, Repeat):
        return step.extent is Extent.TIMES and all(_single(s) for s in step.steps)
    return isinstance(step, Chain | Verbatim)


def _placeless(step: Step) -> Step:
    """The step of a definition without its own place: it goes where the stitch goes."""
    if isinstance(step, Work):
        return Work(step.stitch, step.each, None, span=step.span)
    if isinstance(step, Decrease):
        return Work(f"{step.stitch}{step.legs}tog", 1, None, span=step.span)
    if isinstance(step, Repeat):
        return Repeat(tuple(_placeless(s) for s in step.steps), step.extent, step.times, span=step.span)
    return step


def _group(worker: Worker, step: Group) -> None:
    if step.place.what is What.RING and worker.out.made == 0:
        into(worker, step.place, step.span)
        do_steps(worker, tuple(_placeless(s) for s in step.steps))
        return
    slipped = _slipped_into(step)
    if slipped:
        do_steps(worker, slipped)
        return
    unit = worker.definitions.name_of(step) or "group"
    _repeat_group(worker, Work(unit, 1, step.place, span=step.span), step.steps, 1, unit)


@remembered
def _slipped_into(step: Group) -> tuple[Step, ...]:
    """ "(sl st, ch 3, 3 dc) in next ch-3 sp": slipped into the place, and the rest worked there; empty for others."""
    first, rest = step.steps[0], step.steps[1:]
    one = step.place.number == 1 and step.place.which is not Which.EACH
    if not (one and rest and isinstance(first, Slip) and first.place == Place()):
        return ()
    same = Place(step.place.what, Which.SAME, span=step.place.span)
    moved = (replace(inner, place=same) if isinstance(inner, Work) and inner.place is None else inner for inner in rest)
    return (replace(first, place=step.place, span=step.span), *moved)


def _repeat_group(worker: Worker, step: Work, steps: tuple[Step, ...], each: int, unit: str) -> None:
    """Works a group into every place named."""
    places = into(worker, step.place, step.span)
    opened = _opened(worker, step.place)
    worker.close_chains()
    cells = (*opened, *_cells_of(worker, _inside(steps), unit, step.span))
    trailing = 0
    if cells and cells[-1][0].sort == "space" and unit == "group" and not worker.unit[0]:
        trailing = cells[-1][0].chains
        cells = cells[:-1]
    size = sum(n for _, n in cells)
    if worker.unit[0]:
        for cell, number in cells:
            worker.out.add(cell, number * places * each)
        return
    parted = _parted(cells, unit, size)
    worker.out.counted(size * places * each)
    if places * each > 1:
        worker.out.mark()
    if trailing:
        worker.pending += trailing
        if places * each > 1:
            worker.out.loop((*parted, (Cell("ch", "space", trailing), 1)), places * each - 1)
            worker.out.loop(parted, 1)
            return
    worker.out.loop(parted, places * each)


@remembered
def _inside(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps of a group without places of their own, groups inside it opened."""
    return tuple(_placeless(x) for s in steps for x in (s.steps if isinstance(s, Group) else (s,)))


def _opened(worker: Worker, place: Place | None) -> tuple[Run, ...]:
    """The beginning chain of a round, taken back where the first group goes into its place: it is the group's first
    stitch.
    """
    if not worker.opening or place is None or place.which is not Which.SAME or worker.unit[0]:
        return ()
    worker.opening = False
    if worker.out.made != 1:
        return ()
    runs = flattened(tuple(worker.out.loops))
    worker.out = Builder()
    if worker.pending:
        runs = (*runs, (Cell("ch", SPACE, worker.pending), 1))
        worker.pending = 0
    return runs


_NAMED_PARTS = 200
"""Cells of one kind in a group, up to which each is told by its position; nobody names the 201st."""


@lru_cache(256)
def _parted(cells: tuple[tuple[Cell, int], ...], unit: str, size: int) -> tuple[tuple[Cell, int], ...]:
    """The cells of a group, each with its position in it."""
    parted: list[tuple[Cell, int]] = []
    part = 0
    for cell, number in cells:
        single = min(number, _NAMED_PARTS)
        parted += [(cell._replace(unit=unit, part=part + i, size=size), 1) for i in range(single)]
        part += single
        if number > single:
            parted.append((cell._replace(unit=unit, part=part, size=size), number - single))
    return tuple(parted)


def _cells_of(worker: Worker, steps: tuple[Step, ...], unit: str, span: Span) -> tuple[tuple[Cell, int], ...]:
    """What the steps of a group make, as runs."""
    saved = worker.out, worker.pending, worker.unit
    if worker.unit[1] > 20:
        raise Unknown(span, why="groups inside groups")
    worker.out, worker.pending, worker.unit = Builder(colour=worker.out.colour), 0, (unit, worker.unit[1] + 1)
    try:
        do_steps(worker, steps)
        worker.close_chains()
        saved[0].colour = worker.out.colour
        return flattened(tuple(worker.out.loops))
    finally:
        worker.out, worker.pending, worker.unit = saved


def _as_unit(worker: Worker, steps: tuple[Step, ...], unit: str, span: Span) -> None:
    """A defined stitch that takes several places of its own."""
    worker.close_chains()
    cells = _cells_of(worker, steps, unit, span)
    for cell, number in _parted(cells, unit, sum(n for _, n in cells)):
        worker.out.add(cell, number)


def _chain_step(worker: Worker, step: Chain) -> None:
    if not step.skipped:
        worker.pending += worker.number(step.number, step.span)


def _decrease(worker: Worker, step: Decrease) -> None:
    if len(step.places) == 1 and step.places[0].which is Which.EACH:
        raise Unknown(step.span, why="a decrease over every stitch")
    places = sum(into(worker, place, step.span) for place in step.places)
    if not places:  # into a chain at the hook: the chain and the stitch are one picot
        return
    kind = worker.made_kind(step.stitch, step.places[0])
    worker.make(f"{kind}{step.legs + worker.leg}tog")
    worker.leg = False


def _nothing(worker: Worker, step: Step) -> None:
    """Steps without effect on the places of this row."""


def _turn(worker: Worker, step: Turn) -> None:
    raise Unknown(step.span, why="the work is turned in the middle of the row")


def _verbatim(worker: Worker, step: Verbatim) -> None:
    if not step.inert:
        raise Unknown(step.span, why=UNREAD)
    if draws_through(step.words):
        draw_through(worker)


def _change(worker: Worker, step: ChangeColour) -> None:
    worker.out.colour = step.colour


def _again(worker: Worker, step: Again) -> None:
    if is_mirrored(step.words) and not step.first:
        work_mirrored(worker, step.span)
        return
    if worker.completes is not None and piece_named(step.words):
        complete(worker, step.span)
        return
    meshes = meshes_told(step.words) if step.words and not step.first else None
    if meshes is not None and not worker.unit[0]:
        work_meshes(worker, meshes, step.span)
        return
    raise Unknown(step.span, why=TOLD_ELSEWHERE if step.words else "earlier rows among other steps")


def _repeat(worker: Worker, step: Repeat) -> None:
    do_repeat(worker, step, (), do_steps)


_DO: dict[type, Callable[[Worker, Any], None]] = {
    Work: _work,
    OuterStitch: make_outer,
    Arch: make_arch,
    Group: _group,
    Chain: _chain_step,
    Slip: do_slip,
    Decrease: _decrease,
    Skip: do_skip,
    Repeat: _repeat,
    Join: do_join,
    Turn: _turn,
    FastenOff: _nothing,
    ChangeColour: _change,
    Marker: do_marker,
    Begin: do_begin,
    Again: _again,
    Verbatim: _verbatim,
}
