"""Works a part row by row, in one size: repeats of earlier rows, ranges of rows, and what happens after a mistake."""

from __future__ import annotations

from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from convert.document.records import Document, Part, Remark, Row, RowKind, works
from convert.document.resolving import Values, resolved, resolved_counts
from convert.document.steps import Again, ChangeColour, FastenOff, Join, Turn, Verbatim
from convert.fabric.counts import agrees
from convert.fabric.faults import TOLD_ELSEWHERE, UNTOLD
from convert.fabric.parts.again import work_again
from convert.fabric.parts.earlier import back_on_last_round, edge_left, edges_left
from convert.fabric.parts.marked import marked_to_fit
from convert.fabric.parts.onward import (
    Left,
    begins_on_edge,
    joined_for_next,
    only_attaches,
    rows_once_more,
    rows_untold,
)
from convert.fabric.parts.order import Line, in_order
from convert.fabric.parts.own_foundation import on_own_foundation, own_foundation, whole_piece
from convert.fabric.parts.pattern import row_that_fits
from convert.fabric.parts.reference import piece_meant
from convert.fabric.parts.rows_again import (
    again_of,
    ends_spiral,
    only_inert,
    stands_for_rows,
    work_and_again,
)
from convert.fabric.parts.rows_behind import ends_along, own_row
from convert.fabric.parts.run import Memo, Run, WorkedRow, rows_of_piece
from convert.fabric.parts.spaces_begun import with_spaces_begun
from convert.fabric.parts.unshaped import rows_unshaped
from convert.fabric.parts.varied import rows_told
from convert.fabric.rows.jobs import Edge, Outcome
from convert.fabric.rows.one_row import from_stated, numbers_of, record, sides_here, tried, work_once
from convert.fabric.rows.open_length import on_open_foundation, open_foundation
from convert.fabric.rows.open_rounds import TURNS, on_open_turns
from convert.fabric.rows.recovery import likely_marked, likely_meant
from convert.fabric.steps.definitions import Definitions

CHANGED_ROWS = "earlier rows with changes"
OTHERWISE = "work behind repeated rows that does not come out"


class WorkedPart(Struct, frozen=True):
    """Every row of a part that one size works, in order, and the edge that a part behind it may go on from.

    `chains` is the length of the foundation, where the text leaves it open.
    """

    rows: tuple[WorkedRow, ...]
    left: Left | None = None
    chains: int = 0


def work_part(
    document: Document,
    part: Part,
    size: int,
    values: Values,
    definitions: Definitions,
    memo: Memo,
    spoilt: frozenset[int] = frozenset(),
    before: Left | None = None,
) -> WorkedPart:
    """The part in one size. `spoilt` rows (by identity) are taken as unknown; `before` is what the part before left."""
    rows = [row for row in part.rows if works(row, document, size)]

    def worked(
        chains: int = 0, *, trusted: bool = False, turns: int = TURNS, spaces: frozenset[int] = frozenset()
    ) -> Run:
        run = Run(document, part, size, values, definitions, document.beginning_chains, memo, spoilt)
        run.chains, run.trusted, run.turns, run.spaces = chains, trusted, turns, spaces
        run.sides_before = before.sides if before is not None else None
        run.free = before.free if before is not None else None
        _work_lines(run, rows, before)
        return run

    begin = open_foundation(rows)
    if begin is None:
        run = with_spaces_begun(lambda spaces: on_open_turns(lambda turns: worked(turns=turns, spaces=spaces)))
    else:
        run = on_open_foundation(begin, worked, counted=any(row.stated for row in rows))
    _leave_attached(run)
    memo.histories[part.id, size] = run.history
    memo.edges[part.id, size] = edges_left(run)
    memo.open_pieces.update({(part.id, size)} if any(worked.open_end for worked in run.results) else ())
    sides = sides_here(run) if part is document.parts[0] else None
    goes_on = bool(rows) and part.make == 1 and not run.edge.fresh and begin is None
    left = Left(run.edge, rows[-1], sides, run.free) if goes_on else None
    return WorkedPart(tuple(run.results), left, run.chains)


def _leave_attached(run: Run) -> None:
    """A line that only joins the yarn, nobody tells where, works nothing, if the row behind it is counted by itself."""
    for index, (one, behind) in enumerate(pairwise(run.results)):
        unknown = one.outcome is not None and one.outcome.made is None and only_attaches(one.row)
        if unknown and behind.outcome is not None and behind.outcome.made is not None:
            run.results[index] = replace(one, outcome=None, worked=0)


