"""Rows worked even in a pattern: the row that was repeated before, with as many of its repeats as the edge takes.

Common practice, no source. Only a pattern of one row can be told so: where several rows make it, nobody says which of
them comes next.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.records import Label, Row
from convert.document.steps import Extent, Repeat, Step
from convert.fabric.jobs import Outcome
from convert.fabric.run import Run

_MOST = 2
"""So many times the repeats of the row are tried, before it is taken not to fit."""
Works = Callable[[Row], Outcome]


def pattern_row(run: Run, works: Works) -> Row | None:
    """The row of the pattern that fits the edge in one way only, the latest such; `works` works a row on the edge."""
    for row in reversed(run.patterns):
        at = _counted_repeat(row.steps)
        if at is None:
            if any(isinstance(s, Repeat) and s.extent is Extent.END for s in row.steps) and _fits(works(row)):
                return row
            continue
        repeat = row.steps[at]
        times = repeat.times if isinstance(repeat, Repeat) and isinstance(repeat.times, int) else 0
        fitting = [each for each in (_with(run, row, at, k) for k in range(1, times * _MOST + 1)) if _fits(works(each))]
        if len(fitting) == 1:
            return fitting[0]
    return None


def row_that_fits(run: Run, row: Row, works: Works) -> Row:
    """The row of a piece that is worked narrower or wider, with as many of its repeats as the edge has places for; the
    row as it is where that comes out, or nothing tells how many there are.
    """
    at = _counted_repeat(row.steps)
    if at is None or not works(row).faults:
        return row
    repeat = row.steps[at]
    most = _MOST * repeat.times if isinstance(repeat, Repeat) and isinstance(repeat.times, int) else 0
    tries = [_with(run, row, at, k) for k in range(1, most + 1)]
    fitting = [each for each in tries if (done := works(each)).made is not None and not done.faults]
    return fitting[-1] if fitting and fitting[-1] is not tries[-1] else row


def _counted_repeat(steps: tuple[Step, ...]) -> int | None:
    """The index of the one repeat that is told by its number."""
    found = [i for i, s in enumerate(steps) if isinstance(s, Repeat) and s.extent is Extent.TIMES and s.ending is None]
    return found[0] if len(found) == 1 else None


def _with(run: Run, row: Row, at: int, times: int) -> Row:
    known = run.memo.fits.get((id(row), times))
    if known is None:
        repeat = row.steps[at]
        assert isinstance(repeat, Repeat)
        one = replace(repeat, times=times, said_doubtful=False)
        known = replace(row, label=Label(), steps=(*row.steps[:at], one, *row.steps[at + 1 :]), stated=())
        run.memo.fits[id(row), times] = known
    return known


def _fits(outcome: Outcome) -> bool:
    return outcome.made is not None and not outcome.faults and not outcome.edge.untested
