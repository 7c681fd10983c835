"""Works a part row by row, in one size: repeats of earlier rows, ranges of rows, and what happens after a mistake."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import number_for
from convert.document.records import CountItem, CountKind, Document, Label, Part, Row, RowKind, Worked, works
from convert.document.resolving import Values, drops_out, resolved, resolved_counts, varies
from convert.document.steps import Again, Begin, ChangeColour, FastenOff, Join, Step, Turn, Verbatim
from convert.errors import LimitExceeded
from convert.fabric.cells import Cell, Loop, Strip
from convert.fabric.counts import agrees
from convert.fabric.definitions import Definitions
from convert.fabric.earlier import edge_left, edges_left, on_that_round, round_named
from convert.fabric.growing import grown
from convert.fabric.held import chain_kind, told
from convert.fabric.jobs import Edge, Outcome, Reading, RowJob
from convert.fabric.onward import Left, begins_on_edge, begins_on_free, joined_anew, rows_untold
from convert.fabric.order import Line, in_order
from convert.fabric.pattern import pattern_row
from convert.fabric.recovery import likely_meant
from convert.fabric.reference import part_named, rows_meant, rows_of
from convert.fabric.row_parts import starts_ring
from convert.fabric.rows import work_row
from convert.fabric.rows_again import (
    again_of,
    ends_spiral,
    even_steps,
    in_pattern,
    only_inert,
    stands_for_rows,
    turning_chain,
    work_and_again,
)
from convert.fabric.rows_behind import own_row, rows_until
from convert.fabric.run import Memo, Run, WorkedRow
from convert.fabric.varied import rows_told
from convert.limits import LIMITS
from convert.trade.stitches import stitches

MISSING_ROWS = "rows that are not there"
CHANGED_ROWS = "earlier rows with changes"
ANOTHER_EDGE = "an edge that is not told"
OTHERWISE = "work behind repeated rows that does not come out"
WORKED_ON = "work told elsewhere"


def work_part(
    document: Document,
    part: Part,
    size: int,
    values: Values,
    definitions: Definitions,
    memo: Memo,
    spoilt: frozenset[int] = frozenset(),
    before: Left | None = None,
) -> tuple[tuple[WorkedRow, ...], Left | None]:
    """Every row of the part that this size works, in order, and the edge that a part behind it may go on from.

    `spoilt` rows (by identity) are taken as unknown. `before` is what the part before left.
    """
    run = Run(document, part, size, values, definitions, document.beginning_chains, memo, spoilt)
    rows = [row for row in part.rows if works(row, document, size)]
    later = part is not document.parts[0]
    untold = rows_untold(part.items)
    for index, line in enumerate(in_order(rows, size)):
        if index == 0 and later and begins_on_edge(line.row):
            _work_first(run, line, before if before is not None and before.goes_on_in(line.row) else None)
        else:
            if id(line.row) in untold and not line.again:
                run.edge, run.other = Edge(None, fresh=False, flat=run.edge.flat), None
            _work_on_either(run, line)
    memo.histories[part.id, size] = run.history
    memo.edges[part.id, size] = edges_left(run)
    left = Left(run.edge, rows[-1]) if rows and part.make == 1 and not run.edge.fresh else None
    return tuple(run.results), left


def _work_first(run: Run, line: Line, before: Left | None) -> None:
    """The first row of a part, where it has no beginning of its own: on the edge that the part before left, if it comes
    out there. Where it does not, nobody knows which edge is meant, and the row is unknown rather than wrong. Yarn that
    was not cut is sure to go on where it hangs, so that a wrong count is one.
    """
    if before is not None:
        run.edge = before.edge
        _work_line(run, line)
        if not _stopped(run, counting=before.cut):
            return
        run.results.clear()
        run.history.clear()
    run.edge, run.tainted, run.rows_done, run.other = Edge(), False, 0, None
    _work_line(run, line)
    if not _stopped(run):
        return
    last = run.results[-1]
    run.edge, run.tainted, run.other = _from_stated(line.row, last.stated, None) or Edge(None, fresh=False), False, None
    reason = last.outcome if last.outcome is not None and last.outcome.why else Outcome(run.edge, why=ANOTHER_EDGE)
    run.results[-1] = replace(last, outcome=reason, unknown_after=run.edge.strip is None)


def _stopped(run: Run, *, counting: bool = True) -> bool:
    """Whether the line worked last did not come out, its stated count included if `counting`."""
    outcome = run.results[-1].outcome
    if outcome is None:
        return False
    made = outcome.made
    if made is None or outcome.faults:
        return True
    return counting and any(agrees(made, item, run.size) is False for item in run.results[-1].stated)


def _work_on_either(run: Run, line: Line) -> None:
    """Works a line on what the last one made or, after a wrong count, on what it said, whichever the line fits."""
    other = run.other
    run.other = None
    if other is None:
        _work_line(run, line)
        return
    before = (run.edge, run.tainted, run.rows_done, len(run.results), len(run.history))
    _work_line(run, line)
    if not run.results[-1].quiet:
        return
    first = (run.edge, run.tainted, run.other, run.results[before[3] :])
    del run.results[before[3] :], run.history[before[4] :]
    run.edge, run.tainted, run.rows_done, run.other = other, before[1], before[2], None
    _work_line(run, line)
    if run.results[-1].quiet:
        run.edge, run.tainted, run.other = first[:3]
        run.results[before[3] :] = first[3]


def _work_line(run: Run, line: Line) -> None:
    """One line of the part: a row, a range of rows, or earlier rows again."""
    row = line.row
    if only_inert(row):
        run.results.append(WorkedRow(row, None, 0))
        return
    if id(row) in run.spoilt:
        _pass_over(run, row)
        return
    parted = _parted(run, row)
    if parted is not None:
        _work_both(run, row, *parted)
        return
    again = again_of(row)
    if again is not None:
        _work_again(run, row, again)
        return
    if _work_own(run, line) or _work_told(run, row):
        return
    label = row.label
    numbers = line.numbers
    times = max(1, len(numbers))
    if label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND):
        many = resolved(label.repeat, run.size, run.values)
        times = many if isinstance(many, int) else 0
    if times == 0:
        run.results.append(WorkedRow(row, None, 0))
        return
    outcome: Outcome | None = None
    before = run.edge
    each: list[tuple[Row, Outcome]] = []
    for index in range(times):
        outcome = _work_once(run, row, last=index == times - 1 and not line.again)
        each.append((row, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, row))
        if outcome.edge.strip is None:
            break
    _record(run, row, outcome, times, each=tuple(each), again=line.again)
    if outcome is not None and outcome.faults and times == 1:
        _go_on_from(run, row, likely_meant(row, outcome), before)


def _work_told(run: Run, row: Row) -> bool:
    """Works the rows that a line tells by others, of another part or with changes; whether it does."""
    told = _told_by_another(run, row)
    changed = () if told else rows_told(run, row)
    if told or changed:
        _work_rows(run, row, [*told, *changed], sure=bool(told))
    return bool(told or changed)


def _numbers(run: Run, row: Row) -> tuple[int, ...]:
    """The numbers of the row in the size in work."""
    return row.label.in_size(run.size).numbers


def _told_by_another(run: Run, row: Row) -> list[tuple[int | None, Row]]:
    """The rows of an earlier part that the line refers to, if it is of nothing else and names the part."""
    found = [step for step in row.steps if isinstance(step, Again) and step.words and step.first > 0]
    if len(found) != 1:
        return []
    rest = [step for step in row.steps if not isinstance(step, Again | Turn | FastenOff | ChangeColour | Join)]
    if any(not (isinstance(step, Verbatim) and step.inert) for step in rest):
        return []
    again = found[0]
    part = part_named(again.words, [part for part in run.document.parts if part is not run.part])
    history = run.memo.histories.get((part.id, run.size)) if part is not None else None
    if history is None or again.until is not None or again.times is not None:
        return []
    return rows_of(history, again.first, again.last)


def _work_rows(run: Run, row: Row, rows: list[tuple[int | None, Row]], *, sure: bool = True) -> None:
    """Rows told by others, worked here. Where it is not `sure` which, one that does not come out is unknown."""
    numbers: list[int | None] = [*_numbers(run, row)] or [number for number, _ in rows]
    outcome: Outcome | None = None
    each: list[tuple[Row, Outcome]] = []
    for index, (_, meant) in enumerate(rows):
        outcome = _work_once(run, meant, last=False)
        if outcome.faults and not sure:
            run.edge = Edge(None, fresh=False, flat=run.edge.flat)
            outcome = Outcome(run.edge, why=CHANGED_ROWS, base=outcome.base)
        each.append((meant, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, meant))
        if outcome.edge.strip is None:
            break
    _record(run, row, outcome, len(rows), each=tuple(each))


def _pass_over(run: Run, row: Row) -> None:
    """A row with an error in its wording: what it makes is unknown."""
    run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    label = row.label.in_size(run.size)
    run.rows_done += max(1, len(label.numbers))
    run.history.append((label.first, row))
    _record(run, row, Outcome(run.edge, unread=True), 1)


def _go_on_from(run: Run, row: Row, meant: Row | None, before: Edge) -> None:
    """Behind a wrong row: on what it was very likely meant to make, if that comes out. Nothing is proved by it."""
    if meant is None or before.strip is None or run.edge.strip is not None:
        return
    meant = run.memo.meant.setdefault(id(row), meant)
    run.edge = before
    outcome = _work_once(run, meant, last=True)
    run.rows_done -= 1
    stated = resolved_counts(row.stated, run.size, run.values)
    made = outcome.made
    if made is None or outcome.faults or any(agrees(made, item, run.size) is False for item in stated):
        run.edge = Edge(None, fresh=False, flat=before.flat)
    else:
        run.edge = replace(run.edge, untested=True)


def _work_own(run: Run, line: Line) -> bool:
    """The row of a line that points to further ones elsewhere, on which the rows after it stand; whether it does."""
    if id(line.row) not in run.memo.own:
        run.memo.own[id(line.row)] = own_row(line.row)
    own = run.memo.own[id(line.row)]
    if own is None:
        return False
    _work_line(run, line._replace(row=own))
    last = run.results[-1]
    known = last.outcome is not None and last.outcome.made is not None and not last.outcome.faults
    run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    outcome = replace(last.outcome, why=WORKED_ON) if known and last.outcome is not None else last.outcome
    run.results[-1] = replace(last, row=line.row, outcome=outcome, unknown_after=True)
    return True


def _work_both(run: Run, row: Row, first: Row, again: Row) -> None:
    """A row and the earlier rows that its last sentence repeats, as one line of the result."""
    _work_line(run, Line(first, _numbers(run, first)))
    done = run.results.pop()
    if stands_for_rows(again.steps[0]) or work_and_again(again) is not None:
        _work_line(run, Line(again, ()))
    else:
        _work_end(run, again)
    last = run.results[-1]
    both = replace(last, row=row, worked=done.worked + last.worked, quiet=done.quiet, each=(*done.each, *last.each))
    told = done.outcome is not None and (bool(done.outcome.faults) or done.outcome.made is None or bool(first.stated))
    failed = last.outcome is None or bool(last.outcome.faults) or last.outcome.made is None
    if told and not (first.stated and failed and done.outcome is not None and not done.outcome.faults):
        both = replace(both, outcome=done.outcome, stated=done.stated)
    run.results[-1] = both


def _work_end(run: Run, row: Row) -> None:
    """What a line tells behind rows worked again: how a spiral comes to its end, or one more row. Where that does not
    come out, it may be meant otherwise: it is unknown and not wrong.
    """
    before = run.edge
    _work_line(run, Line(row, ()))
    last = run.results[-1]
    if last.outcome is None or not last.outcome.faults:
        return
    spiral = before.strip if before.flat is False and not before.joined else None
    ends = spiral is not None and ends_spiral(row.steps, spiral)
    run.edge = before if ends else Edge(None, fresh=False, flat=before.flat)
    outcome = Outcome(run.edge, base=last.outcome.base, reading=last.outcome.reading, why="" if ends else OTHERWISE)
    run.results[-1] = replace(last, outcome=outcome, quiet=False, unknown_after=run.edge.strip is None)


def _parted(run: Run, row: Row) -> tuple[Row, Row] | None:
    """A line taken apart, the same for every size: rows are known by their identity."""
    if id(row) not in run.memo.parted:
        run.memo.parted[id(row)] = work_and_again(row)
    return run.memo.parted[id(row)]


def _even(run: Run, row: Row, again: Again) -> list[tuple[int | None, Row]]:
    """The row that is worked again and again where the work goes straight on from the edge."""
    if run.edge.strip is None:
        return []
    if in_pattern(again):
        found = pattern_row(run, lambda one: _tried(run, one))
        return [] if found is None else [(None, found)]
    steps = even_steps(again, run.edge.strip)
    if not steps:
        return []
    even = replace(row, label=Label(), steps=steps, stated=())
    return [(None, run.memo.even.setdefault((id(row), steps), even))]


def _grown(run: Run, row: Row, again: Again) -> list[tuple[int | None, Row]]:
    """As many rows as the line's label tells, each with more stitches between its shapings than the one before."""
    many, _ = _how_many(run, row, again, 1)
    told = bool(row.label.numbers) or row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND)
    rows: list[tuple[int | None, Row]] = []
    steps = run.history[-1][1].steps if run.history else ()
    for _ in range(many if told else 0):
        steps = grown(steps, again.more)
        if not steps:
            return []
        further = replace(row, label=Label(), steps=steps, stated=())
        rows.append((None, run.memo.even.setdefault((id(row), steps), further)))
    return rows