def _work_lines(run: Run, rows: list[Row], before: Left | None) -> None:
    later = run.part is not run.document.parts[0]
    untold, once_more = rows_untold(run.part.items), rows_once_more(run.part.items)
    for index, line in enumerate(in_order(rows, run.size)):
        further = id(line.row) in once_more or (index == 0 and later and id(line.row) in untold)
        edge = edge_left(run, line.numbers[0] - 1) if further and line.numbers and not line.again else Edge(None)
        if edge.strip is not None:  # another version of a row that was worked before
            run.edge, run.other = replace(edge, untested=True), None
            _work_on_either(run, line)
        elif index == 0 and later and begins_on_edge(line.row):
            _work_first(run, line, before if before is not None and before.goes_on_in(line.row) else None)
        else:
            if id(line.row) in untold and not line.again:
                run.edge, run.other = Edge(None, fresh=False, flat=run.edge.flat), None
            _work_on_either(run, line)


def _work_first(run: Run, line: Line, before: Left | None) -> None:
    """The first row of a part, where it has no beginning of its own: on the edge that the part before left, if it comes
    out there. Where it does not, nobody knows which edge is meant, and the row is unknown rather than wrong. Yarn that
    was not cut is sure to go on where it hangs, so that a wrong count is one.
    """
    if before is not None:
        run.edge = before.edge
        _work_line(run, line)
        remarked = isinstance(next(iter(run.part.items), None), Remark)  # which may tell where the yarn is joined
        if not _stopped(run, counting=before.cut or remarked):
            return
        run.results.clear()
        run.history.clear()
    run.edge, run.tainted, run.rows_done, run.other = Edge(), False, 0, None
    _work_line(run, line)
    if not _stopped(run):
        return
    last = run.results[-1]
    run.edge, run.tainted, run.other = from_stated(line.row, last.stated, None) or Edge(None, fresh=False), False, None
    reason = last.outcome if last.outcome is not None and last.outcome.why else Outcome(run.edge, why=UNTOLD)
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
    back_on_last_round(run, line.numbers[0] if line.numbers else None)
    attached = joined_for_next(row, run.edge) if id(row) not in run.spoilt else ()
    if only_inert(row) or attached:
        run.attached = attached or run.attached
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
        work_again(run, row, again)
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
        outcome = work_once(run, row, last=index == times - 1 and not line.again)
        each.append((row, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, row))
        if outcome.edge.strip is None:
            break
        if index < times - 1:
            run.edge = outcome.edge  # the yarn is cut behind the last of the rows alone
    record(run, row, outcome, times, each=tuple(each), again=line.again)
    if outcome is not None and outcome.faults and times == 1:
        _go_on_from(run, row, likely_meant(row, outcome), before)


def _work_told(run: Run, row: Row) -> bool:
    """Works the rows that a line tells by others, of another part or with changes; whether it does."""
    told = _told_by_another(run, row)
    whole, open_end = ([], False) if told else whole_piece(run, row)
    changed = () if told or whole else rows_told(run, row)
    plain = () if told or whole or changed else rows_unshaped(run, row)
    if told or whole or changed or plain:
        _work_rows(run, row, [*told, *whole, *changed, *plain], sure=bool(told), fitting=bool(whole), open_end=open_end)
    if plain and run.edge.strip is not None:
        run.edge = replace(run.edge, untested=True)  # where such rows end, only their number tells
    return bool(told or whole or changed or plain)


def _told_by_another(run: Run, row: Row) -> list[tuple[int | None, Row]]:
    """The rows of an earlier part that the line refers to, if it is of nothing else and names the part."""
    label = row.label.in_size(run.size)
    found = [step for step in row.steps if isinstance(step, Again) and step.words and not (step.even or step.more)]
    if len(found) != 1 or not (found[0].first > 0 or (found[0].first == 0 and label.first is not None)):
        return []
    chain, steps = own_foundation(row) if run.edge.fresh else (None, row.steps)
    rest = [step for step in steps if not isinstance(step, Again | Turn | FastenOff | ChangeColour | Join)]
    if any(not (isinstance(step, Verbatim) and step.inert) for step in rest):
        return []
    again = found[0]
    part = piece_meant(again.words, run.document.parts, run.part)
    if part is None or again.until is not None or again.times is not None:
        return []
    first, last = (again.first, again.last) if again.first else (label.first or 0, label.numbers[-1])
    rows = rows_of_piece(run, part, first, last)
    if chain is not None:
        return on_own_foundation(run, row, chain, rows)
    return rows if run.edge.fresh else [(number, row) for number, row in rows if number is None or number > 0]


