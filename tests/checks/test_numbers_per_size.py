"""Numbers for several sizes, and the sizes that a pattern names."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.findings import Finding
from convert.pipeline import check_source
from convert.source import Source

ROWS = "Row 1: Ch 11 (13, 15), sc in 2nd ch from hook and in each ch across, turn.\n"


def _found(text: str) -> list[Finding]:
    found = check_source(Source("mat.txt", f"Plain Mat\n\nUS terms\n\n{text}"), "text", ReadOptions()).findings
    return [finding for finding in found if finding.code == "numbers-per-size"]


def test_sizes_that_are_never_named_are_one_mistake() -> None:
    """Every row gives three numbers: what is missing is the list of sizes."""
    row = "Row {}: Ch 1, sc in next 10 (12, 14) sts, turn.\n"
    (finding,) = _found(ROWS + row.format(2) + row.format(3))
    assert 4 == finding.span.line
    assert finding.message.endswith("give 3 numbers, as “11 (13, 15)”, but no sizes are named.")


def test_lists_of_other_lengths_are_told_one_by_one() -> None:
    """Where the rows do not agree either, or sizes are named, each list is a mistake of its own."""
    other = "Row 2: Ch 1, sc in next 10 (12, 14, 16) sts, turn.\n"
    assert 2 == len(_found(ROWS + other))
    assert 1 == len(_found(f"Sizes: S (M, L)\n\n{ROWS}{other}"))
