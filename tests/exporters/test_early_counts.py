"""A count in front of rows that a line has worked again is of the line alone, in whatever form the pattern is kept."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.exporters import DATA_WRITERS, data_writer
from convert.pipeline import check_source
from convert.source import Source

TEXT = """Sallow Strip

US terms.

Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10)
Row 2: Ch 1, 2 sc in first st, sc in each st across, turn. (11) Repeat Row 2 twice.
Row 5: Ch 1, sc in each st across. (13)
"""


@pytest.mark.parametrize("form", sorted(DATA_WRITERS))
def test_the_count_stays_with_its_row(form: str) -> None:
    """Eleven stitches in Row 2, thirteen behind the rows worked again: nothing is found wrong, and nothing changes."""
    document = check_source(Source("strip.txt", TEXT), "text", ReadOptions()).document
    assert document is not None
    again = check_source(Source("strip", data_writer(form)(document, None).text), form, ReadOptions())
    assert ((), document.parts) == (again.findings, again.document and again.document.parts)


def test_a_wrong_count_in_front_of_the_repeat_is_found() -> None:
    """Twelve where eleven are made."""
    done = check_source(Source("strip.txt", TEXT.replace("(11)", "(12)")), "text", ReadOptions())
    assert ["count-mismatch"] == [finding.code for finding in done.findings]
