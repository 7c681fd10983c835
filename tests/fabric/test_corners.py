"""Rounds that go on along each side and turn each corner otherwise. Common practice of edgings, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys, work

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


PIECE = [
    "Row 1: Ch 19, sc in 2nd ch from hook and in each ch across, turn.",
    "Row 2: Ch 1, sc in each sc across, turn.",
]
TO_CENTER = "Rnd 2: Ch 1, sc in each sc around, working 3 sc in center sc of each corner, join."


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Join yarn in any corner, ch 1, sc evenly around, working 3 sc in each corner, join.", ["108 sc", "116 sc"]),
        ("Ch 1, sc evenly around all 4 sides with 3 sc in each corner, join.", ["108 sc", "116 sc"]),
        (
            "Join yarn in any corner, 5 sc in corner, sc closely around, 5 sc in each corner, join.",
            ["116 sc", "124 sc"],
        ),
        ("Join yarn in any corner, 2 sc in corner, sc closely around, 5 sc in each corner, join.", ["?", "?"]),
        ("Ch 1, sc evenly around the neck opening, working 3 sc in each corner, join.", ["?", "?"]),
        ("Ch 1, sc evenly around up to the tab, working 3 sc in each corner, join.", ["?", "?"]),
        ("Ch 1, sc evenly around 3 sides, working 3 sc in each corner, join.", ["?", "?"]),
    ],
)
def test_a_round_evenly_around_a_piece_has_four_corners(line: str, expected: list[str]) -> None:
    """As many stitches along each side as stand for any number; a part of the edge may have any number of corners."""
    rows = [*PIECE, f"Rnd 1: {line}", TO_CENTER]
    assert expected == made(rows)[2:]
    assert ["", "", "", ""] == faults(rows)


def test_so_many_stitches_are_along_each_side_as_suit_the_round_on_them() -> None:
    """With 26 the stitch in every third comes to the middle of the corner; with 24 or 25 it does not."""
    first = "Rnd 1: Join yarn in any corner, work sc evenly around with 7 sc in each corner, join."
    rows = [first, MESH.replace("Rnd 3", "Rnd 2").replace("ch 1, skip 1 sc", "ch 2, skip 2 sc")]
    assert ["132 sc", "48 dc, 4 ch-3 sps, 44 ch-2 sps"] == made(rows)
    assert [26, 26] == [worked.outcome.edge.turns for worked in work(rows) if worked.outcome]


def test_a_round_evenly_around_is_never_called_wrong() -> None:
    """Nobody knows how many stitches the maker finds room for; what is made on so many is not proved."""
    first = "Rnd 1: Join yarn in any corner, ch 1, sc evenly around, working 3 sc in each corner, join."
    asks = "Rnd 2: Ch 1, *sc in next 41 sc, ch 2; rep from * around, join."
    assert (["", "", "", ""], "?") == (faults([*PIECE, first, asks]), made([*PIECE, first, asks])[-1])
    open_rows = [worked.outcome for worked in work([*PIECE, first, TO_CENTER])[2:]]
    assert [(True, 24)] * 2 == [(one.edge.untested, one.edge.turns) for one in open_rows if one]
