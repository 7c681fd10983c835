"""Works earlier rows again: a number of times, up to a length, or for as many rows as are told."""

from __future__ import annotations

import re

from msgspec.structs import replace

from convert.document.records import Label, Row, RowKind
from convert.document.resolving import resolved
from convert.document.steps import Again, Until
from convert.fabric.cells import Strip
from convert.fabric.faults import TOLD_ELSEWHERE
from convert.fabric.parts.fewer_meshes import fewer_meshes, rows_fewer
from convert.fabric.parts.growing import grown, rows_to_reach
from convert.fabric.parts.pattern import pattern_row
from convert.fabric.parts.reference import rows_meant
from convert.fabric.parts.rows_again import (
    even_steps,
    in_pattern,
    says_even,
    turning_chain,
)
from convert.fabric.parts.rows_behind import rows_until
from convert.fabric.parts.run import Run, WorkedRow, rows_numbered_on
from convert.fabric.parts.same_names import on_other_stitches
from convert.fabric.parts.unshaped import is_shaped, last_turn
from convert.fabric.parts.until_left import counts_left, rows_until_left
from convert.fabric.places.place import is_workable
from convert.fabric.rows.jobs import Edge, Outcome
from convert.fabric.rows.one_row import numbers_of, record, tried, work_once
from convert.limits import LIMITS

MISSING_ROWS = "rows that are not there"


def _even(run: Run, row: Row, again: Again) -> list[tuple[int | None, Row]]:
    """The row that is worked again and again where the work goes straight on from the edge."""
    if run.edge.strip is None:
        return []
    if again.until is not None and counts_left(again.until, run.size, run.document.written) is not None:
        turn = last_turn(run.history) or [one for one in run.history[-1:] if is_shaped(one[1].steps)]
        return turn if rows_until_left(run, turn, again.until) is not None else []
    if in_pattern(again):
        found = pattern_row(run, lambda one: tried(run, one))
        return [] if found is None else [(None, found)]
    steps = even_steps(again, run.edge.strip)
    if not steps or (not says_even(again) and run.history and is_shaped(run.history[-1][1].steps)):
        return []  # "work 2 rows A and 2 rows B" behind rows that grow may mean that they grow too
    even = replace(row, label=Label(), steps=steps, stated=())
    return [(None, run.memo.even.setdefault((id(row), steps), even))]


def _grown(run: Run, row: Row, again: Again) -> list[tuple[int | None, Row]]:
    """As many rows as the line's label tells, each with more stitches between its shapings than the one before."""
    many, _ = _how_many(run, row, again, 1)
    told = bool(row.label.numbers) or row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND)
    rows: list[tuple[int | None, Row]] = []
    steps = run.history[-1][1].steps if run.history else ()
    if not told and again.reached is not None and run.edge.strip is not None:
        ways = rows_to_reach(steps, again.more, again.reached, run.edge.strip.count(is_workable))
        missing = _missing_before_next(run, row)
        many = next((way for way in ways if missing in (None, way)), 0)
        told = many > 0
    for _ in range(many if told else 0):
        steps = grown(steps, again.more)
        if not steps:
            return []
        further = replace(row, label=Label(), steps=steps, stated=())
        rows.append((None, run.memo.even.setdefault((id(row), steps), further)))
    return rows


def _with_fewer_meshes(run: Run, row: Row, again: Again) -> list[tuple[int | None, Row]]:
    """The further rows of filet, each with so many spaces fewer, until so many are left."""
    told = fewer_meshes(again)
    if told is None or run.edge.strip is None or not run.history:
        return []
    steps = rows_fewer(run.history[-1][1].steps, told, run.edge.strip)
    further = (replace(row, label=Label(), steps=one, stated=()) for one in steps)
    return [(None, run.memo.even.setdefault((id(row), one.steps), one)) for one in further]


def _missing_before_next(run: Run, row: Row) -> int | None:
    """How many rows the numbers leave out between the last row and the next that has one; None where neither tells."""
    rows = [item for item in run.part.items if isinstance(item, Row)]
    at = next((index for index, one in enumerate(rows) if one is row), len(rows))
    following = rows[at + 1].label.first if at + 1 < len(rows) else None
    last = next((number for number, _ in reversed(run.history) if number is not None), None)
    return following - last - 1 if following is not None and last is not None and following > last + 1 else None