def _work_again(run: Run, row: Row, again: Again) -> None:
    worded = again.even or again.more != 0
    rows = (
        _grown(run, row, again)
        if again.more
        else _even(run, row, again)
        if again.even
        else rows_meant(run.history, again)
    )
    if not rows or again.part is not None:
        run.edge = Edge(None, fresh=False)
        missing = WORKED_ON if worded else MISSING_ROWS
        unknown = Outcome(run.edge, why=missing if not rows else "rows of another part")
        run.results.append(WorkedRow(row, unknown, 0, quiet=run.tainted))
        return
    if len(rows) == 1 and not worded and rows[0][1] not in run.patterns[-1:]:
        run.patterns.append(rows[0][1])
    many, open_end = _how_many(run, row, again, len(rows))
    numbers = list(_numbers(run, row))
    outcome: Outcome | None = None
    begun = run.edge.strip
    each: list[tuple[Row, Outcome]] = []
    for index in range(many):
        _, meant = rows[index % len(rows)]
        outcome = _work_once(run, meant, last=False)
        each.append((meant, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, meant))
        if outcome.edge.strip is None:
            break
    turning = turning_chain(row.steps)
    if turning is not None and outcome is not None and outcome.edge.strip is not None:
        run.edge = replace(run.edge, pending=turning, turned=True)
    if open_end and outcome is not None and outcome.edge.strip is not None and not _same_width(begun, outcome):
        run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    _record(run, row, outcome, many, open_end=open_end, each=tuple(each))


