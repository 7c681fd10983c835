"""How many rows a range is said to be."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.exporters.markdown.form import write_markdown
from convert.pipeline import check_source
from convert.source import Source

CUP = "Rush Cup\n\nUS terms.\n\nRnd 1: 6 sc in adjustable ring. (6)\n"


def messages(rows: str) -> list[str]:
    found = check_source(Source("cup.txt", CUP + rows), "text", ReadOptions()).findings
    return [finding.message for finding in found]


@pytest.mark.parametrize(
    "rows",
    [
        "Rnds 2-5: Sc in each st around. (4 rounds)",
        "Rnds 2-5: Sc around (5 rnds so far).",
        "Rnds 2-5: Sc in each st around. (5 rounds)",
        "Rnd 2: Sc in each st around. (2 rounds)",
        "Rnds 2-5: Sc in each st around (4 rnds) [6]",
    ],
)
def test_a_range_as_long_as_it_is_said_to_be(rows):
    assert not [message for message in messages(rows) if "said to be" in message]


def test_a_range_that_is_said_to_be_longer():
    assert ["Rnds 2-5 are 4, and are said to be 6."] == messages("Rnds 2-5: Sc in each st around. (6 rounds)")


def test_rounds_are_printed_as_rounds():
    document = check_source(
        Source("cup.txt", CUP + "Rnds 2-5: Sc in each st around (4 rounds) [6]"), "text", ReadOptions()
    ).document
    assert document is not None
    assert "— 4 rnds, 6 sts" in write_markdown(document).text
