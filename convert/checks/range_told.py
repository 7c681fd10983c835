"""How many rows a range is said to be, beside its own numbers."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of
from convert.document.records import CountKind, Row
from convert.findings import Finding, Severity

CHECK = Check(
    "range-told",
    Severity.WARNING,
    "a range of rows is said to be more or fewer than its numbers",
    """
The numbers of a range tell how many rows it is, and a count of rows behind it ("Rnds 4-9: ... (5 rounds)") tells it
again. Where the two differ, one of them is wrong, and whoever follows the other makes a piece that is too short or
too long. The number of all rows worked so far may stand there as well.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnds 2-4: Sc in each st around. (2 rounds)",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnds 2-4: Sc in each st around. (3 rounds)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Ranges that are said to be of another number of rows."""
    for part in facts.document.parts:
        for row in part.rows:
            yield from _in_row(row)


def _in_row(row: Row) -> Iterator[Finding]:
    numbers = row.label.numbers
    if len(numbers) < 2 or row.label.starts is not None or row.label.ends is not None:
        return
    for item in row.stated:
        if item.kind is CountKind.ROWS and item.number not in (len(numbers), numbers[-1]) and item.number != 1:
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{label_of(row)} are {len(numbers)}, and are said to be {item.number}.",
                item.span,
                found=f"{item.number}",
                expected=f"{len(numbers)}",
                hint="Correct the label or the number.",
            )