def _same_width(begun: Strip | None, outcome: Outcome) -> bool:
    """Whether the period that was worked leaves as many places as it found, so that any number of periods will."""
    made = outcome.edge.strip
    return made is not None and begun is not None and made.length == begun.length


def _how_many(run: Run, row: Row, again: Again, period: int) -> tuple[int, bool]:
    """How many rows are worked, and whether the number is open (a length that cannot be computed)."""
    times = resolved(again.times, run.size, run.values) if again.times is not None else None
    if isinstance(times, int):
        return min(times * period, LIMITS.worked_rows), False
    if again.until is not None or (again.times is not None and times is None):
        known = run.values.get(f"until:{again.until.words}") if again.until is not None else None
        value = known[run.size] if known is not None and run.size < len(known) else None
        last = next((number for number, _ in reversed(run.history) if number is not None), None)
        value = rows_until(again.until, last) if value is None and again.until is not None else value
        return (value, False) if value is not None else (period, True)
    labelled = len(_numbers(run, row))
    if labelled:
        return labelled, False
    if row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND):
        many = resolved(row.label.repeat, run.size, run.values)
        return (many if isinstance(many, int) else period), False
    return period, False


def _flat(run: Run, row: Row) -> bool:
    """Whether the row is worked flat: by its label, unless the part says otherwise or a ring begins it."""
    if run.part.worked in (Worked.ROUNDS, Worked.SPIRAL):
        return False
    said = row.label.kind.is_round
    if starts_ring(row.steps) or run.edge.ring:
        return said is False and not any(isinstance(s, Join) for s in row.steps)
    if said is not None and not (said is False and run.edge.joined and any(isinstance(s, Join) for s in row.steps)):
        return not said
    if run.edge.flat is not None and not run.edge.fresh:
        return run.edge.flat
    return not any(isinstance(s, Join) for s in row.steps)


