"""Rows along an edge up to its far end, and rows that turn back before the end of a round. Common practice."""

from __future__ import annotations

import pytest

from convert.fabric.rows.open_rounds import TURNS
from tests.fabric.working import faults, made, whys

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


SAMPLER = [
    "Row 1: Ch 10, dc in 4th ch from hook and in each ch across, ch 5, turn.",
    "Row 2: Sc in next 8 dc, ch 5, turn.",
]
EDGES = [
    "Row 3: Working along lower edge, 3 sc in next ch-5 loop, *ch 2, 3 sc in next ch-5 loop; rep from * across, turn.",
    "Row 4: Sl st in first loop at top of work, ch 1, *2 sc in next loop, sc over next dc; rep from * across.",
]


def test_a_row_along_another_edge_has_as_many_turns_as_that() -> None:
    """What each turn makes is told, and neither the lower edge nor the top is the last row."""
    rows = [*SAMPLER, *EDGES]
    assert [f"{3 * (TURNS + 1)} sc, {TURNS} ch-2 sps", f"1 sl st, {3 * TURNS} sc"] == made(rows)[2:]
    assert ["an edge other than the last row"] * 2 == whys(rows)[2:]


def test_each_stitch_of_another_edge_is_counted_by_nobody() -> None:
    """How many there are, only the edge tells; words that are no edge lead nowhere else."""
    assert "?" == made([*SAMPLER, "Row 3: Working along lower edge, sc in each st across."])[-1]
    assert "?" == made([*SAMPLER, "Row 3: Sl st in first loop at top of work, sc in each st across."])[-1]
