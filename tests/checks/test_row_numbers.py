"""Numbers of rows that follow on, and those that begin anew."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

HEAD = """\
Sallow Coaster

US terms.

Rnd 1: 6 sc in adjustable ring. (6)
Rnd 2: 2 sc in each st around, fasten off. (12)

"""


def codes(text: str) -> list[str]:
    """The codes of what is found about row numbers."""
    found = check_source(Source("coaster.txt", HEAD + text), "text", ReadOptions()).findings
    return [finding.code for finding in found if finding.code == "row-numbers"]


def test_numbers_go_on_at_2_behind_a_line_that_begins_a_piece() -> None:
    """The line that begins an edge is its row 1, though it has no number."""
    assert [] == codes(
        "Join yarn in first st, ch 3, dc in next st.\nRnd 2: Dc in each st around.\nRnd 3: Dc in each st around.\n"
    )


def test_a_number_that_goes_back_behind_another_row_is_told() -> None:
    """Without a beginning before it, a second row 2 is a copy."""
    assert ["row-numbers"] == codes("Rnd 2: Dc in each st around.\n")
