"""Rows on a row of which only the stated count is known. Common practice of the trade, no source."""

from __future__ import annotations

from tests.fabric.working import faults

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 12 sc in ring, join."


def test_a_counted_row_does_not_tell_where_its_corners_and_spaces_are() -> None:
    """Of a row that could not be followed only the stated number of stitches is known: no corner of it is missing."""
    rows = [RING, "Rnd 2: Sc in each sc as you please, join. (30 sc)"]
    assert ["", "", ""] == faults([*rows, "Rnd 3: Ch 1, *3 sc in next corner, ch 2; rep from * around."])
    assert ["", "", ""] == faults([*rows, "Rnd 3: Ch 1, *2 sc in next ch-4 sp, ch 1; rep from * around, join."])
    assert "place-not-found" == faults([*rows, "Rnd 3: Ch 1, sc in each tr around, join."])[-1]
