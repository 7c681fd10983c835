"""A label of one row in front of several: wrong where the next number goes on by one, in order where it counts them."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.findings import Severity
from convert.pipeline import check_source
from convert.source import Source

HEAD = (
    "Mat\n\nUS terms\n\nRow 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn. (8 sc)\n"
    "Row 2: Ch 1, sc in each st across, turn.\nRow 3: Ch 1, sc in BLO of each st across, turn.\n"
    "Row 4: Rep Rows 2 and 3.\n"
)


@pytest.mark.parametrize(
    ("behind", "severities"),
    [
        ("Row 5: Ch 1, sc in each st across.", [Severity.ERROR]),
        ("Row 6: Ch 1, sc in each st across.", []),
        ("Fasten off.", [Severity.WARNING]),
    ],
)
def test_the_next_number_tells_how_many_rows_were_meant(behind: str, severities: list[Severity]) -> None:
    """Row 6 behind two repeated rows counts both of them."""
    found = check_source(Source("m.txt", f"{HEAD}{behind}\n"), "text", ReadOptions()).findings
    assert severities == [finding.severity for finding in found if finding.code == "rows-of-label"]


def test_at_the_end_of_a_piece_a_line_above_with_as_many_rows_tells_that_the_two_changed_places() -> None:
    """Two rows of plain stitches, and one that repeats two."""
    text = HEAD.replace(
        "Row 4: Rep Rows 2 and 3.", "Rows 4-5: Ch 1, hdc in each st across, turn.\nRow 6: Rep Rows 2 and 3."
    )
    found = check_source(Source("m.txt", text), "text", ReadOptions()).findings
    assert [Severity.ERROR] == [finding.severity for finding in found if finding.code == "rows-of-label"]
