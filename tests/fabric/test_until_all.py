"""Repeats until nothing is left of the row below. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, (2 sc in ring, ch 3) 8 times, join."
WORDS = "a repeat up to what is told in words"


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        (
            "2 sc in next loop, *ch 3, 2 sc in next loop; until all loops are filled, ch 3",
            "16 sc, 8 ch-3 sps",
        ),
        ("*5 dc in next loop, sc in next loop; until all the loops have been used", "20 dc, 4 sc"),
        (
            "3 sc in next loop, *5 dc in next loop, 3 sc in next loop; until all loops are used",
            "12 sc, 20 dc",
        ),
        (
            "sc in first sc, *ch 2, skip 1 sc, sc in next sc; until all sts are worked, ch 2",
            "8 sc, 8 ch-2 sps",
        ),
    ],
)
def test_the_round_is_worked_to_its_end(line: str, expected: str) -> None:
    """In whole workings, or with the last one cut short: of eight loops the third line has one more than is whole."""
    rows = [RING, f"Rnd 2: Ch 1, {line.replace('until', 'rep from * until')}, join."]
    assert (["", ""], expected) == (faults(rows), made(rows)[-1])


def test_what_does_not_come_to_the_end_is_unknown_and_not_wrong() -> None:
    """Sixteen stitches are no whole number of threes: something else is used up before."""
    rows = [RING, "Rnd 2: Ch 1, *sc in next 3 sc, ch 2; rep from * until all tabs are joined, join."]
    assert (["", ""], "?", WORDS) == (faults(rows), made(rows)[-1], whys(rows)[-1])


def test_a_number_of_things_is_not_all_of_them() -> None:
    """Six tabs are told by their number, which no row of this piece has."""
    rows = [RING, "Rnd 2: Ch 1, *sc in next loop, ch 2; rep from * until 6 tabs are joined, join."]
    assert ("?", WORDS) == (made(rows)[-1], whys(rows)[-1])
