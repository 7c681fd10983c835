"""Where the mark of a "repeat from *" very likely stands that a row misses.

The row itself stays wrong; it is only worked provisionally, and nothing is proved by it.
"""

from __future__ import annotations

from collections.abc import Iterator
from math import gcd

from msgspec.structs import replace

from convert.document.records import Row, works
from convert.document.resolving import resolved_counts
from convert.document.steps import Repeat, Step, Verbatim
from convert.document.walking import each
from convert.fabric.counts import agrees, tallies
from convert.fabric.parts.run import Run
from convert.fabric.rows.jobs import Edge, Outcome
from convert.fabric.rows.one_row import tried

_MOST = 40
"""Of so many places for a mark the right one is looked for."""


def marked_to_fit(run: Run, row: Row, before: Edge) -> Row | None:
    """The row with its mark in the one place from which the repeat comes out on the edge `before`; where there are
    several, in the one of them that divides a round into equal parts, and on which the next row comes out too. None
    where that is not told either.
    """
    if before.strip is None or before.fresh:
        return None
    if id(row) not in run.memo.marked:
        run.memo.marked[id(row)] = tuple(replace(row, steps=steps) for steps in _each_marked(row.steps))
    tries = run.memo.marked[id(row)]
    worked = [(one, _on(run, one, before)) for one in tries] if len(tries) <= _MOST else []
    fitting = [(one, outcome) for one, outcome in worked if _comes_out(run, one, outcome)]
    fitting = [(one, outcome) for one, outcome in fitting if _in_equal_parts(outcome)] or fitting
    following = _next_row(run, row) if len(fitting) > 1 else None
    if following is not None:
        fitting = [
            (one, outcome) for one, outcome in fitting if _comes_out(run, following, _on(run, following, outcome.edge))
        ]
    return fitting[0][0] if len(fitting) == 1 else None


def _in_equal_parts(outcome: Outcome) -> bool:
    """Whether a round is made of some equal parts: of each kind of stitch, space and group it has as many times so
    many. Whatever goes around is, unless it is cut short where nobody meant it to be.
    """
    made = outcome.made
    return made is not None and not outcome.edge.flat and gcd(*(tally.number for tally in tallies(made))) > 1


def _each_marked(steps: tuple[Step, ...]) -> Iterator[tuple[Step, ...]]:
    """The steps with the first repeat that misses its mark begun at each step in front of it, the nearest first."""
    for index, step in enumerate(steps):
        if isinstance(step, Repeat) and _misses(step.steps):
            for inner in _each_marked(step.steps):
                yield (*steps[:index], replace(step, steps=inner), *steps[index + 1 :])
            return
        if isinstance(step, Verbatim) and step.said_repeat is not None:
            for begin in (at for at in range(index - 1, -1, -1) if not isinstance(steps[at], Verbatim)):
                body = replace(step.said_repeat, steps=steps[begin:index])
                yield (*steps[:begin], body, *steps[index + 1 :])
            return


def _misses(steps: tuple[Step, ...]) -> bool:
    return any(step.said_repeat is not None for step in each(steps, Verbatim))


def _on(run: Run, row: Row, edge: Edge) -> Outcome:
    """What the row would come to on this edge."""
    own, run.edge = run.edge, edge
    outcome = tried(run, row)
    run.edge = own
    return outcome


def _comes_out(run: Run, row: Row, outcome: Outcome) -> bool:
    """Whether the row was worked on its edge without a fault, and makes what it says."""
    made = outcome.made
    if made is None or outcome.faults or outcome.why:
        return False
    return all(agrees(made, item, run.size) is not False for item in resolved_counts(row.stated, run.size, run.values))


def _next_row(run: Run, row: Row) -> Row | None:
    """The row behind this one in the size in work."""
    rows = [one for one in run.part.rows if works(one, run.document, run.size)]
    at = next((index for index, one in enumerate(rows) if one is row), len(rows))
    return rows[at + 1] if at + 1 < len(rows) else None
