"""Numbers for several sizes that are more or fewer than the sizes of the pattern."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of
from convert.document.numbers import PerSize
from convert.document.records import Row
from convert.document.walking import placed
from convert.findings import Finding, Severity
from convert.instructions.writing import write_values
from convert.source import Span

CHECK = Check(
    "numbers-per-size",
    Severity.ERROR,
    "a list of numbers does not have one for every size",
    """
"48 (56, 64)" gives a number for each of three sizes, in the order in which the pattern names them. Here the list
is longer or shorter than the list of sizes. For a row that only some sizes work, say so in its label and give the
numbers of all sizes, with a dash for those that leave it out.
""",
    "Sizes: S (M, L)\n\nRow 1: Ch 11 (13), sc in 2nd ch from hook and in each ch across, turn.",
    "Sizes: S (M, L)\n\nRow 1: Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Lists of the wrong length, one finding a row and list."""
    count = facts.document.size_count
    for part in facts.document.parts:
        for row in part.rows:
            for number, span in dict(placed(row, PerSize, row.span)).items():
                if len(number.values) != count:
                    yield _finding(row, number, span, count)


def _finding(row: Row, number: PerSize, span: Span, count: int) -> Finding:
    given = len(number.values)
    sizes = "one size" if count == 1 else f"{count} sizes"
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"“{write_values(number.values, None)}” in {label_of(row)} gives {given} numbers, but the pattern has {sizes}.",
        span,
        expected=f"{count} number{'s' if count != 1 else ''}",
        found=str(given),
        hint="Give one number for every size, in the order of the sizes; a dash for a size that leaves it out.",
    )