def _work_rows(
    run: Run, row: Row, rows: list[tuple[int | None, Row]], *, sure: bool, fitting: bool, open_end: bool
) -> None:
    """Rows told by others, worked here, with as many repeats as are `fitting` if that is asked. Where it is not `sure`
    which are meant, one that does not come out is unknown. `open_end` rows are worked once for any number of times.
    """
    numbers: list[int | None] = [*numbers_of(run, row)] or [number for number, _ in rows]
    outcome: Outcome | None = None
    each: list[tuple[Row, Outcome]] = []
    for index, (_, told) in enumerate(rows):
        meant = row_that_fits(run, told, lambda one: tried(run, one)) if fitting else told
        outcome = work_once(run, meant, last=False)
        if outcome.faults and not sure:
            run.edge = Edge(None, fresh=False, flat=run.edge.flat)
            outcome = Outcome(run.edge, why=CHANGED_ROWS, base=outcome.base)
        each.append((meant, outcome))
        run.history.append((numbers[index] if index < len(numbers) else None, meant))
        run.sent = outcome.edge.strip is None and (run.sent or outcome.why == TOLD_ELSEWHERE)
        if outcome.edge.strip is None and not run.sent:
            break
    run.sent = False
    record(run, row, outcome, len(rows), open_end=open_end, each=tuple(each))


def _pass_over(run: Run, row: Row) -> None:
    """A row with an error in its wording: what it makes is unknown."""
    before, earlier = run.edge, tuple(done for _, done in run.history)
    run.edge = Edge(None, fresh=False, flat=run.edge.flat)
    label = row.label.in_size(run.size)
    run.rows_done += max(1, len(label.numbers))
    run.history.append((label.first, row))
    record(run, row, Outcome(run.edge, unread=True), 1)
    _go_on_from(run, row, likely_marked(row, earlier) or marked_to_fit(run, row, before), before)


def _go_on_from(run: Run, row: Row, meant: Row | None, before: Edge) -> None:
    """Behind a wrong row: on what it was very likely meant to make, if that comes out. Nothing is proved by it."""
    if meant is None or before.strip is None or run.edge.strip is not None:
        return
    meant = run.memo.meant.setdefault(id(row), meant)
    run.edge = before
    outcome = work_once(run, meant, last=True)
    run.rows_done -= 1
    stated = resolved_counts(row.stated, run.size, run.values)
    made = outcome.made
    if made is None or outcome.faults or any(agrees(made, item, run.size) is False for item in stated):
        run.edge = Edge(None, fresh=False, flat=before.flat)
        return
    run.edge = replace(run.edge, untested=True)
    wrong = run.results[-1]
    if wrong.outcome is not None:
        run.results[-1] = replace(
            wrong, outcome=replace(wrong.outcome, edge=run.edge), unknown_after=False, meant=meant
        )


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
    outcome = replace(last.outcome, why=TOLD_ELSEWHERE) if known and last.outcome is not None else last.outcome
    run.results[-1] = replace(last, row=line.row, outcome=outcome, unknown_after=True)
    return True


def _work_both(run: Run, row: Row, first: Row, again: Row) -> None:
    """A row and the earlier rows that its last sentence repeats, as one line of the result."""
    _work_line(run, Line(first, numbers_of(run, first)))
    done = run.results.pop()
    if stands_for_rows(again.steps[0]) or work_and_again(again) is not None:
        _work_line(run, Line(again, ()))
    else:
        _work_end(run, again)
    last = run.results[-1]
    both = replace(last, row=row, worked=done.worked + last.worked, quiet=done.quiet, each=(*done.each, *last.each))
    both = replace(both, open_end=done.open_end or last.open_end)
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
    """A line taken apart, the same for every size: rows are known by their identity. One that ends along an edge is
    taken apart there first.
    """
    if id(row) not in run.memo.parted:
        run.memo.parted[id(row)] = None if ends_along(row) else work_and_again(row)
    return run.memo.parted[id(row)]
