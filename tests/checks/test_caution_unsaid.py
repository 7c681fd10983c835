"""A piece that can hurt calls for its caution; one that cannot, or that warns in its own words, does not."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

ROWS = "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"


def called_for(title: str, summary: str = "", notes: str = "") -> set[str]:
    """The cautions that a pattern of this title is asked to carry."""
    text = "\n\n".join(filter(None, (title, summary, "US terms", f"Notes\n{notes}" if notes else "", ROWS)))
    found = check_source(Source("a.txt", text), "text", ReadOptions()).findings
    return {f.message.rsplit(" ", 1)[-1].rstrip(".") for f in found if f.code == "caution-unsaid"}


@pytest.mark.parametrize(
    ("title", "summary", "expected"),
    [
        ("Plover Baby Blanket", "A soft square.", {"infant-sleep"}),
        ("Sedge Doll", "", {"small-parts"}),
        ("Fern Pot Holder", "", {"hot-surface"}),
        ("Wren's Coat", "A child's coat with cords at the neck.", {"cords"}),
        ("Moth Nightdress", "For a child of four.", {"sleepwear"}),
    ],
)
def test_a_piece_calls_for_the_caution_of_its_kind(title: str, summary: str, expected: set[str]) -> None:
    """By the words in which it is told what it is."""
    assert expected == called_for(title, summary)


@pytest.mark.parametrize(
    ("title", "summary"),
    [
        ("Plover Blanket", "For the sofa."),
        ("Baby Cardigan", "With three buttons."),
        ("Corded Bag", "With a cord at the top."),
        ("Toyland Scarf", "Not a plaything."),
    ],
)
def test_words_alone_do_not_call(title: str, summary: str) -> None:
    """A cord that is for nobody small, a baby's garment without bedding, a word inside another."""
    assert set() == called_for(title, summary)


def test_what_the_notes_warn_of_is_not_asked_for_again() -> None:
    """In whatever words the author chose."""
    assert set() == called_for("Sedge Doll", notes="Embroider the eyes: a child may choke on buttons.")
