"""A beginning chain is read as it was in the rows before, unless a stated count tells otherwise."""

from __future__ import annotations

from convert.fabric.parts.run import WorkedRow
from tests.fabric.working import made, work


def test_chains_that_are_told_to_be_no_stitch_are_none_in_later_rows() -> None:
    """Said once, of rows that state no count."""
    rows = [
        "Rnd 1: 12 dc in adjustable ring, join.",
        "Rnd 2: Ch 3 (does not count as st), 2 dc in each st around, join.",
    ]
    assert "48 dc" == made([*rows, "Rnd 3: Ch 3, 2 dc in each st around, join."])[-1]


def test_chains_that_a_count_tells_to_be_no_stitch_are_none_in_later_rows() -> None:
    """Twenty-four stitches are two in each of twelve places: the chain is none of them, nor in the next round."""
    rows = ["Rnd 1: 12 dc in adjustable ring, join.", "Rnd 2: Ch 3, 2 dc in each st around, join. (24 dc)"]
    assert "24 dc" == made([*rows, "Rnd 3: Ch 3, dc in each st around, join."])[-1]


def test_without_a_word_three_chains_are_the_stitch_that_they_reach_up_to() -> None:
    """The usual reading, where no row before tells another."""
    rows = ["Rnd 1: 12 dc in adjustable ring, join.", "Rnd 2: Ch 3, 2 dc in each st around, join."]
    assert "23 dc" == made(rows)[-1]


def _last(rows: list[str]) -> WorkedRow:
    return work(rows)[-1]


def test_a_stated_count_goes_before_what_the_rows_before_tell() -> None:
    """Held, but not against a count that only the other reading comes to; that is told."""
    rows = [
        "Rnd 1: 12 dc in adjustable ring, join.",
        "Rnd 2: Ch 3 (does not count as st), dc in each st around, join. (12 dc)",
        "Rnd 3: Ch 3, dc in next st and in each st around, join. (12 dc)",
        "Rnd 4: Ch 3, dc in same st, 2 dc in each of next 11 sts, join. (24 dc)",
    ]
    outcome = _last(rows).outcome
    assert outcome is not None
    assert ((), True) == (outcome.faults, outcome.unusual)


def test_a_chain_with_a_space_tells_nothing_of_others() -> None:
    """Chain four for a stitch and a space stands for the pattern of that row alone."""
    rows = [
        "Rnd 1: 12 dc in adjustable ring, join.",
        "Rnd 2: Ch 4 (counts as dc and ch 1), dc in next st, *ch 1, dc in next st; rep from * around, ch 1, join.",
    ]
    assert "12 dc, 12 ch-1 sps" == made(rows)[-1]
