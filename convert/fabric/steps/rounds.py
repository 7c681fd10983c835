"""Repeats all around or across: as many workings as fit, and how the last one differs."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

from msgspec.structs import replace

from convert.document.steps import (
    Chain,
    Decrease,
    EndingKind,
    Extent,
    Group,
    Join,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    What,
    Which,
    Work,
)
from convert.fabric.cells import SLIP, SPACE, Cell
from convert.fabric.faults import TOLD_IN_WORDS, Fault, NotFound, RanOut, Unknown
from convert.fabric.places.by_size import begins_picots, picots_told
from convert.fabric.places.place import Test, base_kind, is_workable
from convert.fabric.places.worded import loop_by_look
from convert.fabric.rows.picots import first_without_these, picots_in
from convert.fabric.steps.endings import jumps_over
from convert.fabric.steps.spurs import without_spurs
from convert.fabric.steps.turns import Doer, Saved, Turns, note, restore, save
from convert.fabric.steps.worker import Worker

_BACK = 6
"""How many workings a repeat may give back to the steps behind it."""


def demands(steps: tuple[Step, ...]) -> bool:
    """Whether the steps work into the row."""
    return any(isinstance(s, Work | Group | Decrease | Repeat) or (isinstance(s, Skip) and not s.leave) for s in steps)


def _end_reached(worker: Worker, test: Callable[[object], bool]) -> bool:
    return worker.base.find(test, worker.position) is None


def wanted_by(worker: Worker, steps: tuple[Step, ...]) -> Callable[[object], bool]:
    """The cells that the body works into: once none is left, it has gone around."""
    leaves = without_spurs(_leaves(steps), worker.base)
    tests = [test for step in leaves if (test := _wanted(worker, _place_of(step))) is not None]
    if not tests:
        slips = (step.place for step in leaves if isinstance(step, Slip))
        tests = [test for place in slips if (test := _wanted(worker, place, inside=True)) is not None]
    if not tests:
        return is_workable  # type: ignore[return-value]
    return lambda cell: any(test(cell) for test in tests)  # type: ignore[arg-type]


def _place_of(step: Step) -> Place | None:
    if isinstance(step, Work | Group | Skip):
        return step.place
    return step.places[0] if isinstance(step, Decrease) else None


def _wanted(worker: Worker, place: Place | None, *, inside: bool = False) -> Test | None:
    """The test for what a place is looked for in; `inside` asks only for places in something larger."""
    outer = place.within if place is not None else None
    inside_picots = outer is not None and outer.which is Which.NEXT and picots_told(outer) is not None
    if place is None or (place.which not in (Which.NEXT, Which.EACH, Which.CENTER, Which.NTH) and not inside_picots):
        return None
    if place.words:
        place = loop_by_look(worker, place) or place
    if place.within is None:
        return worker.test(place) if not inside or place.what is What.SPACE else None
    return begins_picots if picots_told(place.within) is not None else worker.test(place.within)


def _passed_first(worker: Worker, step: Repeat, fresh: Saved) -> int:
    """How many places were passed at the beginning of a round, to which its last working comes: "*5 dc in next space,
    sc in next sc; rep from * around", where an sc stands in front of the first space. Common practice, no source.
    """
    if worker.flat or fresh.position or fresh.last is not None or fresh.made or fresh.pending:
        return 0
    leaves = _leaves(step.steps)
    if any(isinstance(leaf, Slip) for leaf in leaves) or _end_reached(worker, wanted_by(worker, step.steps)):
        return 0  # a slip stitch into the round's first stitch closes it
    worked = (_place_of(leaf) for leaf in leaves if not isinstance(leaf, Skip) or leaf.place.within is not None)
    outer = (place.within or place for place in worked if place is not None)
    tests = [test for place in outer if (test := _wanted(worker, place)) is not None]
    first = worker.base.find(tests[0], 0) if len(tests) > 1 else None
    return first if first and any(worker.base.count(test, 0, first) for test in tests[1:]) else 0


def _leaves(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(leaf for step in steps for leaf in (_leaves(step.steps) if isinstance(step, Repeat) else (step,)))


def to_end(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """All around or across: as many workings as fit, the last one cut short or changed where the row says so. Raises
    `Unknown` where picots are left that it works into: the last working may come to the round's beginning.
    """
    _all_around(worker, step, tail, do)
    places = (getattr(leaf, "place", None) for leaf in _leaves(step.steps))
    into_picots = any(place is not None and picots_told(place.within) is not None for place in places)
    if into_picots and worker.base.find(begins_picots, worker.position) is not None:
        raise Unknown(step.span, why=TOLD_IN_WORDS)


def _all_around(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    if worker.in_ring and not worker.base.length:
        raise Unknown(step.span, why="a repeat around a ring without a number")
    fresh, begun = save(worker), picots_in(worker.out)
    most = _as_many_as_fit(worker, step, do, None)
    passed = _passed_first(worker, step, fresh) if step.ending is None and not demands(tail) else 0
    if passed:
        restore(worker, fresh)
        _forget_notes(worker, step)
        worker.base = worker.base.from_position(passed)
        worker.origin += passed
        most = _as_many_as_fit(worker, step, do, None)
    if most == 0 and step.ending is None and worker.position < worker.base.length and not demands(tail):
        do(worker, step.steps)  # not even once: the step that does not fit tells why
    lasts = _last_workings(step, tail, flat=worker.flat)
    if step.ending is not None and step.ending.kind is EndingKind.FITTING:
        lasts = first_without_these(lasts, step.steps, begun)
    if not demands(tail) and not any(demands(last) for last in lasts):
        if lasts == ((),):
            _end_anyhow(worker, step, tail, do)
        else:
            do(worker, lasts[0])
            _pass_last_space(worker, step)
        return
    fits = False
    near: tuple[tuple[Step, ...], int] | None = None
    wanted = wanted_by(worker, step.steps)
    ways = list(product(lasts, range(min(_BACK, most) + 1)))
    if step.ending is not None and step.ending.kind is EndingKind.FITTING:
        # As many whole workings as there are places for, then as much as fits; a row that can end with a stitch does.
        ways.sort(key=lambda way: (worker.flat and not way[0], way[1]))
    for last, fewer in ways:
        before = _worked(worker, step, do, fresh, most - fewer)
        if _tail_fits(worker, last + tail, do):
            fits = _end_reached(worker, wanted) and not jumps_over(worker, step, last, before.position)
            restore(worker, before)
            if fits:
                break
            near = near or (last, fewer)
    if not fits:
        last, fewer = near or (lasts[0], 0)
        _worked(worker, step, do, fresh, most - fewer)
    do(worker, last)
    _pass_last_space(worker, step)


def _end_anyhow(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """The last working of a repeat of which nothing is said."""
    if not _closed_on_first(worker, step, tail, do):
        _cut_short(worker, step, tail, do)
        _up_to_start(worker, step, do)


def _closed_on_first(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> bool:
    """ "*Ch 3, 2 dc in same st, ch 3, sl st in next st; rep from * around": the last working stands in the last stitch,
    and its slip stitch goes into the first one of the round. Works it so, if it is; whether it is.
    """
    first, last = step.steps[0], step.steps[-1]
    begins = next((place for leaf in _leaves(step.steps) if (place := _place_of(leaf)) is not None), None)
    here = begins is not None and begins.which is Which.SAME and step.ending is None and first is not last
    plain = isinstance(last, Slip) and last.place.which is Which.NEXT and last.place.number == 1
    whole = worker.base.length > 0 and worker.position == worker.base.length and worker.last == worker.position - 1
    if not (here and plain and whole) or worker.flat or worker.in_ring or demands(tail):
        return False
    do(worker, step.steps[:-1])
    worker.close_chains()
    worker.out.add(Cell("sl-st", SLIP))
    worker.joined = True
    return True


def _up_to_start(worker: Worker, step: Repeat, do: Doer) -> None:
    """ "*Sc in each st to corner, 3 sc in it; rep from * around": behind the last corner, to where the round began."""
    first = step.steps[0]
    if worker.flat or not isinstance(first, Repeat) or first.extent is not Extent.TO_PLACE or first.place is None:
        return
    if worker.base.find(worker.test(first.place), worker.position) is None and not worker.used_up():
        do(worker, (replace(first, extent=Extent.END, place=None),))


def _pass_last_space(worker: Worker, step: Repeat) -> None:
    """Where the round's beginning stands for the last stitch of a repeat, which goes past a space to its place, the
    last space is passed with it.
    """
    ending, last = step.ending, step.steps[-1]
    place = last.place if isinstance(last, Work | Group) else None
    if ending is None or ending.kind is not EndingKind.FITTING or place is None or worker.flat:
        return
    if worker.remaining(lambda cell: cell.sort == SPACE) != 1:
        return
    elsewhere = place.what not in (What.SPACE, What.CORNER) or place.chains is not None
    if elsewhere and worker.base.find(worker.test(place), worker.position) is None:
        worker.position = worker.base.length


def _worked(worker: Worker, step: Repeat, do: Doer, fresh: Saved, times: int) -> Saved:
    """Works the repeat so many times from its beginning, and keeps the state behind it."""
    restore(worker, fresh)
    _forget_notes(worker, step)
    _as_many_as_fit(worker, step, do, times)
    return save(worker)


def _last_workings(step: Repeat, tail: tuple[Step, ...], *, flat: bool) -> tuple[tuple[Step, ...], ...]:
    """How the last working may go, the likeliest first: the words say how it ends and leave open where that
    begins.
    """
    ending = step.ending
    if ending is None:
        return ((),)
    body = step.steps
    if ending.kind is EndingKind.AT:
        last, passed = body[: ending.after], _skips(body[ending.after :])
        return (last, last + passed) if passed else (last,)
    if ending.kind is EndingKind.FITTING:
        cuts = [body[:end] for end in range(len(body) - 1, -1, -1)]
        if flat and isinstance(body[-1], Chain | Skip):
            return tuple(dict.fromkeys(map(_up_to_stitch, cuts)))
        if isinstance(body[0], Chain) and not any(isinstance(s, Join) for s in tail):
            # A spiral goes on with the next round's chain: its own last one would be doubled.
            cuts = [cut for cut in cuts if not cut or not isinstance(cut[-1], Chain)]
        chained = bool(tail) and isinstance(tail[0], Chain)  # the row's own last chain stands for that of the repeat
        return tuple(cut[:-1] if chained and cut and isinstance(cut[-1], Chain) else cut for cut in cuts)
    guess = max(0, len(body) - len(ending.steps))
    if isinstance(body[-1], Chain) and isinstance(ending.steps[0], Chain):
        return (body[: guess or len(body) - 1] + ending.steps, ending.steps)
    first = guess if _is_last_of(body, ending.steps) else 0
    starts = tuple(dict.fromkeys((first, 0, guess, *range(1, len(body)))))
    plain = [start for start in starts if not _doubles_chain(body, start, ending.steps)]
    # What the last working no longer works it may still skip, so that the row comes out.
    bare = isinstance(ending.steps[0], Chain) and all(map(_closes, ending.steps))
    skipping = [start for start in plain if (start or bare) and _skips(body[start:])]
    doubling = [start for start in starts if start not in plain]
    return (
        *(body[:start] + ending.steps for start in plain),
        *(body[:start] + _over(_skips(body[start:]), ending.steps, start) for start in skipping),
        *(body[:start] + ending.steps for start in doubling),
    )


def _closes(step: Step) -> bool:
    """Whether a step goes into nothing but the beginning of the round: "ending with ch 4, join", "ending with ch 2, dc
    in first sc". The stitches that the chain lies over are passed then.
    """
    if isinstance(step, Work):
        place = step.place
        first = place is not None and place.which is Which.FIRST and place.number == 1
        return place is not None and (first or place.what is What.BEGINNING_CHAIN)
    return not demands((step,))


def _over(passed: tuple[Step, ...], ending: tuple[Step, ...], start: int) -> tuple[Step, ...]:
    """What is passed and the ending: behind chains that replace the whole working, in front of other ones."""
    return passed + ending if start else ending + passed


def _up_to_stitch(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps without the chains and skipped places at their end: a row ends with a stitch."""
    end = len(steps)
    while end and isinstance(steps[end - 1], Chain | Skip):
        end -= 1
    return steps[:end]


