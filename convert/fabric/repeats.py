"""Executes repeats.

A body that comes back to the same place of the base's own repeat is worked once and counted on.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

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
    Step,
    What,
    Which,
    Work,
)
from convert.fabric.cells import Loop, Run, flattened
from convert.fabric.faults import Fault, NotFound, RanOut, Unknown
from convert.fabric.places import is_workable
from convert.fabric.worker import RepeatFact, Worker
from convert.trade.stitches import stitches

Doer = Callable[[Worker, tuple[Step, ...]], None]
_PLAIN = 2
"""More stitches than this in one place are a group, whose middle can be named."""
_BACK = 6
"""How many workings a repeat may give back to the steps behind it."""


@dataclass(frozen=True, slots=True)
class _Saved:
    """What a worker must remember to take a repeat back."""

    position: int
    last: int | None
    loops: tuple[object, ...]
    barrier: int
    made: int
    pending: int
    kind: str
    spaced: bool
    passed: int
    chain_inside: int
    closed: bool
    faults: int


def save(worker: Worker) -> _Saved:
    """The state to come back to."""
    w = worker
    return _Saved(
        w.position,
        w.last,
        tuple(w.out.loops),
        w.out.barrier,
        w.out.made,
        w.pending,
        w.kind,
        w.spaced,
        w.passed,
        w.chain_inside,
        w.closed,
        len(w.faults),
    )


def restore(worker: Worker, saved: _Saved) -> None:
    """Takes back everything since `save`."""
    worker.position, worker.last, worker.pending = saved.position, saved.last, saved.pending
    worker.out.loops = list(saved.loops)  # type: ignore[arg-type]  # the loops that were there
    worker.out.barrier, worker.out.made = saved.barrier, saved.made
    worker.kind, worker.spaced, worker.passed = saved.kind, saved.spaced, saved.passed
    worker.chain_inside, worker.closed = saved.chain_inside, saved.closed
    del worker.faults[saved.faults :]


def do_repeat(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """Works a repeat as far as it goes."""
    if step.extent is Extent.TIMES:
        _times(worker, step, do)
    elif step.extent is Extent.TO_LAST:
        _to_last(worker, step, do)
    elif step.extent is Extent.TO_PLACE:
        _to_place(worker, step, do)
    else:
        _to_end(worker, step, tail, do)


@dataclass(frozen=True, slots=True)
class _Seen:
    """Where a working began, to be known again when one begins alike."""

    turn: int
    done: int
    position: int
    last: int | None
    history: int


class _Turns:
    """Works a body again and again, and skips ahead where nothing new can happen."""

    def __init__(self, worker: Worker, body: tuple[Step, ...], do: Doer) -> None:
        self.worker = worker
        self.body = body
        self.do = do
        self.seen: dict[tuple[int, int, int, int], _Seen] = {}
        self.done = 0
        self.begun = (0, 0, 0)
        self.history: list[Loop] = []
        self.mark = worker.out.mark()

    def once(self) -> None:
        """Works the body; raises what the steps raise, with the worker as it was before."""
        worker = self.worker
        saved = save(worker)
        self.begun = (worker.position, worker.pending, worker.chain_inside)
        barrier = worker.out.barrier
        mark = worker.out.mark()
        try:
            self.do(worker, self.body)
        except (RanOut, NotFound, Unknown):
            restore(worker, saved)
            raise
        self._append(worker.out.taken(mark, barrier), 1)
        self.done += 1

    def _append(self, runs: tuple[Run, ...], times: int) -> None:
        self.worker.out.loop(runs, times)
        self.history.append(Loop(runs, times))

    def leap(self, limit: int) -> None:
        """Adds as many whole periods as are sure to fit, at most `limit` workings in all."""
        worker = self.worker
        if worker.base.length == 0 or (worker.in_ring and worker.position == 0):
            self._leap_in_ring(limit)
            return
        if worker.position < worker.base.length and not self._leap_in_run(limit):
            self._leap_over_turns(limit)

    def _leap_over_turns(self, limit: int) -> None:
        """The base repeats itself: once a working begins where an earlier one began, the turns in between are
        alike.
        """
        worker = self.worker
        loop, turn, offset = worker.base.phase(worker.position)
        key = (loop, offset, worker.pending, worker.chain_inside)
        before = self.seen.get(key)
        self.seen[key] = _Seen(turn, self.done, worker.position, worker.last, len(self.history))
        if before is None or turn <= before.turn:
            return
        turns, workings = turn - before.turn, self.done - before.done
        left = worker.base.loops[loop].times - turn - 1
        periods = min(left // turns - 1, (limit - self.done) // workings - 1)
        if periods > 0:
            self._repeat_since(before, periods, periods * (worker.position - before.position))

    def _leap_in_run(self, limit: int) -> bool:
        """Inside a run of equal cells every working that takes the same number of them is alike."""
        worker = self.worker
        position, pending, inside = self.begun
        taken = worker.position - position
        if taken <= 0 or (pending, inside) != (worker.pending, worker.chain_inside):
            return False
        left = worker.base.at(position)[1] - taken
        more = min(left // taken - 1, limit - self.done - 1)
        if more <= 0:
            return False
        runs = self.history[-1].runs
        worker.out.counted(more * sum(n for _, n in runs))
        self._append(runs, more)
        self._move(more, more * taken, moved=worker.last is not None and worker.last >= position)
        return True

    def _leap_in_ring(self, limit: int) -> None:
        """In a ring nothing runs out: once the body begins as it did before, all further workings are alike."""
        key = (0, 0, self.worker.pending, 0)
        before = self.seen.get(key)
        self.seen[key] = _Seen(0, self.done, 0, self.worker.last, len(self.history))
        if before is not None:
            periods = (limit - self.done) // (self.done - before.done)
            self._repeat_since(before, periods, 0)

    def _repeat_since(self, before: _Seen, periods: int, distance: int) -> None:
        """Adds what was made since `before` again, so many times."""
        if periods <= 0:
            return
        worker = self.worker
        block = flattened(tuple(self.history[before.history :]))
        worker.out.counted(periods * sum(n for _, n in block))
        workings = self.done - before.done
        moved = worker.last != before.last
        self._append(block, periods)
        self._move(periods * workings, distance, moved=moved)
        self.seen.clear()

    def _move(self, workings: int, distance: int, *, moved: bool) -> None:
        worker = self.worker
        worker.position += distance
        if worker.last is not None and moved:
            worker.last += distance
        self.done += workings


def _note(worker: Worker, step: Repeat, turns: _Turns, start: int, made: int) -> None:
    if turns.done:
        takes = (worker.position - start) // turns.done
        makes = (worker.out.made + bool(worker.pending) - made) // turns.done
        worker.repeats.append(RepeatFact(takes, makes, turns.done, step.span))


def _times(worker: Worker, step: Repeat, do: Doer) -> None:
    times = worker.number(step.times, step.span)
    ending = step.ending
    start, made = worker.position, worker.out.made
    turns = _Turns(worker, step.steps, do)
    full = times - 1 if ending is not None else times
    while turns.done < full:
        worker.tick(step.span)
        try:
            turns.once()
        except RanOut as fault:
            raise RanOut(fault.span, **{**fault.facts, "time": turns.done + 1, "times": times}) from None
        if turns.done < full:
            turns.leap(full)
    _note(worker, step, turns, start, made)
    if ending is not None and times > 0:
        last = {EndingKind.AT: step.steps[: ending.after], EndingKind.FITTING: step.steps[:-1]}.get(
            ending.kind, ending.steps
        )
        do(worker, last)


def _to_last(worker: Worker, step: Repeat, do: Doer) -> None:
    place = step.place or Place(number=0)
    leave = worker.number(place.number, step.span)
    test = worker.test(place)
    start, made = worker.position, worker.out.made
    turns = _Turns(worker, step.steps, do)
    while True:
        worker.tick(step.span)
        left = worker.remaining(test)
        if left <= leave:
            break
        before = worker.position
        try:
            turns.once()
        except RanOut:
            worker.faults.append(
                Fault("repeat-does-not-fit", step.span, {"left": left, "leave": leave, "times": turns.done})
            )
            break
        if worker.position == before:
            raise Unknown(step.span, why="a repeat that takes no stitches has no end")
        limit = turns.done + max(0, (worker.remaining(test) - leave) // max(1, worker.position - before))
        turns.leap(limit)
    if worker.remaining(test) < leave:
        facts: dict[str, object] = {"left": worker.remaining(test), "leave": leave, "times": turns.done}
        worker.faults.append(Fault("repeat-does-not-fit", step.span, facts))
    _note(worker, step, turns, start, made)


def _to_place(worker: Worker, step: Repeat, do: Doer) -> None:
    place = step.place
    if place is None or place.what is What.MARKER or place.within is not None:
        raise Unknown(step.span, why="a repeat up to a marker")
    if place.which is Which.LAST:
        total = worker.base.count(worker.test(place))
        target = _nth(worker, place, total)
    else:
        found = worker.base.find(worker.test(place), worker.position)
        target = found if found is not None else worker.base.length
    if _all_at_once(worker, step, target):
        return
    start, made = worker.position, worker.out.made
    turns = _Turns(worker, step.steps, do)
    while _before(worker, target):
        worker.tick(step.span)
        before = worker.position
        turns.once()
        if worker.position > target or worker.position == before:
            facts: dict[str, object] = {"left": 0, "leave": 0, "times": turns.done}
            worker.faults.append(Fault("repeat-does-not-fit", step.span, facts))
            break
        if _before(worker, target):
            turns.leap(turns.done + target - worker.position)
    _note(worker, step, turns, start, made)


def _all_at_once(worker: Worker, step: Repeat, target: int) -> bool:
    """ "dc in each st to ...": one kind of stitch in every place up to the target, without working them one by
    one.
    """
    one = step.steps[0]
    if len(step.steps) > 1 or not isinstance(one, Work) or not isinstance(one.each, int) or one.each > _PLAIN:
        return False
    place, entry = one.place, stitches().get(one.stitch)
    if place is None or entry is None or entry.unit or entry.prevailing or entry.decoration:
        return False
    if place.which is not Which.NEXT or place.number != 1 or place.nth or place.within or place.every != 1:
        return False
    many = worker.base.count(worker.test(place), worker.position, target)
    if not many or worker.definitions.steps(one.stitch) is not None:
        return False
    worker.make(worker.made_kind(one.stitch, place), one.each * many)
    worker.repeats.append(RepeatFact(1, one.each, many, step.span))
    worker.position, worker.last, worker.chain_inside = target, target - 1, 0
    return True


def _before(worker: Worker, target: int) -> bool:
    """Whether something to work stands before the target."""
    found = worker.base.find(is_workable, worker.position)
    return found is not None and found < target


def _nth(worker: Worker, place: Place, nth: int) -> int:
    position = -1
    test = worker.test(place)
    for _ in range(nth):
        found = worker.base.find(test, position + 1)
        if found is None:
            return worker.base.length
        position = found
    return position


def _demands(steps: tuple[Step, ...]) -> bool:
    """Whether the steps work into the row."""
    return any(isinstance(s, Work | Group | Decrease | Repeat) or (isinstance(s, Skip) and not s.leave) for s in steps)


def _end_reached(worker: Worker, test: Callable[[object], bool]) -> bool:
    return worker.base.find(test, worker.position) is None


def _wanted(worker: Worker, steps: tuple[Step, ...]) -> Callable[[object], bool]:
    """The cells that the body works into: once none is left, it has gone around."""
    tests = []
    for step in _leaves(steps):
        place = (
            step.place
            if isinstance(step, Work | Group | Skip)
            else step.places[0]
            if isinstance(step, Decrease)
            else None
        )
        if place is not None and place.which in (Which.NEXT, Which.EACH, Which.CENTER, Which.NTH):
            tests.append(worker.test(place) if place.within is None else worker.test(place.within))
    if not tests:
        return is_workable  # type: ignore[return-value]
    return lambda cell: any(test(cell) for test in tests)  # type: ignore[arg-type]


def _leaves(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    return tuple(leaf for step in steps for leaf in (_leaves(step.steps) if isinstance(step, Repeat) else (step,)))


def _to_end(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """All around or across: as many workings as fit, the last one cut short or changed where the row says so."""
    if worker.in_ring and not worker.base.length:
        raise Unknown(step.span, why="a repeat around a ring without a number")
    fresh = save(worker)
    most = _as_many_as_fit(worker, step, do, None)
    if most == 0 and step.ending is None and worker.position < worker.base.length and not _demands(tail):
        do(worker, step.steps)  # not even once: the step that does not fit tells why
    lasts = _last_workings(step)
    if not _demands(tail) and not any(_demands(last) for last in lasts):
        if lasts == ((),):
            _cut_short(worker, step, tail, do)
        else:
            do(worker, lasts[0])
        return
    for last in lasts:
        if _fitted(worker, step, last, tail, do, fresh, most):
            do(worker, last)
            return
    restore(worker, fresh)
    _forget_notes(worker, step)
    _as_many_as_fit(worker, step, do, most)
    do(worker, lasts[0])


def _fitted(
    worker: Worker, step: Repeat, last: tuple[Step, ...], tail: tuple[Step, ...], do: Doer, fresh: _Saved, most: int
) -> bool:
    """Whether some number of workings leaves just what `last` and the steps behind the repeat need; worked so
    far if so.
    """
    for fewer in range(min(_BACK, most) + 1):
        restore(worker, fresh)
        _forget_notes(worker, step)
        _as_many_as_fit(worker, step, do, most - fewer)
        before = save(worker)
        if _tail_fits(worker, last + tail, do):
            restore(worker, before)
            return True
    return False


def _last_workings(step: Repeat) -> tuple[tuple[Step, ...], ...]:
    """How the last working may go, the likeliest first: the words say how it ends and leave open where that
    begins.
    """
    ending = step.ending
    if ending is None:
        return ((),)
    body = step.steps
    if ending.kind is EndingKind.AT:
        return (body[: ending.after],)
    if ending.kind is EndingKind.FITTING:
        return tuple(body[:end] for end in range(len(body) - 1, -1, -1))
    guess = max(0, len(body) - len(ending.steps))
    if isinstance(body[-1], Chain) and isinstance(ending.steps[0], Chain):
        return (body[:guess] + ending.steps, ending.steps)
    starts = tuple(dict.fromkeys((0, guess, *range(1, len(body)))))
    plain = [start for start in starts if not _doubles_chain(body, start, ending.steps)]
    # What the last working no longer works it may still skip, so that the row comes out.
    skipping = [start for start in plain if start and _skips(body[start:])]
    doubling = [start for start in starts if start not in plain]
    return (
        *(body[:start] + ending.steps for start in plain),
        *(body[:start] + _skips(body[start:]) + ending.steps for start in skipping),
        *(body[:start] + ending.steps for start in doubling),
    )


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
    return clean and (worker.spaced or worker.left or worker.remaining() == 0)


def _as_many_as_fit(worker: Worker, step: Repeat, do: Doer, limit: int | None) -> int:
    start, made = worker.position, worker.out.made
    wanted = _wanted(worker, step.steps)
    turns = _Turns(worker, step.steps, do)
    most = 1 << 40 if limit is None else limit
    while turns.done < most and not _end_reached(worker, wanted):
        worker.tick(step.span)
        before = worker.position
        try:
            turns.once()
        except RanOut:
            break
        if worker.position == before:
            raise Unknown(step.span, why="a repeat that takes no stitches has no end")
        turns.leap(most)
    _note(worker, step, turns, start, made)
    return turns.done


def _cut_short(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """The last working where the join stands for its last stitch: its steps are worked as far as the row has
    places.
    """
    if not worker.remaining() and not _chains_first(step):
        return
    joins = any(isinstance(s, Join) and s.place is not None for s in tail)
    if worker.flat or not (joins or not tail):
        return
    for end in range(len(step.steps) - 1, 0, -1):
        if not isinstance(step.steps[end], Work | Group) or not joins:
            continue
        saved = save(worker)
        try:
            do(worker, step.steps[:end])
        except (RanOut, NotFound):
            restore(worker, saved)
            continue
        if worker.remaining() == 0 and end == len(step.steps) - 1:
            return
        restore(worker, saved)
        return


def _chains_first(step: Repeat) -> bool:
    return isinstance(step.steps[0], Chain) and isinstance(step.steps[-1], Work | Group)


def do_each(worker: Worker, step: Work, tail: tuple[Step, ...], do: Doer) -> None:
    """ "sc in each st across, 2 sc in last st": every stitch but those that the steps behind need."""
    assert step.place is not None
    one = Work(step.stitch, step.each, replace(step.place, which=Which.NEXT), span=step.span)
    do_repeat(worker, Repeat((one,), Extent.END, span=step.span), tail, do)