def work_again(run: Run, row: Row, again: Again) -> None:
    """Works the rows that a line repeats, and keeps them as that line's."""
    narrowed = fewer_meshes(again) is not None
    worded = again.even or again.more != 0 or narrowed
    rows = (
        _grown(run, row, again)
        if again.more
        else _with_fewer_meshes(run, row, again)
        if narrowed
        else _even(run, row, again)
        if again.even
        else rows_meant(run.history, again, _open_period(run)) or rows_numbered_on(run, again.first, again.last)
    )
    if not rows or again.part is not None:
        run.edge = Edge(None, fresh=False)
        elsewhere = worded or not run.history or again.first < 0  # "last 4 rows" may reach into the part before
        missing = TOLD_ELSEWHERE if elsewhere else MISSING_ROWS
        unknown = Outcome(run.edge, why=missing if not rows else "rows of another part")
        run.results.append(WorkedRow(row, unknown, 0, quiet=run.tainted))
        return
    if len(rows) == 1 and not worded and rows[0][1] not in run.patterns[-1:]:
        run.patterns.append(rows[0][1])
    left = rows_until_left(run, rows, again.until) if again.until is not None and again.times is None else None
    many, open_end = (len(rows), False) if again.more or narrowed else _how_many(run, row, again, len(rows))
    many, open_end = (left, False) if left is not None else (many, open_end)
    numbers = list(numbers_of(run, row))
    outcome: Outcome | None = None
    begun = run.edge.strip
    each: list[tuple[Row, Outcome]] = []
    for index in range(many):
        meant = on_other_stitches(run, rows[index % len(rows)][1])
        outcome = work_once(run, meant, last=False)
        each.append((meant, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, meant))
        if outcome.edge.strip is None:
            break
    if open_end:
        run.open_period = len(run.history), many
    turning = turning_chain(row.steps)
    if turning is not None and outcome is not None and outcome.edge.strip is not None:
        run.edge = replace(run.edge, pending=turning, turned=True)
    ended = open_end and outcome is not None and outcome.edge.strip is not None
    if ended and outcome is not None and not (_same_width(begun, outcome) or _settles(run, rows, outcome)):
        run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    record(run, row, outcome, many, open_end=open_end, each=tuple(each))


def _open_period(run: Run) -> int:
    """How many rows the last line worked once and left open how often; 0 where it left nothing open."""
    behind, period = run.open_period
    return period if behind == len(run.history) else 0


def _same_width(begun: Strip | None, outcome: Outcome) -> bool:
    """Whether the period that was worked leaves as many places as it found, so that any number of periods will."""
    made = outcome.edge.strip
    return made is not None and begun is not None and made.length == begun.length


def _up_to_stripes(run: Run, until: Until, rows: int) -> tuple[int, bool]:
    """How many rows are left until there are so many stripes, which have so many rows in all. The rows worked so far
    are the first of them, if they are no more than one turn of the colours; else nobody tells how many of them are.
    """
    stripes = re.search(r"\d+", until.words)
    turn = rows // int(stripes[0]) if stripes is not None and int(stripes[0]) else 0
    return (min(rows - run.rows_done, LIMITS.worked_rows), False) if run.rows_done <= turn else (turn, True)


def _settles(run: Run, rows: list[tuple[int | None, Row]], outcome: Outcome) -> bool:
    """Whether one row that is worked over and over leaves as many places each further time as it did the first time."""
    return len(rows) == 1 and _same_width(outcome.made, tried(run, rows[0][1]))


def _how_many(run: Run, row: Row, again: Again, period: int) -> tuple[int, bool]:
    """How many rows are worked, and whether the number is open (a length that cannot be computed)."""
    times = resolved(again.times, run.size, run.values) if again.times is not None else None
    if isinstance(times, int) and again.until is not None:
        return _up_to_stripes(run, again.until, times)
    if isinstance(times, int):
        return min(times * period, LIMITS.worked_rows), False
    if again.until is not None or (again.times is not None and times is None):
        known = run.values.get(f"until:{again.until.words}") if again.until is not None else None
        value = known[run.size] if known is not None and run.size < len(known) else None
        last = next((number for number, _ in reversed(run.history) if number is not None), None)
        value = rows_until(again.until, last) if value is None and again.until is not None else value
        return (value, False) if value is not None else (period, True)
    labelled = len(numbers_of(run, row))
    if labelled:
        return labelled, False
    if row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND):
        many = resolved(row.label.repeat, run.size, run.values)
        return (many if isinstance(many, int) else period), False
    return period, False
