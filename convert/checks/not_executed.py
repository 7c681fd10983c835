"""A row that is understood but whose effect on the fabric cannot be told."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, label_of, sizes_together
from convert.checks.telling import body_span, size_ids
from convert.fabric.parts.again import MISSING_ROWS
from convert.findings import Finding, Severity

CHECK = Check(
    "not-executed",
    Severity.WARNING,
    "a row is understood but could not be executed",
    """
The words are clear, but they speak of something that the check cannot follow yet: an edge of the piece, a marker,
a turn in the middle of a row, work that is told elsewhere ("finish as for first motif"). The count of this row and of
those that build on it is unknown, which is not the same as wrong. A stated count lets the check go on after it.
""",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in next 5 sts, turn, sc in next 5 sts.",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in next 5 sts, leave rem sts unworked, turn.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Rows whose effect is unknown for a reason of their own."""
    for row, worked, size in facts.each_row():
        outcome = worked.outcome
        why = "how many rows are worked is left open" if worked.open_end and worked.unknown_after else ""
        if (
            outcome is not None
            and outcome.made is None
            and outcome.why not in ("", MISSING_ROWS)
            and not outcome.unread
        ):
            why = outcome.why
        if why:
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{label_of(row)} could not be executed{SIZES}: {why}.",
                body_span(row),
                size_ids(facts, size),
                expected="steps on the last row",
                found=why,
                because="Counts that depend on it are unknown.",
                hint="Give the row a stated count, so that the rows after it can be checked.",
            )
