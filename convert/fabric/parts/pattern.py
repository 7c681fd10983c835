"""Rows worked even in a pattern: the row that was repeated before, with as many of its repeats as the edge takes.

Common practice, no source. Only a pattern of one row can be told so: where several rows make it, nobody says which of
them comes next.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.records import Label, Row
from convert.document.steps import Extent, Group, Repeat, Step, What, Work
from convert.fabric.cells import Strip
from convert.fabric.parts.run import Run
from convert.fabric.rows.jobs import Edge, Outcome

_MOST = 2
"""So many times the repeats of the row are tried, before it is taken not to fit."""
Works = Callable[[Row], Outcome]


def pattern_row(run: Run, works: Works) -> Row | None:
    """The row of the pattern that fits the edge in one way only, the latest such; `works` works a row on the edge.

    On a row that brings the pattern back its loops may have another length than those that the pattern names.
    """
    exact = next((found for row in reversed(run.patterns) if (found := _fitted(run, row, works)) is not None), None)
    if exact is not None:
        return exact
    loose = (_in_any_loop(run, row) for row in reversed(run.patterns))
    groups = _groups(run.edge.strip)

    def works_even(row: Row) -> Outcome:
        outcome = works(row)
        return outcome if _groups(outcome.made) == groups else Outcome(Edge(None))

    fitted = (_fitted(run, row, works_even) for row in loose if row is not None)
    return next((found for found in fitted if found is not None), None)


def _groups(strip: Strip | None) -> int:
    """How many groups a row has."""
    return strip.count(lambda cell: bool(cell.unit) and cell.part == 0) if strip is not None else 0


def _fitted(run: Run, row: Row, works: Works) -> Row | None:
    """The row with as many of its repeats as the edge takes; None where that is none, or several numbers will do."""
    at = _counted_repeat(row.steps)
    if at is None:
        around = any(isinstance(s, Repeat) and s.extent is Extent.END for s in row.steps)
        return row if around and _fits(works(row)) else None
    repeat = row.steps[at]
    times = repeat.times if isinstance(repeat, Repeat) and isinstance(repeat.times, int) else 0
    fitting = [each for each in (_with(run, row, at, k) for k in range(1, times * _MOST + 1)) if _fits(works(each))]
    return fitting[0] if len(fitting) == 1 else None


def _in_any_loop(run: Run, row: Row) -> Row | None:
    """The row that goes into loops of any length where it names one; None where it names none."""
    if (id(row), 0) not in run.memo.fits:
        steps = _of_any_length(row.steps)
        run.memo.fits[id(row), 0] = row if steps == row.steps else replace(row, steps=steps)
    loose = run.memo.fits[id(row), 0]
    return loose if loose is not row else None


def _of_any_length(steps: tuple[Step, ...], *, inside: bool = False) -> tuple[Step, ...]:
    """The steps with loops of any length in the repeat; those at the ends of the row stay as they are told."""
    out: list[Step] = []
    for step in steps:
        if isinstance(step, Repeat):
            out.append(replace(step, steps=_of_any_length(step.steps, inside=True)))
        elif inside and isinstance(step, Work | Group) and step.place is not None and step.place.what is What.SPACE:
            out.append(replace(step, place=replace(step.place, chains=None)))
        else:
            out.append(step)
    return tuple(out)


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
