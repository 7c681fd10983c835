"""Rounds that go on along each side and turn each corner otherwise. Common practice of edgings, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, (3 sc in ring, ch 2) 4 times, join."
SQUARE = "Rnd 2: Ch 1, *sc in next 3 sc, 5 sc in ch-2 sp; rep from * around, join."
MESH = (
    "Rnd 3: Sl st to center sc of corner, ch 6, dc in same sc, *ch 1, skip 1 sc, dc in next sc; rep from * around, "
    "making dc, ch 3 and dc in center sc of every corner, join to 3rd ch of ch-6."
)


@pytest.mark.parametrize("corner", ["dc, ch 3 and dc", "(dc, ch 3, dc)", "[1 dc, ch 3, 1 dc]"])
def test_what_goes_into_a_corner_stands_for_the_stitch_that_comes_to_it(corner: str) -> None:
    """On each side of eight stitches three dc, four spaces, and the two dc of a corner."""
    rows = [RING, SQUARE, MESH.replace("dc, ch 3 and dc", corner)]
    assert ["", "", ""] == faults(rows)
    assert "20 dc, 4 ch-3 sps, 16 ch-1 sps" == made(rows)[-1]


def test_the_corners_of_such_a_round_are_found_again() -> None:
    """Seven in each, then five dc and four spaces with two each."""
    further = (
        "Rnd 4: Sc in same place as sl st, 7 sc in corner sp, *sc in next dc, 2 sc in next sp; rep from * around, "
        "making 7 sc in each corner sp. Join."
    )
    assert "80 sc" == made([RING, SQUARE, MESH, further])[-1]
    single = "Rnd 4: Ch 1, *sc in next dc, sc in next ch-1 sp; rep from * around, working 3 sc in each corner. Join."
    assert ["", "48 sc"] == [faults([RING, SQUARE, MESH, single])[-1], made([RING, SQUARE, MESH, single])[-1]]


def test_a_repeat_that_does_not_come_to_the_corner_is_unknown() -> None:
    """Every third stitch of sides of seven: what becomes of the one before the corner, nobody tells."""
    rows = [RING, SQUARE, MESH.replace("ch 1, skip 1 sc", "ch 2, skip 4 sc")]
    assert ["", "", ""] == faults(rows)
    assert ["?", "corners that the repeat does not come to"] == [made(rows)[-1], whys(rows)[-1]]
