"""What is told of a stated count that speaks of the rows themselves."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

TEXT = """Linnet Mat

US terms.

Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn.
Row 2: Ch 1, dc in each sc across, turn.
Row 3: Ch 1, sc in each dc across, turn. {rest}
"""


@pytest.mark.parametrize(
    ("rest", "agrees"),
    [
        ("Rep Rows 2 and 3 6 times. (15 rows)", True),
        ("Rep Rows 2 and 3 6 times. (15 rows in all)", True),
        ("Rep Rows 2 and 3 6 times. (14 rows)", None),
        ("Rep Rows 2 and 3 until mat is square. (3 rows)", None),
    ],
)
def test_the_number_of_rows_is_borne_out_or_unknown(rest: str, agrees: bool | None) -> None:
    """So many rows by now are right; another number may count other rows, and is never called wrong."""
    checked = check_source(Source("linnet.txt", TEXT.format(rest=rest)), "text", ReadOptions())
    assert checked.proof is not None
    assert agrees == checked.proof.rows[-1].sizes[0].agrees
    assert () == checked.findings
