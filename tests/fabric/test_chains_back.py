"""Chains that a slip stitch leads back to where they rose. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made

SIX = "Rnd 1: 6 sc in adjustable ring."


@pytest.mark.parametrize(
    "row",
    [
        "Rnd 2: *Sc in next sc, ch 2, sl st in sc just made, (ch 4, sl st in same place) twice; rep from *.",
        "Rnd 2: *Sc in next sc, ch 3, sl st in 3rd ch from hook, (ch 3, sl st in same place) twice; rep from * around.",
    ],
)
def test_behind_a_picot_more_of_them_stand_on_the_same_stitch(row: str) -> None:
    """Three in all, and the next round has the stitches alone to work into."""
    assert ["6 sc", "6 sc, 18 picot", "6 hdc"] == made([SIX, row, "Rnd 3: Hdc in each sc around."])
    assert [""] * 3 == faults([SIX, row, "Rnd 3: Hdc in each sc around."])


def test_a_loop_on_a_low_stitch_can_be_worked_into_and_its_slip_stitch_cannot() -> None:
    """The next round works into the stitches and passes the loops, or into the loops."""
    loops = "Rnd 2: *Sc in next sc, ch 6, sl st in same sc; rep from * around."
    assert "6 dc" == made([SIX, loops, "Rnd 3: Dc in each sc around."])[-1]
    assert "18 sc" == made([SIX, loops, "Rnd 3: 3 sc in each ch-6 loop around."])[-1]
    assert [""] * 3 == faults([SIX, loops, "Rnd 3: 3 sc in each ch-6 loop around."])


def test_from_the_top_of_a_tall_stitch_chains_lead_down_beside_it() -> None:
    """The leg of a petal: its slip stitch stands beside the stitch, as it is told."""
    legs = "Rnd 2: *Dc in next sc, ch 3, sl st in same sc; rep from * around."
    assert "6 dc, 6 ch-3 sps, 6 sl st" == made([SIX, legs])[-1]
