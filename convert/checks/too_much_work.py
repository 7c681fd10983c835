"""A pattern whose numbers would make it larger than anything that is ever worked."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, sizes_together
from convert.checks.telling import size_ids
from convert.findings import Finding, Severity

CHECK = Check(
    "too-much-work",
    Severity.ERROR,
    "the numbers of a part grow past all bounds",
    """
Repeats inside repeats multiply. A part that would make many millions of stitches or many thousands of rows is not
executed further: a number in it is wrong.
""",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in each st across, turn.\nRep last row 900000 times more.",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in each st across, turn.\nRep last row 9 times more.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Parts that had to be stopped."""
    for run in facts.runs:
        if run.limit is not None:
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"“{run.part.name}” was not executed: {run.limit.message}.",
                run.limit.span if run.limit.span.line >= 0 else run.part.span,
                size_ids(facts, run.size),
                expected="numbers of a size that can be worked",
                found=run.limit.message,
                hint="Look for a number with too many digits.",
            )
