"""Plain English beside the work is no misspelt stitch, and a misspelt stitch is."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source


@pytest.mark.parametrize(("words", "told"), [("Cinch the hole shut.", False), ("Hdcc the hole shut.", True)])
def test_a_word_of_making_up_is_no_misspelt_stitch(words: str, told: bool) -> None:
    text = f"Gourd\n\nUS terms\n\nRnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Sc in each st around. {words}\n"
    checked = check_source(Source("gourd.txt", text), "text", ReadOptions())
    assert told is ("unknown-abbreviation" in [finding.code for finding in checked.findings])