def _tried(run: Run, row: Row) -> Outcome:
    """What the row would come to on the edge; the part stays as it is."""
    before = run.edge, dict(run.held), run.rows_done
    outcome = _work_once(run, row, last=False)
    run.edge, run.held, run.rows_done = before
    return outcome


def _work_once(run: Run, row: Row, *, last: bool) -> Outcome:
    run.rows_done += 1
    if run.rows_done > LIMITS.worked_rows:
        raise LimitExceeded(f"more than {LIMITS.worked_rows:,} rows would be worked", row.span)
    steps = row.steps
    earlier = round_named(steps)
    if earlier is not None:
        run.edge, steps = edge_left(run, earlier), on_that_round(steps)
    if run.free is not None and begins_on_free(steps):
        run.edge, run.free = Edge(run.free, fresh=False, flat=True), None
    flat = _flat(run, row)
    if _varies(run, row):
        steps = resolved(drops_out(steps, run.size), run.size, run.values)
    stated = resolved_counts(row.stated, run.size, run.values) if last else ()
    if run.history and joined_anew(row, run.history[-1][1]):
        run.edge = replace(run.edge, untested=True)
    if _one_for_each(stated, len(_numbers(run, row))):
        stated = stated[-1:]
    kind = chain_kind(steps, run.edge)
    held = run.held.get(kind) if kind is not None else None
    key = (id(row), steps if steps is not row.steps else None, stated, flat, run.edge, run.edge.pending, held)
    outcome = run.memo.outcomes.get(key)
    labelled = row.label.kind is not RowKind.UNLABELLED
    job = RowJob(steps, stated, flat, run.conventions, run.definitions, held=held, labelled=labelled)
    if outcome is None:
        outcome = work_row(job, run.edge)
        run.memo.outcomes[key] = outcome
    if kind is not None:
        made = outcome.made
        agreed = made is not None and bool(stated) and all(agrees(made, item, run.size) for item in stated)
        counts = told(job, run.edge, outcome, agreed=agreed)
        run.held.update({kind: counts} if counts is not None else {})
    run.edge = outcome.edge
    run.free = outcome.free or run.free
    if any(isinstance(s, FastenOff) for s in steps):
        run.edge = replace(run.edge, turned=False, pending=None)
    return outcome


