"""The results of executing a pattern, row by row, as they are shown and exported."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import number_for
from convert.document.records import CountItem, CountKind, Document, TermSystem
from convert.document.walking import unread
from convert.fabric.counts import agrees, tallies, total
from convert.fabric.parts.run import WorkedRow
from convert.fabric.proving import SizeRun
from convert.fabric.results import Proof, RowInSize, RowProof, Tally, Understood
from convert.findings import Finding
from convert.instructions.writing.labels import write_label
from convert.instructions.writing.wording import Wording


def proof_of(
    document: Document, runs: tuple[SizeRun, ...], findings: tuple[Finding, ...], clauses: tuple[int, int]
) -> Proof:
    """Every row of the document with its counts in every size."""
    by_part = {(run.part.id, run.size): _by_row(run) for run in runs}
    chains = {(run.part.id, run.size): run.chains for run in runs}
    rows: list[RowProof] = []
    for part in document.parts:
        for row in part.rows:
            sizes = tuple(
                replace(
                    _in_size(document, size, by_part.get((part.id, size), {}).get(id(row))),
                    chains=chains.get((part.id, size), 0),
                )
                for size in range(document.size_count)
            )
            rows.append(RowProof(part.id, write_label(row.label, Wording(TermSystem.US)), row, sizes))
    return Proof(tuple(rows), _understood(rows, clauses), findings)


def _by_row(run: SizeRun) -> dict[int, WorkedRow]:
    """What became of each row (by identity); of one that is worked again between others, the first time that failed."""
    found: dict[int, WorkedRow] = {}
    for worked in run.rows:
        first = found.get(id(worked.row))
        if first is None:
            found[id(worked.row)] = worked
            continue
        told = worked if _failed(worked) and not _failed(first) else first
        found[id(worked.row)] = replace(told, worked=first.worked + worked.worked)
    return found


def _failed(worked: WorkedRow) -> bool:
    return worked.outcome is not None and (bool(worked.outcome.faults) or worked.outcome.made is None)


def _in_size(document: Document, size: int, worked: WorkedRow | None) -> RowInSize:
    id_ = document.sizes[size].id if size < len(document.sizes) else ""
    if worked is None:
        return RowInSize(id_, 0, None, None, proved=True)
    outcome = worked.outcome
    stated = tuple(Tally(_name(item), number_for(item.number, 0) or 0) for item in worked.stated)
    if outcome is None:
        return RowInSize(id_, worked.worked, None, None, stated, None, proved=True)
    made = outcome.made
    if made is None or (worked.open_end and worked.unknown_after):
        return RowInSize(id_, worked.worked, None, None, stated, None)
    proved = not outcome.faults and not outcome.edge.untested and not worked.open_end
    agreeing = [
        _bears_out(worked, item) if item.kind is CountKind.ROWS else agrees_in_any(worked, item)
        for item in worked.stated
    ]
    agree = None if not agreeing or all(a is None for a in agreeing) else all(a is not False for a in agreeing)
    if outcome.shared:
        agree = None  # nothing to compare with
    return RowInSize(id_, worked.worked, tallies(made), total(made), stated, agree, proved, turns=outcome.edge.turns)


def agrees_in_any(worked: WorkedRow, item: CountItem) -> bool | None:
    """Whether a figure is right; where the number of rows is left open, for any of those that were worked, since the
    last one may be any of them. Rows that do not keep their width are not asked: nobody knows the last one.
    """
    made = [outcome.made for _, outcome in worked.each] if worked.open_end else []
    outcome = worked.outcome
    made = made or [outcome.made if outcome is not None else None]
    told = [agrees(strip, item, 0) if strip is not None else None for strip in made]
    return True if True in told else None if None in told else False


def _bears_out(worked: WorkedRow, item: CountItem) -> bool | None:
    """Whether the piece has so many rows by now as the text says. Where it has not, some other stretch of it, or the
    foundation too, may be counted: that is unknown, and not wrong.
    """
    return True if not worked.open_end and worked.count == number_for(item.number, 0) else None


def _name(item: CountItem) -> str:
    if item.kind is CountKind.STITCH and item.of is not None:
        return item.of
    if item.kind is CountKind.SPACE:
        return "sp" if item.chains is None else f"ch-{item.chains} sp"
    if item.kind is CountKind.OTHER and item.of is not None:
        return item.of
    return {CountKind.CHAIN: "ch", CountKind.GROUP: "group", CountKind.ROWS: "row"}.get(item.kind, "st")


def _understood(rows: list[RowProof], clauses: tuple[int, int]) -> Understood:
    verbatim = sum(1 for row in rows if any(unread(row.row.steps)))
    proved = sum(1 for row in rows if all(size.proved for size in row.sizes))
    return Understood(clauses[0], clauses[1], len(rows), verbatim, proved)
