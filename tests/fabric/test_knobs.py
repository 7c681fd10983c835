"""Knobs at the ends of a cord. Common practice, no source."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys

CORD = "Row 1: 7 sc in second ch from hook, join with sl st in first sc, 1 sc in each ch"


def test_a_knob_is_closed_and_the_work_goes_on_along_the_chain() -> None:
    """Seven in the first of nineteen chains, and one in each of the others; or seven in the last one, too."""
    for behind, stitches in (("", 25), (", making 7 sc in last ch, join with sl st in first sc of this group", 31)):
        rows = ["Ch 20.", f"{CORD}{behind}. Fasten off."]
        assert (f"{stitches} sc", "") == (made(rows)[-1], faults(rows)[-1])


def test_a_round_on_one_chain_is_closed_as_ever() -> None:
    """Where the work goes on into the stitches, the slip stitch closes a round."""
    rows = [
        "Rnd 1: Ch 2, 7 sc in 2nd ch from hook, join with sl st in first sc.",
        "Rnd 2: Ch 1, 2 sc in each sc around, join.",
    ]
    assert ["7 sc", "14 sc"] == made(rows)
    several = ["Ch 20.", "Row 1: Sc in second ch from hook, join with sl st in first sc, 1 sc in each ch."]
    assert "several rounds in one row" == whys(several)[-1]