def _is_last_of(body: tuple[Step, ...], ending: tuple[Step, ...]) -> bool:
    """Whether an ending tells where the last stitch of a mesh goes: "*ch 2, skip next sp, dc in next dc; rep from *
    across, ending with dc in 3rd ch of turning ch", "*ch 1, sc in next ch-1 sp; ..., ending with sc in turning ch sp".
    """
    last, only = body[-1], ending[0] if len(ending) == 1 else None
    alike = isinstance(last, Work) and isinstance(only, Work) and (last.stitch, last.each) == (only.stitch, only.each)
    woven = all(
        isinstance(place := getattr(step, "place", None), Place) and place.what is What.SPACE for step in (last, only)
    )
    return alike and isinstance(body[0], Chain) and (woven or any(isinstance(step, Skip) for step in body))


def _skips(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(step for step in steps if isinstance(step, Skip))


def _doubles_chain(body: tuple[Step, ...], start: int, ending: tuple[Step, ...]) -> bool:
    """Whether the ending would begin with a chain directly behind another: then it replaces that one."""
    before = [s for s in (body[:start] or body) if not isinstance(s, Skip)]
    return isinstance(ending[0], Chain) and bool(before) and isinstance(before[-1], Chain)


def _forget_notes(worker: Worker, step: Repeat) -> None:
    worker.repeats[:] = [fact for fact in worker.repeats if fact.span != step.span]


def _tail_fits(worker: Worker, tail: tuple[Step, ...], do: Doer) -> bool:
    faults = len(worker.faults)
    passed = worker.passed
    try:
        do(worker, tail)
    except (RanOut, NotFound):
        return False
    except Unknown:
        return True
    clean = len(worker.faults) == faults and worker.passed == passed
    return clean and (worker.spaced or worker.left or worker.used_up())


def _as_many_as_fit(worker: Worker, step: Repeat, do: Doer, limit: int | None) -> int:
    start, made = worker.position, worker.out.made
    wanted = wanted_by(worker, step.steps)
    turns = Turns(worker, step.steps, do)
    most = 1 << 40 if limit is None else limit
    while turns.done < most and not _end_reached(worker, wanted):
        worker.tick(step.span)
        before = worker.position
        try:
            turns.once()
        except RanOut:
            break
        if worker.position == before:
            if all(isinstance(leaf, Chain) for leaf in _leaves(step.steps)):
                worker.faults.append(Fault("repeat-does-not-fit", step.span, {"endless": True}))
            raise Unknown(step.span, why="a repeat that takes no stitches has no end")
        turns.leap(most)
    note(worker, step, turns, start, made)
    return turns.done


def _cut_short(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """The last working where the join stands for its last stitch, or the round's beginning for more of it: its steps
    are worked as far as the row has places.
    """
    wanted = wanted_by(worker, step.steps)
    if worker.used_up() and not _chains_first(step) and _end_reached(worker, wanted):
        return
    chained = bool(tail) and isinstance(tail[0], Chain)  # the row's own last chain stands for that of the repeat
    joined = any(isinstance(s, Join) for s in tail)
    joins = joined and (chained or any(isinstance(s, Join) and s.place is not None for s in tail))
    if worker.flat or not (joined or not tail):
        return
    body = _written_out(step.steps)
    for end in range(len(body) - 1, 0, -1):
        last = end == len(body) - 1 and joins and _is_one(body[end]) and worker.first_many < 2
        if not joined or not (last or _stood_for(worker, body, end)):
            continue
        saved = save(worker)
        try:
            do(worker, tuple(s for s in body[:end] if not (chained and isinstance(s, Chain))))
        except (RanOut, NotFound):
            restore(worker, saved)
            continue
        end_reached = _end_reached(worker, wanted)
        if (worker.used_up() and (last or end_reached)) or (worker.spaced and end_reached):
            return
        restore(worker, saved)


_FEW = 12
"""Turns of a repeat inside the repeat that are looked at one by one."""


def _written_out(body: tuple[Step, ...]) -> tuple[Step, ...]:
    """The body with what it repeats a few times inside written out, so that it can be cut there."""
    out: list[Step] = []
    for step in body:
        few = isinstance(step, Repeat) and step.extent is Extent.TIMES and step.ending is None
        if isinstance(step, Repeat) and few and isinstance(step.times, int) and step.times <= _FEW:
            out.extend(step.steps * step.times)
        else:
            out.append(step)
    return tuple(out)


def _is_one(step: Step) -> bool:
    """Whether a join can stand for the step: it works into one place."""
    return isinstance(step, Work | Group | Slip) and (step.place is None or step.place.number == 1)


def _stood_for(worker: Worker, body: tuple[Step, ...], end: int) -> bool:
    """Whether the beginning of the round made what a last working cut at `end` leaves out: as many stitches in one
    place; or, behind a chain or what is only skipped, stitches of the kind with which the round began.
    """
    left_out = body[end:]
    first = next((s for s in left_out if isinstance(s, Work | Group | Decrease | Slip)), None)
    began = worker.out.first()
    if first is None or began is None:
        return False
    if all(isinstance(s, Skip) for s in body[:end]):
        return True
    if isinstance(first, Work) and len(left_out) == 1 and first.each == worker.first_many > 1:
        return True
    alike = isinstance(first, Work | Decrease) and base_kind(began.kind) == first.stitch
    before = next((step for step in reversed(body[:end]) if not isinstance(step, Skip)), None)
    return alike and isinstance(before, Chain)


def _chains_first(step: Repeat) -> bool:
    return isinstance(step.steps[0], Chain) and isinstance(step.steps[-1], Work | Group)
