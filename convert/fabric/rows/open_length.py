"""Rows on a foundation chain whose length the maker chooses: "ch a multiple of 6 plus 2", "make a chain long enough".

Such rows hold for every length that suits them. They are worked on one, which stands for all: of a told multiple
the smallest at which they come out, as they must with one repeat more, of a length that is not told the first at which
most of them come out. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import chain

from convert.document.records import Row
from convert.document.steps import Begin, Chain, Start, Step
from convert.fabric.counts import agrees
from convert.fabric.parts.run import Run, WorkedRow

_FEWEST = 12
"""The fewest chains: room for the edges and a few repeats."""
_MULTIPLES = 6
"""So many multiples are tried where rows that need room do not fit the first."""
_COUNTED = 40
"""So many are tried where a stated count tells which is meant."""
_LENGTHS = range(24, 96)
"""The lengths that are tried where nothing tells what it is a multiple of."""
_LONGER = (128, 192, 288, 432, 648)
"""Lengths that leave room for as many as a row asks for, whose rest is cut off."""


def open_foundation(rows: Sequence[Row]) -> Begin | None:
    """The foundation chain of open length that the rows begin with."""
    first = next((row for row in rows if row.steps), None)
    return next((s for s in first.steps if _is_open(s)), None) if first is not None else None  # type: ignore[return-value]  # a Begin by the test


def _is_open(step: Step) -> bool:
    return isinstance(step, Begin) and step.start is Start.OPEN_CHAIN


def lengths(begin: Begin, *, counted: bool = False) -> Iterator[int]:
    """The lengths on which rows may be tried, in order; more of them where stated counts tell which is meant."""
    if begin.multiple == 1:
        yield from _LENGTHS
        yield from _LONGER
        return
    plus = begin.number if isinstance(begin.number, int) else 0
    fewest = max(1, -(-(_FEWEST - plus) // begin.multiple))
    yield from (
        begin.multiple * times + plus for times in range(fewest, fewest + (_COUNTED if counted else _MULTIPLES))
    )


def with_length(steps: tuple[Step, ...], chains: int) -> tuple[Step, ...]:
    """The steps with a chain of this length in place of an open one; the same steps where there is none."""
    if not any(map(_is_open, steps)):
        return steps
    return tuple(Chain(chains, span=s.span) if _is_open(s) else s for s in steps)


def opens(row: Row) -> bool:
    """Whether the row makes a foundation chain of open length."""
    return any(map(_is_open, row.steps))


def on_open_foundation(begin: Begin, worked: Callable[..., Run], *, counted: bool) -> Run:
    """The rows on the length that suits them; `counted` tells whether any row has a stated count.

    On a told multiple they are wrong where they come out on none of them, unless stated counts stand among them: those
    are of a length that nobody tells.
    """
    told = begin.multiple > 1
    run = _best(worked(chains, trusted=not told) for chains in lengths(begin, counted=counted))
    if not told:
        return run
    if _come_out(run) < len(run.results):
        return worked(run.chains, trusted=True) if counted else run
    if counted:
        return run
    wider = worked(run.chains + begin.multiple)
    sure = _come_out(wider) == len(wider.results)
    return worked(run.chains, trusted=not sure)


def _best(runs: Iterator[Run]) -> Run:
    """The first of the lengths at which the most rows come out; none is tried further once a row stays unknown."""
    best, most = next(runs), -1
    for run in chain((best,), runs):
        many = _come_out(run)
        if many > most:
            best, most = run, many
        if many == len(run.results) or _stays_unknown(run.results[many]):
            break
    return best


def _come_out(run: Run) -> int:
    """How many of the rows come out one after the other, from the first on."""
    return next((at for at, worked in enumerate(run.results) if not _comes_out(worked, run.size)), len(run.results))


def _comes_out(worked: WorkedRow, size: int) -> bool:
    """Whether the row is known to fit what the last one left; one counted by itself has no base."""
    outcome = worked.outcome
    if outcome is None:
        return True
    made = outcome.made
    if made is None or outcome.base is None or outcome.faults or worked.unknown_after:
        return False
    return all(agrees(made, item, size) is not False for item in worked.stated)


def _stays_unknown(worked: WorkedRow) -> bool:
    """Whether the row does not come out for what it says, which is the same on every length."""
    outcome = worked.outcome
    return outcome is not None and (outcome.unread or bool(outcome.why))