def _varies(run: Run, row: Row) -> bool:
    """Whether the row's numbers differ by size; asked once for each row."""
    known = run.memo.varying.get(id(row))
    if known is None:
        known = run.memo.varying[id(row)] = varies(row.steps)
    return known


def _one_for_each(stated: tuple[CountItem, ...], rows: int) -> bool:
    """Whether the counts are those of every row of the line: "(43, 47, 51)" behind three rows."""
    return 1 < rows == len(stated) and all(item.kind is CountKind.TOTAL for item in stated)


def _each_agrees(run: Run, stated: tuple[CountItem, ...], each: tuple[tuple[Row, Outcome], ...]) -> bool:
    """Whether every row but the last made what was stated of it, as far as is known."""
    made = [outcome.made for _, outcome in each]
    return all(
        strip is None or agrees(strip, item, run.size) is not False
        for strip, item in zip(made[:-1], stated, strict=False)
    )


def _record(
    run: Run,
    row: Row,
    outcome: Outcome | None,
    times: int,
    *,
    open_end: bool = False,
    each: tuple[tuple[Row, Outcome], ...] = (),
    again: bool = False,
) -> None:
    """Notes the row, and decides on what the next one is worked after a mistake or an unknown.

    The stated count of a row that is worked `again` was that of the first time.
    """
    stated = () if again else resolved_counts(row.stated, run.size, run.values)
    if _one_for_each(stated, times) and _each_agrees(run, stated, each):
        stated = stated[-1:]
    wrong = outcome is not None and bool(outcome.faults)
    made = outcome.edge.strip if outcome is not None else None
    mismatch = made is not None and any(agrees(made, item, run.size) is False for item in stated)
    quiet = run.tainted and (wrong or mismatch or made is None)
    if wrong or mismatch:
        run.tainted = True
    elif made is not None and outcome is not None and outcome.edge.strip is not None:
        run.tainted = False
    unknown = run.edge.strip is None
    if run.edge.untested and made is not None and stated and all(agrees(made, item, run.size) for item in stated):
        run.edge = replace(run.edge, untested=False)
    run.results.append(WorkedRow(row, outcome, times, stated, quiet, open_end, unknown, run.rows_done, each))
    taken = _from_stated(row, stated, outcome) if stated and (wrong or mismatch or run.edge.strip is None) else None
    if taken is not None:
        if run.edge.strip is not None and mismatch and not wrong:
            run.other = taken
        else:
            run.edge = taken
    elif wrong and made is not None:
        run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    if any(isinstance(s, Begin) for s in row.steps) and not (wrong or mismatch) and made is not None:
        run.tainted = False


