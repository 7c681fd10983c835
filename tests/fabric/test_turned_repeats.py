"""Rows that one line repeats, turning the work each time. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys, work

FLAP = "Row 1: Ch 16, sc in 2nd ch from hook and in each ch across, turn. (15 sc)"


@pytest.mark.parametrize(
    ("line", "makes"),
    [
        ("Row 2: Ch 1, sc in each sc across, (ch 1, turn, sc in each sc across) 5 times.", "15 sc"),
        ("Row 2: Ch 1, sc in each sc across, *ch 1, turn, skip 1 sc, sc in each sc; rep from * 3 times more.", "11 sc"),
        ("Row 2: (Ch 1, turn, 2 sc in first sc, sc in each sc across) twice. (17 sc)", "17 sc"),
    ],
)
def test_each_working_is_a_row_on_the_one_before(line: str, makes: str) -> None:
    """The next row stands on the last of them."""
    assert [makes, makes] == made([FLAP, line, "Next row: Ch 1, turn, sc in each sc across."])[1:]


def test_a_working_that_does_not_fit_leaves_the_line_unknown() -> None:
    """It may be meant otherwise."""
    rows = [FLAP, "Row 2: Ch 1, sc in each sc across, (ch 1, turn, sc in next 9 sc, dc in next 9 sc) 3 times."]
    assert ["", ""] == faults(rows)
    assert "the work is turned in the middle of the row" == whys(rows)[-1]


def test_such_rows_do_not_tell_how_high_the_piece_is() -> None:
    """Their ends are not counted one by one."""
    rows = [FLAP, "Row 2: Ch 1, sc in each sc across, (ch 1, turn, sc in each sc across) 5 times."]
    assert "?" == made([*rows, "Next row: Ch 1, sc in each row end across."])[-1]


BLADE = (
    "With Jade, ch 12, sc in 4th ch from hook, sc in next 7 ch, 2 sc, ch 2, 2 sc in last ch, working on other side of "
    "ch, sc in next 8 ch, *ch 4, turn, skip 2 sc, sc in next {} sc, 2 sc, ch 2, 2 sc in ch-2 sp, sc in next 8 sc; "
    "rep from * 5 times, {}fasten off."
)


def test_rows_of_a_leaf_leave_their_last_stitches() -> None:
    """Ten on each side of the tip: two are skipped at the beginning of every row, and two left at its end."""
    assert ["20 sc, 1 ch-2 sp"] == made([BLADE.format(8, "")])
    assert [""] == faults([BLADE.format(8, "")])
    outcome = work([BLADE.format(8, "")])[-1].outcome
    assert outcome is not None
    assert outcome.edge.untested


def test_rows_that_do_not_come_to_the_tip_are_unknown() -> None:
    """Eleven stitches do not fit in front of it."""
    assert ["?"] == made([BLADE.format(11, "")])


def test_the_last_of_them_may_be_fastened_to_another_piece() -> None:
    """And what is told behind the cut yarn, of further leaves, is no part of this one."""
    last = (
        "ch 4, turn, skip 2 sc, sc in next 8 sc, 2 sc in ch-2 sp of leaf, ch 1, sl st in ch-5 loop of bud, ch 1, "
        "2 sc in same sp of leaf, sc in next 8 sc, "
    )
    row = BLADE.format(8, last)
    assert ["20 sc, 2 ch-1 sps, 1 sl st"] == made([row])
    more = "Work 3 more leaves and join all in the same manner to bud, skipping 1 petal of bud between leaves."
    assert ["20 sc, 2 ch-1 sps, 1 sl st"] == made([f"{row} {more}"])


def test_a_row_by_itself_must_say_what_becomes_of_its_last_stitches() -> None:
    """Between rows with a line each nothing is left without a word."""
    assert "stitches-left-over" == faults([FLAP, "Row 2: Ch 1, skip 1 sc, sc in next 12 sc, turn."])[-1]
