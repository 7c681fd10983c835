"""What a check is, and what it is given."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from convert.document.records import Document, Row
from convert.document.resolving import Values
from convert.fabric.parts import Worked1
from convert.fabric.proving import SizeRun
from convert.findings import Finding, Severity
from convert.grader.results import Grading


@dataclass(frozen=True, slots=True)
class Check:
    """A code and all that is said about it. `form` is the kind of text that the examples are (text, yaml, markdown, json)."""

    code: str
    severity: Severity
    title: str
    explanation: str
    bad: str
    good: str
    form: str = "text"


@dataclass(frozen=True, slots=True)
class Facts:
    """Everything that is known of a pattern once it has been read, graded and executed."""

    document: Document
    grading: Grading
    values: Values
    runs: tuple[SizeRun, ...]
    stated_terms: bool = True

    def size_id(self, size: int) -> str:
        """The id of a size; empty for a pattern without sizes."""
        return self.document.sizes[size].id if size < len(self.document.sizes) else ""

    def size_name(self, size: int) -> str:
        """The name of a size, or its id."""
        return (self.document.sizes[size].name or self.size_id(size)) if size < len(self.document.sizes) else ""

    def each_row(self) -> Iterator[tuple[Row, Worked1, int]]:
        """Every row in every size, leaving out those that only follow from a mistake already reported."""
        for run in self.runs:
            for worked in run.rows:
                if not worked.quiet:
                    yield worked.row, worked, run.size


Finder = Callable[[Facts], Iterable[Finding]]


def label_of(row: Row) -> str:
    """The row's label as messages write it: "Rnd 5", "Rows 4-9", or its first words."""
    label = row.label
    if label.first is None:
        words = row.said.split()
        return f"“{' '.join(words[:5])}{' …' if len(words) > 5 else ''}”"
    noun = "Rnd" if label.kind.is_round else "Row"
    many = len(label.numbers) > 1
    return f"{noun}{'s' if many else ''} {label.first}{f'-{label.numbers[-1]}' if many else ''}"


def merged(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Findings that differ only in their size, put together into one that names all of the sizes."""
    groups: dict[tuple[object, ...], list[Finding]] = {}
    for finding in findings:
        key = (finding.code, finding.span, finding.message, finding.expected, finding.found, finding.because, finding.hint)
        groups.setdefault(key, []).append(finding)
    for group in groups.values():
        sizes = tuple(dict.fromkeys(size for finding in group for size in finding.sizes))
        first = group[0]
        yield Finding(
            first.code, first.severity, first.message, first.span, sizes, first.expected, first.found, first.because, first.hint, first.related
        )
