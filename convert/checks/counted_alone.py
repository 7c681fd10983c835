"""A row that counts all it makes, on an edge that could not be followed."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, each_of, sizes_together
from convert.checks.telling import body_span, size_ids
from convert.findings import Finding, Severity

CHECK = Check(
    "counted-alone",
    Severity.NOTE,
    "a row is counted, and what it is worked into is not checked",
    """
The row speaks of something that the check cannot follow: the edge of a finished piece, a place that is told in words.
It does say how many of everything are worked, so that what it makes is known, and the rows on it are counted too.
Where it goes all around such an edge, what each turn makes is known, and a number of turns stands for any.
Whether the edge has the places that the row needs was not checked. A stated count further on makes the work sure again.
""",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in next 5 sts, sc in next 2 loops of the cord, turn.",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\nRow 2: Ch 1, sc in next 5 sts, leave rem sts unworked, turn.",
)


_ALONE = "What the row makes is known; what it is worked into is not checked."
_TURNS = "What each turn makes is known, and how many turns there are is not."


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Rows that were counted by themselves for a reason of their own."""
    for row, worked, size in facts.each_row():
        outcome = worked.outcome
        if outcome is None or outcome.made is None or not outcome.why:
            continue
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} was counted by itself{SIZES}: {outcome.why}.",
            body_span(row),
            size_ids(facts, size),
            expected="steps on the last row",
            found=outcome.why,
            because=_TURNS if outcome.edge.turns else _ALONE,
            hint="Give it or a row behind it a stated count, so that the rows after it are sure.",
        )
