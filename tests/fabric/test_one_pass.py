"""One pass over a row told in several clauses. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made

SQUARE = [
    "Rnd 1: Make an adjustable ring, ch 3, 2 dc in ring, ch 2, *3 dc in ring, ch 2; rep from * twice more, join.",
    "Rnd 2: Sl st to sp, ch 3, (2 dc, ch 2, 3 dc) in same sp, ch 1, *(3 dc, ch 2, 3 dc) in next sp, ch 1; rep around.",
]


@pytest.mark.parametrize(
    "row",
    [
        "Rnd 3: Ch 1, hdc in each dc, hdc in each ch-1 sp and (hdc, ch 1, hdc) in each corner around, join.",
        "Rnd 3: Ch 1, hdc in each dc, hdc in each ch-1 sp, (hdc, ch 1, hdc) in each ch-2 sp around, join.",
    ],
)
def test_three_kinds_of_places_are_met_in_turn(row: str) -> None:
    """Twenty-four stitches, four spaces at the sides, and two stitches in each of four corners."""
    assert "36 hdc, 4 ch-1 sps" == made([*SQUARE, row])[-1]
    assert ["", "", ""] == faults([*SQUARE, row])


def test_other_stitches_in_two_kinds_of_places_are_no_one_stitch() -> None:
    """Where they differ they are worked as they are told."""
    row = "Rnd 3: Ch 1, sc in each dc, 2 sc in each ch-1 sp and (sc, ch 1, sc) in each corner around, join."
    assert "36 sc, 4 ch-1 sps" != made([*SQUARE, row])[-1]
