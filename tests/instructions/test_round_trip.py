"""Every tree is written so that it reads back as the same tree, in both systems."""

from __future__ import annotations

import pytest
from hypothesis import given, settings

from convert.document.records import Row, TermSystem
from tests.instructions import trees
from tests.instructions.reading import read, written


@pytest.mark.parametrize("system", list(TermSystem))
@pytest.mark.timeout(120)
@given(row=trees.rows | trees.again_rows)
@settings(max_examples=400, deadline=None)
def test_a_written_row_reads_back_as_the_same_row(system: TermSystem, row: Row) -> None:
    """read(write(row)) is the row, and writing it again gives the same words."""
    text = written(row, system)
    back = read(text, system)
    assert (row, 0) == (back.row, back.verbatim_clauses), text
    assert text == written(back.row, system)


@pytest.mark.timeout(120)
@given(row=trees.rows)
@settings(max_examples=200, deadline=None)
def test_translating_there_and_back_changes_nothing(row: Row) -> None:
    """US to UK to US is the identity on the tree."""
    uk = written(row, TermSystem.UK)
    us = written(read(uk, TermSystem.UK).row, TermSystem.US)
    assert row == read(us, TermSystem.US).row


def test_stitches_in_the_words_of_a_place_are_translated() -> None:
    """A place told in words names its stitches in the terms of the edition."""
    us = read("Rnd 3: Dc in base of next 3-dc group of first leaf, sc in same st where next sc was made.")
    uk = written(us.row, TermSystem.UK)
    assert "Rnd 3: Tr in base of next 3-tr group of first leaf, dc in same st where next dc was made." == uk
    assert us.row == read(uk, TermSystem.UK).row
