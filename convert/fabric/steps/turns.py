"""Works the body of a repeat again and again.

A body that comes back to the same place of the base's own repeat is worked once and counted on.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct

from convert.document.steps import (
    Repeat,
    Step,
)
from convert.errors import LimitExceeded
from convert.fabric.cells import Loop, Run, flattened
from convert.fabric.faults import NotFound, RanOut, Unknown
from convert.fabric.steps.worker import RepeatFact, Worker
from convert.limits import LIMITS

Doer = Callable[[Worker, tuple[Step, ...]], None]
"""Works steps in order; handed in, since steps hold repeats and repeats hold steps."""


class Saved(Struct, frozen=True):
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
    colour: str
    gap_used: int
    skipped: tuple[int, int]
    gone_back: int
    beyond: bool
    untold: bool


def save(worker: Worker) -> Saved:
    """The state to come back to."""
    w = worker
    return Saved(
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
        w.out.colour,
        w.gap_used,
        w.skipped,
        w.gone_back,
        w.beyond,
        w.untold,
    )


def restore(worker: Worker, saved: Saved) -> None:
    """Takes back everything since `save`."""
    worker.position, worker.last, worker.pending = saved.position, saved.last, saved.pending
    worker.out.loops = list(saved.loops)  # type: ignore[arg-type]  # the loops that were there
    worker.out.barrier, worker.out.made, worker.out.colour = saved.barrier, saved.made, saved.colour
    worker.kind, worker.spaced, worker.passed = saved.kind, saved.spaced, saved.passed
    worker.chain_inside, worker.closed, worker.gap_used = saved.chain_inside, saved.closed, saved.gap_used
    worker.skipped, worker.gone_back = saved.skipped, saved.gone_back
    worker.beyond, worker.untold = saved.beyond, saved.untold
    del worker.faults[saved.faults :]


class _Seen(Struct, frozen=True):
    """Where a working began, to be known again when one begins alike."""

    turn: int
    done: int
    position: int
    last: int | None
    history: int


class Turns:
    """Works a body again and again, and skips ahead where nothing new can happen."""

    def __init__(self, worker: Worker, body: tuple[Step, ...], do: Doer) -> None:
        self.worker = worker
        self.body = body
        self.do = do
        self.seen: dict[tuple[int, int, int, int, str], _Seen] = {}
        self.done = 0
        self.begun = (0, 0, 0, "")
        self.first = False
        """The working began where nothing had been worked into yet: there "same st" takes a stitch, and later none."""
        self.history: list[Loop] = []
        self.mark = worker.out.mark()

    def once(self) -> None:
        """Works the body; raises what the steps raise, with the worker as it was before."""
        worker = self.worker
        saved = save(worker)
        self.begun = (worker.position, worker.pending, worker.chain_inside, worker.out.colour)
        self.first = worker.last is None
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
        if self.first and worker.last is not None and not worker.in_ring:
            return
        if worker.position == self.begun[0] and not self.history[-1].runs:
            self._leap_in_chains(limit)
            return
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
        key = (loop, offset, worker.pending, worker.chain_inside, worker.out.colour)
        before = self.seen.get(key)
        self.seen[key] = _Seen(turn, self.done, worker.position, worker.last, len(self.history))
        if before is None or turn <= before.turn:
            return
        turns, workings = turn - before.turn, self.done - before.done
        left = worker.base.loops[loop].times - turn - 1
        periods = min(left // turns - 1, (limit - self.done) // workings - 1)
        if periods > 0:
            self._repeat_since(before, periods, periods * (worker.position - before.position))

    def _leap_in_chains(self, limit: int) -> None:
        """A working that makes chains alone, and so goes into nothing, is like the next one."""
        worker, more = self.worker, limit - self.done
        chains = more * (worker.pending - self.begun[1])
        if worker.pending + chains > LIMITS.stitches:
            raise LimitExceeded(f"one row makes more than {LIMITS.stitches:,} chains")
        worker.pending += chains
        self.done = limit

    def _leap_in_run(self, limit: int) -> bool:
        """Inside a run of equal cells every working that takes the same number of them is alike."""
        worker = self.worker
        position, *begun = self.begun
        taken = worker.position - position
        if taken <= 0 or begun != [worker.pending, worker.chain_inside, worker.out.colour]:
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
        key = (0, 0, self.worker.pending, 0, self.worker.out.colour)
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
        worker.gap_used += distance if worker.gap_used == worker.position else 0
        worker.position += distance
        worker.skipped = (worker.skipped[0] + distance, worker.skipped[1] + distance)
        if worker.last is not None and moved:
            worker.last += distance
        self.done += workings


def note(worker: Worker, step: Repeat, turns: Turns, start: int, made: int) -> None:
    """Keeps what the repeat takes and makes, for the explanation of a count."""
    if turns.done:
        takes = (worker.position - start) // turns.done
        makes = (worker.out.made + bool(worker.pending) - made) // turns.done
        worker.repeats.append(RepeatFact(takes, makes, turns.done, step.span))
