"""The questions that readers ask of a line."""

from __future__ import annotations

import pytest

from convert.document.records import TermSystem
from convert.instructions.words.cursor import Context, Cursor
from convert.instructions.words.lexicon import lexemes
from convert.source import Passage
from convert.trade.words import words


def cursor(text: str) -> Cursor:
    """A cursor at the beginning of a line."""
    return Cursor(Passage.at(text, 1, 1), lexemes(text, TermSystem.US), Context())


@pytest.mark.parametrize("id", words())
def test_no_word_can_be_taken_for_a_mark(id: str) -> None:
    """Both are asked about by their ids alone."""
    assert id[0].isalpha()


def test_a_stitch_is_no_word_though_a_word_may_have_its_id() -> None:
    """Only words of the table and marks are asked about so."""
    cur = cursor("dc , skip")
    assert not cur.is_word("dc")
    assert cur.is_mark(",", ahead=1)
    assert cur.is_word("skip", ahead=2)
    assert not cur.is_word("skip", ahead=9)


def test_nothing_is_taken_behind_the_end() -> None:
    """However often it is asked for."""
    cur = cursor("skip")
    assert 1 == cur.take_words("skip")
    assert cur.done
    assert not (cur.take_word("skip") or cur.take_mark(",") or cur.take_words("skip"))
