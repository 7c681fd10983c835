"""What a check is, and what it is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import wraps

from msgspec import Struct
from msgspec.structs import replace

from convert.document.records import Document, Row
from convert.document.resolving import Values
from convert.fabric.faults import Fault
from convert.fabric.parts.run import WorkedRow
from convert.fabric.proving import SizeRun
from convert.fabric.rows.jobs import Outcome
from convert.findings import Finding, Severity
from convert.grader.measuring import Measured
from convert.grader.results import Grading
from convert.source import NOWHERE, Source, Span


class Check(Struct, frozen=True):
    """A code and all that is said about it.

    `form` is the kind of text that the examples are (text, yaml, markdown, json).
    """

    code: str
    severity: Severity
    title: str
    explanation: str
    bad: str
    good: str
    form: str = "text"


class Facts(Struct, frozen=True):
    """Everything that is known of a pattern once it has been read, graded and executed."""

    document: Document
    grading: Grading
    values: Values
    runs: tuple[SizeRun, ...]
    earlier: tuple[Finding, ...] = ()
    """What was found while the pattern was read."""
    measured: Measured | None = None
    source: Source | None = None

    def where(self, words: str, otherwise: Span = NOWHERE) -> Span:
        """Where words stand in the author's text, if they stand there once and on one line; else `otherwise`."""
        if self.source is None or not words or self.source.text.count(words) != 1:
            return otherwise
        before, _, _ = self.source.text.partition(words)
        line, column = before.count("\n"), len(before) - before.rfind("\n") - 1
        return Span(line, column, line, column + len(words)) if "\n" not in words else otherwise

    def size_id(self, size: int) -> str:
        """The id of a size; empty for a pattern without sizes."""
        return self.document.sizes[size].id if size < len(self.document.sizes) else ""

    def size_name(self, size: int) -> str:
        """The name of a size, or its id."""
        return (self.document.sizes[size].name or self.size_id(size)) if size < len(self.document.sizes) else ""

    def names(self, ids: tuple[str, ...]) -> str:
        """ "size M", "sizes M and L"."""
        names = [size.name or size.id for size in self.document.sizes if size.id in ids]
        listed = ", ".join(names[:-1]) + f" and {names[-1]}" if len(names) > 1 else "".join(names)
        return f"size{'s' if len(names) > 1 else ''} {listed}"

    def each_row(self) -> Iterator[tuple[Row, WorkedRow, int]]:
        """Every row in every size, leaving out those that only follow from a mistake already reported."""
        spoilt = spoilt_rows(self.document, self.earlier)
        for run in self.runs:
            for worked in run.rows:
                if not worked.quiet and id(worked.row) not in spoilt:
                    yield worked.row, worked, run.size

    def each_fault(self, code: str) -> Iterator[tuple[Row, WorkedRow, int, Outcome, Fault]]:
        """Rows whose first fault has this code; what goes wrong after it in the same row follows from it."""
        for row, worked, size in self.each_row():
            outcome = worked.outcome
            if outcome is not None and outcome.faults and outcome.faults[0].code == code:
                yield row, worked, size, outcome, outcome.faults[0]


def spoilt_rows(document: Document, earlier: Iterable[Finding]) -> frozenset[int]:
    """Rows (by identity) with an error in their wording: what they make cannot be judged."""
    wrong = [finding.span for finding in earlier if finding.severity is Severity.ERROR]
    rows = (row for part in document.parts for row in part.rows)
    return frozenset(id(row) for row in rows if any(_inside(span, row.span) for span in wrong))


def _inside(inner: Span, outer: Span) -> bool:
    begins = (outer.line, outer.column) <= (inner.line, inner.column)
    return begins and (inner.line, inner.column) < (outer.end_line, outer.end_column)


Finder = Callable[[Facts], Iterable[Finding]]


def label_of(row: Row) -> str:
    """The row's label as messages write it: "Rnd 5", "Rows 4-9", or its first words."""
    label = row.label
    if label.first is None:
        words = row.said.split()
        return f"“{' '.join(words[:5])}{' …' if len(words) > 5 else ''}”"
    noun = "Rnd" if label.kind.is_round else "Row"
    numbers = label.numbers
    if len(numbers) < 2:
        return f"{noun} {label.first}"
    if numbers == tuple(range(numbers[0], numbers[-1] + 1)):
        return f"{noun}s {numbers[0]}-{numbers[-1]}"
    return f"{noun}s {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}"


def each_of(row: Row) -> str:
    """The row's label as the subject of what is said of one row: "Rnd 5 makes", "each of Rows 4-9 makes"."""
    return f"Each of {label_of(row)}" if len(row.label.numbers) > 1 else label_of(row)


SIZES = "{sizes}"
"""Stands in a message for the sizes that it holds for."""


def sizes_together(find: Finder) -> Finder:
    """Makes of a function that finds things size by size one whose findings name all the sizes they hold for."""

    @wraps(find)
    def together(facts: Facts) -> Iterator[Finding]:
        return _merged(find(facts), facts)

    return together


def _merged(findings: Iterable[Finding], facts: Facts) -> Iterator[Finding]:
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.code, finding.span), []).append(finding)
    for group in groups.values():
        ids = tuple(size.id for size in facts.document.sizes)
        hit = {size for finding in group for size in finding.sizes}
        sizes = tuple(id for id in ids if id in hit)
        first = group[0]
        found = first.found
        if len({finding.found for finding in group}) > 1:
            found = "; ".join(f"{facts.names(f.sizes)}: {f.found}" for f in group)
        message = first.message.replace(SIZES, "" if len(sizes) == len(ids) else f" in {facts.names(sizes)}")
        because = first.because
        if len({finding.message for finding in group}) > 1:
            because = f"{because} {_each_size(group[1:], facts)}".strip()
        yield replace(first, message=message, sizes=sizes, found=found, because=because)


def _each_size(group: list[Finding], facts: Facts) -> str:
    return " ".join(f"In {facts.names(f.sizes)}: {f.message.replace(SIZES, '')}" for f in group[:6])
