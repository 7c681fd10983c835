"""Rows that one line repeats, turning the work each time. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

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
