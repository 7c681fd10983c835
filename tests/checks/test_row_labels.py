"""How messages call a row, and what they say of a line that stands for several."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

HEAD = "Coaster\n\nUS terms.\n\nRnd 1: 6 sc in adjustable ring. (6)\n"


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        ("Rnd 2: Sc in each st around. (7)", "Rnd 2 makes 6 sts"),
        ("Rnds 2-4: Sc in each st around. (7)", "Each of Rnds 2-4 makes 6 sts"),
        ("Rnds 2, 4 and 6: Sc in each st around. (7)", "Each of Rnds 2, 4 and 6 makes 6 sts"),
    ],
)
def test_a_line_of_several_rows_is_told_by_all_of_them(rows: str, said: str) -> None:
    """With a verb that goes with it, and without rows in between that are not meant."""
    done = check_source(Source("coaster.txt", HEAD + rows + "\n"), "text", ReadOptions())
    assert any(finding.message.startswith(said) for finding in done.findings)
