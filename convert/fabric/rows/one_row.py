"""Works one row of a part, in one size, and keeps what came of it."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import number_for
from convert.document.records import CountItem, CountKind, Row, RowKind, Worked
from convert.document.resolving import drops_out, resolved, resolved_counts, varies
from convert.document.steps import Begin, FastenOff, Join, Step, Turn
from convert.errors import LimitExceeded
from convert.fabric.cells import Cell, Loop, Strip
from convert.fabric.counts import agrees
from convert.fabric.parts.earlier import edge_left, keep_last_round, on_that_round, round_named
from convert.fabric.parts.held import ChainKind, chain_kind, says_times, told
from convert.fabric.parts.onward import begins_on_free, joined_anew, only_attaches
from convert.fabric.parts.rejoined import behind, leave_before_turn, leaves_some, rejoined
from convert.fabric.parts.run import Run, WorkedRow
from convert.fabric.parts.several import rows_in
from convert.fabric.places.place import is_workable
from convert.fabric.places.rows_named import by_depth
from convert.fabric.rows.completed import round_of_piece
from convert.fabric.rows.jobs import Edge, Outcome, RowJob
from convert.fabric.rows.legs import goes_along
from convert.fabric.rows.open_length import opens, with_length
from convert.fabric.rows.open_rounds import turns_for
from convert.fabric.rows.piece import is_on_foundation, sides_left, sides_of
from convert.fabric.rows.row import work_row
from convert.fabric.rows.row_parts import demands_places, starts_ring
from convert.fabric.rows.sides import Sides
from convert.fabric.rows.unsaid_chain import with_unsaid_chain
from convert.limits import LIMITS
from convert.trade.stitches import stitches


def numbers_of(run: Run, row: Row) -> tuple[int, ...]:
    """The numbers of the row in the size in work."""
    return row.label.in_size(run.size).numbers


def flat_row(run: Run, row: Row) -> bool:
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


def tried(run: Run, row: Row) -> Outcome:
    """What the row would come to on the edge; the part stays as it is."""
    before = run.edge, dict(run.held), run.rows_done, run.all_told
    outcome = work_once(run, row, last=False)
    run.edge, run.held, run.rows_done, run.all_told = before
    return outcome


def work_once(run: Run, row: Row, *, last: bool) -> Outcome:
    """Works the row on the edge that the last one left; its stated count is of the `last` of several workings."""
    run.rows_done += 1
    if run.rows_done > LIMITS.worked_rows:
        raise LimitExceeded(f"more than {LIMITS.worked_rows:,} rows would be worked", row.span)
    steps, below = _with_attached(run, by_depth(row)), run.edge
    earlier = round_named(steps)
    if earlier is not None:
        keep_last_round(run, row, below)
        run.edge, steps = edge_left(run, earlier), on_that_round(steps)
    steps = _on_free(run, leave_before_turn(steps))
    flat = flat_row(run, row)
    if _varies(run, row):
        steps = resolved(drops_out(steps, run.size), run.size, run.values)
    stated = resolved_counts(row.stated, run.size, run.values) if last else ()
    if run.chains:
        steps = with_length(steps, run.chains)
    if run.history and joined_anew(row, run.history[-1][1]):
        run.edge = replace(run.edge, untested=True)
    if _one_for_each(stated, len(numbers_of(run, row))):
        stated = stated[-1:]
    like = round_of_piece(run, row) if steps is row.steps else None
    steps = steps if like is None else like[1]
    kind = chain_kind(steps, run.edge)
    held = run.held.get(kind) if kind is not None else None
    repeated = says_times(steps)
    all_told = repeated and run.all_told
    sides = sides_here(run) if goes_along(steps) else None
    on = (run.edge, run.edge.pending, sides)
    turns = turns_for(run, steps, missing=earlier is not None and run.edge.strip is None)
    key = (
        id(row),
        steps if steps is not row.steps else None,
        stated,
        flat,
        on,
        held,
        like,
        turns,
        all_told,
        run.spaces,
    )
    outcome = run.memo.outcomes.get(key)
    labelled = row.label.kind is not RowKind.UNLABELLED
    job = RowJob(steps, stated, flat, run.conventions, run.definitions, held=held, labelled=labelled, turns=turns)
    job = replace(job, all_told=all_told, spaces=run.spaces) if all_told or run.spaces else job
    job = replace(job, completes=like[0]) if like is not None else job
    if outcome is None:
        outcome = work_row(job, run.edge, sides)
        begun = with_unsaid_chain(steps, run.edge, run.history) if outcome.made is None and flat else None
        with_chain = work_row(replace(job, steps=begun), run.edge, sides) if begun is not None else outcome
        outcome = with_chain if with_chain.made is not None and with_chain.base is not None else outcome
        run.memo.outcomes[key] = outcome
    _learn(run, job, outcome, kind, repeated=repeated)
    run.edge = replace(outcome.edge, untested=True) if run.trusted and opens(row) else outcome.edge
    if outcome.apart:
        run.edge = replace(below, untested=True, pending=None)
    outcome = _with_rest_free(run, outcome, stated) if run.on_free else outcome
    _keep_free(run, outcome, steps)
    _end_yarn(run, row, steps, on[0])
    return outcome


def _end_yarn(run: Run, row: Row, steps: tuple[Step, ...], below: Edge) -> None:
    """What the end of the yarn changes on the edge, and that it was joined in a line by itself."""
    if any(isinstance(s, FastenOff) for s in steps):
        run.edge = replace(run.edge, turned=False, pending=None)
    if below.flat is False and only_attaches(row):
        run.edge = replace(run.edge, on_round=True)


def _with_attached(run: Run, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, begun where a line above joined the yarn by itself, if they tell no other place."""
    attached, run.attached = run.attached, ()
    return (*attached, *steps) if attached and not any(isinstance(step, Begin) for step in steps) else steps


