"""A reader is asked only about clauses that begin as the table of readers says, and misses none for that."""

from __future__ import annotations

import pytest

from convert.document.records import TermSystem
from convert.instructions import readers
from convert.trade.words import words
from tests.instructions.notations import cases
from tests.instructions.reading import read

PLAIN = [(case.get("line") or case["uk"], "uk" in case) for case in cases() if "line" in case or "uk" in case]
WORDS = frozenset(words())


def test_no_reader_knows_a_clause_that_begins_otherwise_than_it_says(monkeypatch: pytest.MonkeyPatch) -> None:
    as_asked = [read(line, TermSystem.UK if uk else TermSystem.US).row for line, uk in PLAIN]
    monkeypatch.setattr(readers, "asked", lambda _: tuple(readers.READERS))
    everyone_asked = [read(line, TermSystem.UK if uk else TermSystem.US).row for line, uk in PLAIN]
    missed = [line for (line, _), one, other in zip(PLAIN, as_asked, everyone_asked, strict=True) if one != other]
    assert missed == []
    assert len(PLAIN) > 1000


@pytest.mark.parametrize("beginning", sorted({word for told in readers.READERS.values() for word in told.split()}))
def test_what_a_clause_begins_with_is_a_word_or_a_mark_that_there_is(beginning: str) -> None:
    kinds = (readers.NUMBER, readers.STITCH, readers.CHAIN, readers.TOGETHER)
    assert beginning in WORDS or beginning in kinds or beginning in "(["
    assert 0 < len(readers.asked(beginning)) < len(readers.READERS)
