"""Rows that go on as before without their shaping. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

START = "Row 1: Ch 7, sc in 2nd ch from hook, sc in next 4 ch, 2 sc in last ch, ch 3, turn."
WIDE = "Row 2: Dc in same st, dc in each st to last st, 2 dc in last st, ch 1, turn."
TIGHT = "Row 3: 2 sc in first st, sc in each st to last st, 2 sc in last st, ch 3, turn."


@pytest.mark.parametrize(
    "line",
    [
        "Next 3 rows: Continue in same manner, but do not increase.",
        "Next 3 rows: Continue working in pattern without increasing.",
        "Rows 8-10: Continue in pattern as established, with no further increases.",
        "Next 3 rows: Work in same manner but do not increase on any row.",
    ],
)
def test_rows_of_a_turn_go_on_plain(line: str) -> None:
    """Dc and sc rows took turns: so they do without the increases, beginning with the one that is due."""
    rows = [START, WIDE, TIGHT, "Repeat last 2 rows twice more.", line]
    assert ["7 sc", "9 dc", "11 sc", "19 sc", "19 dc"] == made(rows)
    assert "" == faults(rows)[-1]


def test_one_row_told_with_its_number() -> None:
    """The row is named, and how often: nothing has to be found out."""
    rows = [START, WIDE, TIGHT, "Row 4: Repeat Row 2 without increasing."]
    assert "11 dc" == made(rows)[-1]


def test_decreases_fall_away_as_well() -> None:
    """Two stitches drawn together are two stitches in two places again."""
    shaped = "Row 2: Ch 1, sc2tog, sc in each st to last 2 sts, sc2tog, turn."
    rows = ["Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn.", shaped, "Repeat last row 3 times."]
    assert ["20 sc", "2 sc2tog, 16 sc", "2 sc2tog, 10 sc", "12 sc"] == made(
        [*rows, "Next 5 rows: Continue in pattern without decreasing."]
    )


@pytest.mark.parametrize(
    "rows",
    [
        # nobody tells which rows take turns
        [START, WIDE, TIGHT, "Next 2 rows: Continue in same manner, but do not increase."],
        # how many rows there are is not told
        [START, WIDE, TIGHT, "Repeat last 2 rows twice.", "Continue in same manner, but do not increase."],
        # shells are no shaping
        [
            "Row 1: Ch 20, sc in 2nd ch from hook and in each ch across, turn.",
            "Row 2: Ch 1, sc in first sc, *skip 2 sc, 5 dc in next sc, skip 2 sc, sc in next sc; rep from *, turn.",
            "Row 3: Ch 1, sc in first sc, *ch 2, skip 2 dc, sc in next dc, ch 2, sc in next sc; rep from *, turn.",
            "Row 4: Repeat Row 3 without increasing.",
        ],
    ],
)
def test_what_cannot_be_told_is_unknown(rows: list[str]) -> None:
    """No row is guessed, and none is an error."""
    assert ("?", "", "work told elsewhere") == (made(rows)[-1], faults(rows)[-1], whys(rows)[-1])


def test_a_chain_left_untold_behind_such_rows() -> None:
    """Where the rows end only their number tells: a row of tall stitches may begin with the chain that others had."""
    wide = "Row 2: Ch 3, dc in same st, dc in each st to last st, 2 dc in last st, ch 1, turn."
    rows = [START.replace("ch 3, turn", "turn"), wide, TIGHT.replace("ch 3, turn", "turn"), "Repeat last 2 rows twice."]
    plain = "Next 2 rows: Continue in same manner, but do not increase."
    assert ["19 sc", "19 dc"] == made([*rows, plain, "Next row: Dc in next 18 sc, turn."])[-2:]
    assert "?" == made([*rows, plain, "Next row: Dc in next 16 sc, turn."])[-1]
    sure = [START.replace("ch 3, turn", "turn"), wide, "Row 3: Ch 1, sc in each st across, turn."]
    assert "stitches-left-over" == faults([*sure, "Next row: Dc in next 8 sc, turn."])[-1]
