"""Schedules of shaping written out as rows, which are executed and printed like any others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number, PerSize
from convert.document.records import CountItem, Document, Label, Part, Remark, Row, RowKind, Shaping, works
from convert.document.steps import Again, Step, Verbatim
from convert.findings import Finding, Severity
from convert.grader.formulas import FormulaError, work_out
from convert.grader.results import Grading
from convert.grader.schedule import NoSchedule, Schedule, changes_between, schedule


class _Planned(Struct, frozen=True):
    """The schedule of one size, and the stitches before it; `sign` is -1 for decreases."""

    plan: Schedule
    start: int
    sign: int


def written_out(document: Document, grading: Grading) -> tuple[Document, tuple[Finding, ...]]:
    """The document with rows in place of schedules; the same document where it has none."""
    if not any(row.shaping for part in document.parts for row in part.rows):
        return document, ()
    findings: list[Finding] = []
    parts = tuple(_part(part, document, grading, findings) for part in document.parts)
    return replace(document, parts=parts), tuple(findings)


def _part(part: Part, document: Document, grading: Grading, findings: list[Finding]) -> Part:
    items: list[Row | Remark] = []
    for item in part.items:
        if isinstance(item, Row) and item.shaping is not None:
            items += _rows(item, item.shaping, document, grading, findings)
        else:
            items.append(item)
    return replace(part, items=tuple(items))


def _rows(
    row: Row, shaping: Shaping, document: Document, grading: Grading, findings: list[Finding]
) -> list[Row | Remark]:
    planned: dict[int, _Planned] = {}
    for index, size in enumerate(grading.sizes):
        if not works(row, document, index):
            continue
        try:
            planned[index] = _planned(shaping, index, {n.name: n.value for n in size.numbers})
        except (NoSchedule, FormulaError) as fault:
            findings.append(_impossible(row, str(fault), size.size))
    written = _Writer(row, shaping, document, planned).all()
    lost = [at for at in range(document.size_count) if works(row, document, at) and at not in planned]
    if lost:
        # Stands for the rows that could not be written, so that nothing after them is taken as known.
        ids = _ids(document, lost) if document.sizes else ()
        unknown = Verbatim(("work the shaping",))
        written.append(Row(Label(RowKind.NEXT_ROW), (unknown,), sizes=ids, said="the shaping", span=row.span))
    return [replace(written[0], before=row.before), *written[1:]] if written else []


def _planned(shaping: Shaping, index: int, numbers: Mapping[str, int]) -> _Planned:
    start, end, rows = (_value(n, index, numbers) for n in (shaping.start, shaping.end, shaping.rows))
    changes = changes_between(start, end, shaping.each)
    plan = schedule(rows, changes, step=shaping.step, before=shaping.before, after=shaping.after)
    return _Planned(plan, start, 1 if end > start else -1)


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
    return int(found)


class _Writer(Struct, frozen=True):
    """Writes the rows of one schedule for the sizes that work it."""

    row: Row
    shaping: Shaping
    document: Document
    planned: Mapping[int, _Planned]

    def all(self) -> list[Row]:
        """The rows in order: even ones, then each stretch, then even ones."""
        out = self._even({index: p.plan.before for index, p in self.planned.items()})
        done = dict.fromkeys(self.planned, 0)
        for at in range(max((len(p.plan.stretches) for p in self.planned.values()), default=0)):
            out += self._stretch(at, done)
        return out + self._even({index: p.plan.after for index, p in self.planned.items()})

    def _stretch(self, at: int, done: dict[int, int]) -> list[Row]:
        """The first even and shaping rows of a stretch, then how often they are worked again."""
        found = {i: p.plan.stretches[at] for i, p in self.planned.items() if at < len(p.plan.stretches)}
        out = self._even({index: stretch.interval - 1 for index, stretch in found.items()})
        first = {index: self._stitches(index, done[index] + 1) for index in found}
        out.append(self._line(found, 1, self.shaping.shaped, first))
        for interval in sorted({s.interval for s in found.values() if s.times > 1}):
            again = {i: s.times - 1 for i, s in found.items() if s.interval == interval and s.times > 1}
            last = {index: self._stitches(index, done[index] + found[index].times) for index in again}
            step = Again(-interval, -1, self._number(again), rounds=self.shaping.rounds)
            out.append(replace(self._line(again, 1, (step,), last), label=Label(RowKind.UNLABELLED)))
        for index, stretch in found.items():
            done[index] += stretch.times
        return out

    def _even(self, rows: Mapping[int, int]) -> list[Row]:
        some = {index: number for index, number in rows.items() if number > 0}
        return [self._line(some, self._number(some), self.shaping.even, {})] if some else []

    def _stitches(self, index: int, changes: int) -> int:
        planned = self.planned[index]
        return planned.start + planned.sign * changes * self.shaping.each

    def _line(
        self, sizes: Mapping[int, object], repeat: Number, steps: tuple[Step, ...], stated: Mapping[int, int]
    ) -> Row:
        kind = RowKind.NEXT_ROUND if self.shaping.rounds else RowKind.NEXT_ROW
        counts = (CountItem(self._number(stated)),) if stated else ()
        ids = self._ids(sizes)
        said = f"Shaping over {'rounds' if self.shaping.rounds else 'rows'}"
        return Row(Label(kind, repeat=repeat), steps, counts, ids, said=said, span=self.row.span)

    def _number(self, values: Mapping[int, int]) -> Number:
        """One number where all sizes agree, else one for each; 0 for a size that does not work the row."""
        if len(set(values.values())) == 1:
            return next(iter(values.values()))
        return PerSize(tuple(values.get(index, 0) for index in range(self.document.size_count)))

    def _ids(self, sizes: Mapping[int, object]) -> tuple[str, ...]:
        return () if len(sizes) == self.document.size_count else _ids(self.document, sorted(sizes))


def _ids(document: Document, indexes: Sequence[int]) -> tuple[str, ...]:
    return tuple(document.sizes[index].id for index in indexes)


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
