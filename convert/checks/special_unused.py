"""A stitch that the pattern defines and never uses."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.checks.uses import named_ids
from convert.document.records import CountKind, Special
from convert.findings import Finding, Severity

CHECK = Check(
    "special-unused",
    Severity.WARNING,
    "a special stitch is defined and never used",
    """
The pattern explains a stitch that no row works. Either the definition was left from an earlier version, or the
rows call the stitch by another name.
""",
    "Special Stitches\nShell: 5 dc in st indicated.\n\nInstructions\nRow 1: Ch 9, dc in 4th ch from hook and in each ch across. (7 dc)",
    "Special Stitches\nShell: 5 dc in st indicated.\n\nInstructions\n"
    "Row 1: Ch 8, dc in 4th ch from hook and in each ch across, turn.\n"
    "Row 2: Ch 3 (counts as dc), sk next 2 sts, shell in next st, sk next st, dc in last st.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Definitions without a use."""
    used = named_ids(facts.document) | _counted(facts)
    for special in facts.document.specials:
        if special.id not in used and not _named_in_passing(facts, special):
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"“{special.name}” is defined, but no row uses it.",
                special.span,
                expected="a row that works it",
                found="none",
                hint="Take the definition out, or check how the rows name the stitch.",
            )


def _named_in_passing(facts: Facts, special: Special) -> bool:
    """Whether a row that works the steps gives them their name on the way: "2 dc, ch 2, 2 dc (shell) in next loop"."""
    at = (special.span.line, special.span.column)
    return any(
        (row.span.line, row.span.column) <= at < (row.span.end_line, row.span.end_column)
        for part in facts.document.parts
        for row in part.rows
    )


def _counted(facts: Facts) -> frozenset[str]:
    rows = (row for part in facts.document.parts for row in part.rows)
    return frozenset(i.of for row in rows for i in row.stated if i.kind is CountKind.STITCH and i.of)
