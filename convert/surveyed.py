"""What a survey of a folder found out, file by file, and the sums over them."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from convert.document.records import Row
from convert.findings import Finding, Severity
from convert.source import Span


class Figures(Struct, frozen=True):
    """What is counted in one file or in all of them.

    `clauses` are the units in which rows are read, `kept` those kept verbatim. `executed` rows are those of which it is
    known what they make in every size that has them; `proved` ones were also worked from a known beginning without a
    fault, and not counted by themselves. The stated counts of `agreeing` rows are right, those of `disagreeing` ones
    wrong in some size, those of `untold` ones could not be compared in every size. `open` rows are executed on a number
    of chains or turns that stands for any, since the text leaves it open.
    """

    files: int = 0
    rows: int = 0
    clauses: int = 0
    kept: int = 0
    executed: int = 0
    proved: int = 0
    agreeing: int = 0
    disagreeing: int = 0
    untold: int = 0
    unreadable: int = 0
    open: int = 0

    def __add__(self, other: Figures) -> Figures:
        names = self.__struct_fields__
        return Figures(**{name: getattr(self, name) + getattr(other, name) for name in names})


class Kept(Struct, frozen=True):
    """Words of a row that were kept verbatim, on one line, and where they stand."""

    words: str
    span: Span


class Surveyed(Struct, frozen=True):
    """One file: its figures, what was found in it, the rows it was cut into and the clauses kept verbatim.

    `terms` is the system it was read in, empty where nothing could be read.
    """

    name: str
    terms: str
    figures: Figures
    findings: tuple[Finding, ...] = ()
    rows: tuple[Row, ...] = ()
    kept: tuple[Kept, ...] = ()

    def row_at(self, span: Span) -> Row | None:
        """The row that the span begins in."""
        start = (span.line, span.column)
        holding = [r for r in self.rows if (r.span.line, r.span.column) <= start < (r.span.end_line, r.span.end_column)]
        return holding[-1] if holding else None


def total(surveyed: Sequence[Surveyed]) -> Figures:
    """The figures of all files together."""
    return sum((one.figures for one in surveyed), Figures())


def codes(surveyed: Sequence[Surveyed]) -> tuple[tuple[str, Severity, int], ...]:
    """How often each code was found: code, severity, number; the graver first, then the more frequent."""
    order = list(Severity)
    seen: dict[tuple[str, Severity], int] = {}
    for one in surveyed:
        for finding in one.findings:
            seen[finding.code, finding.severity] = seen.get((finding.code, finding.severity), 0) + 1
    ranked = sorted(seen.items(), key=lambda entry: (order.index(entry[0][1]), -entry[1], entry[0][0]))
    return tuple((code, severity, number) for (code, severity), number in ranked)
