"""Schedules and blocks of shaping written out as rows, which are executed and printed like any others."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from itertools import islice

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number, PerSize
from convert.document.records import Document, Label, Part, Remark, Row, RowKind, works
from convert.document.shaping import NUMBERS, Block, Shaping
from convert.document.steps import Verbatim
from convert.findings import Finding, Severity
from convert.grader.block_steps import is_round, maker_of
from convert.grader.blocks import Line, block_lines, scheduled
from convert.grader.formulas import FormulaError, work_out
from convert.grader.grading import said_once
from convert.grader.merging import Key, merged_rows, size_ids
from convert.grader.results import Grading
from convert.grader.schedule import NoSchedule, changes_between, schedule
from convert.limits import LIMITS


def written_out(document: Document, grading: Grading) -> tuple[Document, tuple[Finding, ...]]:
    """The document with rows in place of schedules; the same document where it has none."""
    if not any(row.shaping or row.block for part in document.parts for row in part.rows):
        return document, ()
    findings: list[Finding] = []
    room = _Room()
    parts = tuple(_part(part, document, grading, findings, room) for part in document.parts)
    return replace(document, parts=parts), said_once(findings)


class _Room(Struct):
    """How many rows may still be written out, all sizes and blocks together."""

    rows: int = LIMITS.rows

    def take(self, lines: Iterable[Line]) -> tuple[Line, ...]:
        """The lines, if there is room for them. Raises `NoSchedule`."""
        found = tuple(islice(lines, self.rows + 1))
        self.rows = max(0, self.rows - len(found))
        if not self.rows:
            raise NoSchedule(f"the blocks of the pattern come to more than {LIMITS.rows:,} rows")
        return found


def _part(part: Part, document: Document, grading: Grading, findings: list[Finding], room: _Room) -> Part:
    items: list[Row | Remark] = []
    for item in part.items:
        if isinstance(item, Row) and (item.shaping or item.block):
            items += _rows(item, document, grading, findings, room)
        else:
            items.append(item)
    return replace(part, items=tuple(items))


def _rows(row: Row, document: Document, grading: Grading, findings: list[Finding], room: _Room) -> list[Row]:
    by_size: dict[int, Mapping[Key, Row]] = {}
    lost: list[int] = []
    for index, size in enumerate(grading.sizes):
        if not works(row, document, index):
            continue
        try:
            lines = room.take(_lines(row, document, index, {n.name: n.value for n in size.numbers}))
            by_size[index] = {line.stage: _row(line, row) for line in lines}
        except (NoSchedule, FormulaError) as fault:
            findings.append(_impossible(row, str(fault), size.size))
            lost.append(index)
    written = merged_rows(document, by_size)
    if lost:
        # Stands for the rows that could not be written, so that nothing after them is taken as known.
        ids = size_ids(document, lost) if document.sizes else ()
        unknown = Verbatim(("work the shaping",))
        written.append(Row(Label(RowKind.NEXT_ROW), (unknown,), sizes=ids, said="the shaping", span=row.span))
    return [replace(written[0], before=row.before), *written[1:]] if written else []


def _lines(row: Row, document: Document, index: int, numbers: Mapping[str, int]) -> Iterable[Line]:
    """The rows of one size. Raises `NoSchedule` and `FormulaError`."""
    if row.block is not None:
        own = {name: _value(number, index, numbers) for name, number in _named_numbers(row.block)}
        return block_lines(row.block, own, maker_of(row.block, document.beginning_chains))
    assert row.shaping is not None
    return _shaping_lines(row.shaping, index, numbers)


def _named_numbers(block: Block) -> list[tuple[str, Number]]:
    found = [(name, getattr(block, name)) for name in NUMBERS]
    return [(name, number) for name, number in found if number is not None]


def _shaping_lines(shaping: Shaping, index: int, numbers: Mapping[str, int]) -> Iterable[Line]:
    start, end, rows = (_value(n, index, numbers) for n in (shaping.start, shaping.end, shaping.rows))
    changes = changes_between(start, end, shaping.each)
    plan = schedule(rows, changes, step=shaping.step, before=shaping.before, after=shaping.after)
    each = shaping.each if end > start else -shaping.each
    shaped, even = shaping.shaped, shaping.even
    return tuple(scheduled(plan, lambda _: shaped, even, lambda done: start + each * done, rounds=shaping.rounds))


def _row(line: Line, row: Row) -> Row:
    rounds = row.shaping.rounds if row.shaping is not None else row.block is not None and is_round(row.block)
    kind = RowKind.UNLABELLED if line.again else RowKind.NEXT_ROUND if rounds else RowKind.NEXT_ROW
    said = f"Shaping over {'rounds' if rounds else 'rows'}"
    return Row(Label(kind, repeat=line.rows), line.steps, line.stated, said=said, span=row.span)


def _value(number: Number, index: int, numbers: Mapping[str, int]) -> int:
    if isinstance(number, int):
        return number
    if isinstance(number, PerSize):
        value = number.values[index] if index < len(number.values) else None
        if value is None:
            raise NoSchedule("a number for this size is missing")
        return value
    found: Fraction = work_out(number.text, numbers)
    if found.denominator != 1 or found < 0:
        raise NoSchedule(f"{{{number.text}}} comes to {float(found):.4g}, which is no number of stitches or rows")
    if found > LIMITS.number:
        raise NoSchedule(f"{{{number.text}}} comes to more than {LIMITS.number:,}")
    return int(found)


def _impossible(row: Row, why: str, size: str) -> Finding:
    return Finding(
        "shaping-impossible",
        Severity.ERROR,
        f"The shaping cannot be placed: {why}.",
        row.span,
        (size,) if size else (),
        expected="stitches and rows that whole shaping rows can join",
        found=why,
        hint="Change the rows, the stitches or the change per row; a demand can keep them apart by a multiple.",
    )
