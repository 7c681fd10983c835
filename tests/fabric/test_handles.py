"""Loops that stand out from the piece: what covers them is counted, and the piece stays as it was. Common practice."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 12 sc in ring, join."
NEXT = "Rnd 2: Ch 1, 2 sc in each sc around, join."


@pytest.mark.parametrize(
    "line",
    [
        "Ch 12, sl st in same st, turn, 18 sc in ch-12 loop, fasten off.",
        "Ch 12, sl st in same st as join, ch 1, 18 sc in ch-12 sp, sl st in first sc, fasten off.",
        "Join yarn in any corner, ch 12, sl st in same st, turn, 18 sc in ch-12 loop, fasten off.",
        "Attach yarn at top, ch 13, sl st in same st, ch 1, turn, 18 sc in loop, fasten off.",
        "With B, ch 16, sl st in same st to form a loop, ch 1, 18 sc over loop, fasten off.",
        "Attach yarn between 1st and 2nd rows at side, ch 9, sl st in st on other side, turn, 18 sc over loop.",
    ],
)
def test_a_loop_by_itself(line: str) -> None:
    """Its stitches are told, whatever the place is; the next round goes on from the last one."""
    assert ["12 sc", "18 sc", "24 sc"] == made([RING, line, NEXT])
    assert ["", "", ""] == faults([RING, line, NEXT])
    assert "an edge other than the last row" == whys([RING, line, NEXT])[1]


def test_a_chain_that_hangs_from_the_piece() -> None:
    """A tie is its chains."""
    assert ["12 sc", "20 ch", "24 sc"] == made([RING, "Attach yarn at top, ch 20, fasten off.", NEXT])


@pytest.mark.parametrize(
    "loop",
    [
        "ch 15, sl st in same st, fasten off.",
        "ch 15 (hanging loop), sl st in base of ch-15, fasten off.",
        "ch 11, sl st in next st, ch 1, turn, 17 sc over loop, fasten off.",
        "sl st in back of next scallop, ch 7, sl st on other side of it, turn; 11 sc over loop, fasten off.",
    ],
)
def test_a_loop_behind_a_round(loop: str) -> None:
    """The round is what it makes before its join."""
    rows = [RING, f"{NEXT[:-1]}, {loop}", "Rnd 3: With B, join in any sc, sc in each sc around, join."]
    assert ["12 sc", "24 sc", "24 sc"] == made(rows)


def test_a_ring_that_is_called_a_loop() -> None:
    """So many stitches go into the ring, and not each into a chain of it."""
    rows = ["Rnd 1: Ch 14, join to form a ring, ch 1, 22 sc over loop, join.", NEXT]
    assert (["22 sc", "44 sc"], ["", ""]) == (made(rows), faults(rows))


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 2: Ch 6, sl st in next sc, 9 sc in ch-6 loop, join.",  # a round of one loop is none
        "Ch 12, sl st in same st, turn, 18 sc in ch-12 loop, sc in next 4 sc, fasten off.",  # and goes on
        "Ch 12, sl st in same st, turn, 18 sc in ch-9 loop, fasten off.",  # another loop
        "Ch 12, turn, 18 sc in ch-12 loop, fasten off.",  # fastened nowhere
    ],
)
def test_no_such_loop(line: str) -> None:
    """Other rows are worked as they were."""
    assert ["18 sc", "9 sc"] != made([RING, line])[1:]
    assert "an edge other than the last row" != whys([RING, line])[1]