def _from_stated(row: Row, stated: tuple[CountItem, ...], outcome: Outcome | None) -> Edge | None:
    """The row as its stated count describes it, if that is one kind of stitch: on it the work can go on."""
    if len(stated) != 1:
        return None
    item = stated[0]
    number = number_for(item.number, 0)
    if number is None or number <= 0 or item.kind not in (CountKind.STITCH, CountKind.TOTAL):
        return None
    kind = item.of if item.kind is CountKind.STITCH and item.of else _only_kind(outcome)
    if kind is None or (kind in stitches() and stitches()[kind].unit):
        return None
    flat = outcome.edge.flat if outcome is not None else None
    return Edge(
        Strip.of((Loop(((Cell(kind), 1),), number),)),
        fresh=False,
        flat=flat,
        joined=any(isinstance(s, Join) for s in row.steps),
        turned=_ends_turned(row.steps),
        pending=outcome.edge.pending if outcome is not None else None,
    )


def _ends_turned(steps: tuple[Step, ...]) -> bool:
    return bool(steps) and (isinstance(steps[-1], Turn) or (len(steps) > 1 and isinstance(steps[-2], Turn)))


def _only_kind(outcome: Outcome | None) -> str | None:
    made = outcome.edge.strip if outcome is not None else None
    if made is None:
        return "sc"
    kinds = {cell.kind for loop in made.loops for cell, _ in loop.runs if cell.sort == "stitch"}
    spaces = any(cell.sort != "stitch" for loop in made.loops for cell, _ in loop.runs)
    return next(iter(kinds)) if len(kinds) == 1 and not spaces else None


__all__ = ["Memo", "Reading", "WorkedRow", "work_part"]
