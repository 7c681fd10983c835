"""A line that has rows repeated which the part does not have."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, each_of, sizes_together
from convert.checks.row_numbers import misnumbered
from convert.checks.telling import body_span, size_ids
from convert.fabric.parts.again import MISSING_ROWS
from convert.findings import Finding, Severity

CHECK = Check(
    "rows-not-there",
    Severity.ERROR,
    "rows are repeated that the part does not have",
    """
"Rep Rows 2 and 3" needs a Row 2 and a Row 3 before it in the same part. Perhaps the number is wrong, or the rows
were renumbered.
""",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in each st across, turn.\nRep Rows 2 and 3 4 times more.",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in each st across, turn.\nRep Row 2 4 times more.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """References to missing rows; not where the rows are misnumbered anyway, which is reported by itself."""
    misnumbered_parts = {part.id for part in facts.document.parts if misnumbered(facts, part)}
    for run in facts.runs:
        for worked in () if run.part.id in misnumbered_parts else run.rows:
            outcome = worked.outcome
            if worked.quiet or outcome is None or outcome.why != MISSING_ROWS:
                continue
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{each_of(worked.row)} repeats rows that are not there.",
                body_span(worked.row),
                size_ids(facts, run.size),
                expected="rows with these numbers earlier in the part",
                found="none",
                hint="Check the row numbers.",
            )