def _learn(run: Run, job: RowJob, outcome: Outcome, kind: ChainKind | None, *, repeated: bool) -> None:
    """Keeps what the row tells of beginning chains like its own, and of repeats "6 times"."""
    made = outcome.made
    agreed = made is not None and bool(job.stated) and all(agrees(made, item, run.size) for item in job.stated)
    if repeated and agreed and outcome.readings > 1 and not outcome.faults:
        run.all_told = outcome.reading.fewer
    counts = told(job, run.edge, outcome, agreed=agreed) if kind is not None else None
    if kind is not None and counts is not None:
        run.held[kind] = counts


def _keep_free(run: Run, outcome: Outcome, steps: tuple[Step, ...]) -> None:
    """Notes the stitches that a row leaves for a later one."""
    worked = outcome.made is not None and outcome.made.length > 0 and demands_places(steps)
    run.on_free = run.on_free and not worked
    run.free = outcome.free or run.free
    run.free_untold = outcome.free is None and (run.free_untold or leaves_some(steps))


def _with_rest_free(run: Run, outcome: Outcome, stated: tuple[CountItem, ...]) -> Outcome:
    """The first row on stitches that an earlier one left need not take all of them, where it says how many it makes:
    the back leaves those of the other front. Common practice, no source.
    """
    fault = outcome.faults[0] if len(outcome.faults) == 1 else None
    if fault is None or fault.code != "stitches-left-over" or outcome.made is None or outcome.base is None:
        return outcome
    if not stated or not all(agrees(outcome.made, item, run.size) for item in stated):
        return outcome
    left = fault.facts["left"]
    taken = outcome.base.count(is_workable) - (left if isinstance(left, int) else 0)
    return replace(outcome, faults=(), free=behind(outcome.base, taken))


def sides_here(run: Run) -> Sides | None:
    """The sides of the piece in work; at the beginning of a part, those of the one before."""
    each = (one for worked in run.results for one in worked.each)
    worked = [(row, outcome) for row, outcome in each if demands_places(row.steps)]
    if any(len(rows_in(row.steps)) > 1 for row, _ in worked):
        return None  # how high the piece is, these lines do not tell one by one
    outcomes = [outcome for _, outcome in worked]
    return sides_of(outcomes) if any(map(is_on_foundation, outcomes)) else sides_left(run.sides_before, outcomes)


def _on_free(run: Run, steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps of a row, on the stitches that an earlier row left if it begins there."""
    again = rejoined(steps) if run.free is not None or run.free_untold else None
    if run.free is None:
        if again is not None:
            run.edge, run.free_untold = Edge(None, fresh=False, flat=True), False
            return again.steps
        return steps
    if again is None and not begins_on_free(steps):
        run.free = None if run.edge.fresh else run.free  # a new piece
        return steps
    many = resolved(again.skipped, run.size, run.values) if again is not None else 0
    run.edge, run.free = Edge(behind(run.free, many if isinstance(many, int) else 0), fresh=False, flat=True), None
    run.on_free = True
    return again.steps if again is not None else steps


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


def record(
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
        run.edge = replace(run.edge, untested=False, turns=0)
    run.results.append(WorkedRow(row, outcome, times, stated, quiet, open_end, unknown, run.rows_done, each))
    taken = from_stated(row, stated, outcome) if stated and (wrong or mismatch or run.edge.strip is None) else None
    if taken is not None:
        if run.edge.strip is not None and mismatch and not wrong:
            run.other = taken
        else:
            run.edge = replace(taken, untested=run.trusted)
    elif wrong and made is not None:
        run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    if any(isinstance(s, Begin) for s in row.steps) and not (wrong or mismatch) and made is not None:
        run.tainted = False


def from_stated(row: Row, stated: tuple[CountItem, ...], outcome: Outcome | None) -> Edge | None:
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
        counted=True,
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
