"""Spaces of several lengths, and chains that begin a round before a space. Common practice of the trade, no source."""

from __future__ import annotations

from tests.fabric.working import faults, made

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 8 sc in ring, join."
NET = "Rnd 2: Ch 1, *sc in next sc, ch 7, sc in next sc, ch 3; rep from * around, join."
ALONG = "Rnd 3: Dc closely around, making 8 dc in each ch-7 sp and 5 dc in each ch-{} sp. Join."


def test_so_many_stitches_into_spaces_of_two_lengths() -> None:
    """All of them in one pass: four times eight and four times five."""
    rows = [RING, NET, ALONG.format(3)]
    assert ["", "", ""] == faults(rows)
    assert "52 dc" == made(rows)[-1]


def test_spaces_of_a_length_that_is_not_there() -> None:
    """The row below has none with four chains."""
    assert "place-not-found" == faults([RING, NET, ALONG.format(4)])[-1]


def test_a_join_tells_what_the_chain_stands_for_that_began_the_round() -> None:
    """Joined in its 4th chain, a chain of 9 is a treble with five chains, though doubles follow."""
    rows = [RING, "Rnd 2: Ch 9, *dc in next sc, ch 5; rep from * around, join in 4th ch of ch-9."]
    assert "1 tr, 8 ch-5 sps, 7 dc" == made(rows)[-1]
    unsaid = [RING, "Rnd 2: Ch 8, *dc in next sc, ch 5; rep from * around, join."]
    assert "8 dc, 8 ch-5 sps" == made(unsaid)[-1]


def test_a_space_of_what_is_called_by_its_look() -> None:
    """ "Ch-3 sp of next point": the next space so long."""
    points = "Rnd 2: Ch 3, 2 dc in same sc, *ch 3, 3 dc in next sc; rep from * around, ch 3, join."
    rows = [RING, points, "Rnd 3: *Ch 8, sc in ch-3 sp of next {}; rep from * around."]
    assert "8 ch-8 sps, 8 sc" == made([*rows[:2], rows[2].format("point")])[-1]
    assert "?" == made([*rows[:2], rows[2].format("fold")])[-1]
    assert "place-not-found" == faults([*rows[:2], rows[2].format("point").replace("ch-3", "ch-4")])[-1]


def test_a_group_of_what_is_called_by_its_look() -> None:
    """ "First shell of next leaf" is the next shell, whatever is called a leaf."""
    fans = "Rnd 2: *5 dc in next sc, ch 3, sc in next sc, ch 3; rep from * around, join."
    rows = [RING, fans, "Rnd 3: *3 sc in first {} of next leaf, ch 4; rep from * around, join."]
    assert "12 sc, 4 ch-4 sps" == made([*rows[:2], rows[2].format("shell")])[-1]
    assert "?" == made([*rows[:2], rows[2].format("shell").replace("leaf", "fold")])[-1]
