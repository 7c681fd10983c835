"""Rows along an edge up to its far end, and rows that turn back before the end of a round. Common practice."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 20 sc in ring, join."
LOOPS = "Rnd 2: Ch 1, *sc in next sc, ch 4, skip next sc; rep from * around, join."
STRAP = "Row 3: Ch 1, *2 sc in next loop, ch 3; rep from * to last 4 loops, turn."


@pytest.mark.parametrize("end", ["opposite side", "the other end", "same loop on other side", "opposite end of strap"])
def test_a_row_goes_as_far_as_its_edge(end: str) -> None:
    """The row below has five loops: it slips into the first of them, and works all the others."""
    row = f"Row 4: Sl st in first loop, *ch 5, sc in next loop; rep from * to {end}, turn."
    rows = [RING, LOOPS, STRAP, row]
    assert ["", "", "", ""] == faults(rows)
    assert "1 sl st, 4 ch-5 sps, 4 sc" == made(rows)[-1]


def test_around_a_round_the_far_side_is_half_way() -> None:
    """Nobody tells which loop that is."""
    assert (
        "?"
        == made([RING, LOOPS, "Rnd 3: Ch 1, *2 sc in next loop, ch 3; rep from * to opposite side, ch 9, join."])[-1]
    )


def test_a_row_that_turns_back_on_a_round_leaves_the_last_places() -> None:
    """A round that was joined becomes the edge of rows: four of its ten loops are left on purpose."""
    assert "" == faults([RING, LOOPS, STRAP])[-1]
    assert "12 sc, 5 ch-3 sps" == made([RING, LOOPS, STRAP])[-1]


def test_a_row_on_a_row_must_say_what_becomes_of_its_last_stitches() -> None:
    """Without a count that bears it out, words may be missing there; so they may in a round."""
    flat = ["Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn."]
    assert "stitches-left-over" == faults([*flat, "Row 2: Ch 1, sc in each sc to last 3 sc, turn."])[-1]
    assert "stitches-left-over" == faults([RING, LOOPS, STRAP.replace("Row", "Rnd").replace("turn", "join")])[-1]
