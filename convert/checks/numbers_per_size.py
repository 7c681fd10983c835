"""Numbers for several sizes that are more or fewer than the sizes of the pattern."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of
from convert.document.numbers import PerSize
from convert.document.records import Row
from convert.document.walking import placed
from convert.findings import Finding, Severity
from convert.instructions.writing.pieces import write_values
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
    """Lists of the wrong length, one finding a row and list; one in all where the pattern only fails to name its
    sizes.
    """
    count = facts.document.size_count
    wrong = [
        (row, number, span)
        for part in facts.document.parts
        for row in part.rows
        for number, span in dict(placed(row, PerSize, row.span)).items()
        if len(number.values) != count
    ]
    if not facts.document.sizes and len(wrong) > 1 and len({len(number.values) for _, number, _ in wrong}) == 1:
        yield _unnamed(*wrong[0])
        return
    for row, number, span in wrong:
        yield _finding(row, number, span, count)


def _unnamed(row: Row, number: PerSize, span: Span) -> Finding:
    given = len(number.values)
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{label_of(row)} and others give {given} numbers, as “{write_values(number.values, None)}”, but no sizes are "
        "named.",
        span,
        expected="the names of the sizes before the rows",
        found="none",
        hint=f"Name the {given} sizes in the order of their numbers, such as “Sizes: S (M, L)”.",
    )


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
