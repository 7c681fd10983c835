"""Arches over the row's own stitches. Common practice of Irish crochet and of old edgings, no source."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys, work

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 24 sc in ring, join."
PLAIN = "Rnd 3: Ch 1, sc in each sc around, join."


def _round(arch: str) -> str:
    return f"Rnd 2: Ch 1, *sc in next 6 sc, {arch}, sc in next 2 sc; rep from * around, join."


def test_the_stitches_under_an_arch_are_made_and_not_met_again() -> None:
    """Six, seven over the arch and two more, three times; the next round passes four of the six."""
    rows = [RING, _round("ch 5, turn, skip 3 sc, sl st in next sc, turn, 7 sc in loop"), PLAIN]
    assert ["24 sc", "45 sc", "33 sc"] == made(rows)
    assert ["", "", ""] == faults(rows)


def test_what_is_made_with_arches_is_not_proved() -> None:
    """Whether the covered stitches are free for later rows is told by custom alone."""
    last = work([RING, _round("ch 5, turn, skip 3 sc, sl st in next sc, turn, 7 sc in loop"), PLAIN])[-1].outcome
    assert last is not None
    assert last.edge.untested


def test_an_arch_may_go_over_a_part_of_one_that_is_finished_later() -> None:
    """Six over the large arch, three of them under the small one with its picot, and four more to finish the large."""
    small = "ch 6, turn, skip 2 sc, sl st in next sc, turn, work 5 sc in the loop just made"
    large = f"ch 9, turn, skip 4 sc, sl st in next sc, turn, 6 sc in loop, {small}"
    rows = [RING, _round(f"{large}, ch 3, sc in 3rd ch from hook, 5 sc in same loop, 4 sc in unfinished loop"), PLAIN]
    assert ["24 sc", "84 sc, 3 picot", "60 sc"] == made(rows)


def test_an_arch_longer_than_the_row_is_unknown() -> None:
    """Nine stitches back from the sixth there is none."""
    rows = [RING, _round("ch 7, turn, skip 8 sc, sl st in next sc, turn, 7 sc in loop")]
    assert ["", ""] == faults(rows)
    assert ("?", "an arch over more stitches than there are") == (made(rows)[-1], whys(rows)[-1])


def test_a_chain_that_is_not_covered_is_no_arch() -> None:
    """Without stitches over it, nothing tells what becomes of those under it."""
    rows = [RING, _round("ch 7, turn, skip 3 sc, sl st in next sc, turn")]
    assert ("?", "the work is turned in the middle of the row") == (made(rows)[-1], whys(rows)[-1])


def test_arches_between_the_spokes_of_a_wheel() -> None:
    """The first spoke is worked back along a chain that leaves the ring; the others are arches."""
    spoke = "sc in ring, ch 9, sc in 2nd ch from hook, sc in each ch across, sc in ring"
    arch = "ch 11, turn, skip 6 sc on last spoke, sl st in next sc, turn, 13 sc in loop, sc in ring"
    rows = ["Ch 8, join with sl st to form a ring.", f"Rnd 1: Ch 1, {spoke}, *{arch}; rep from * 4 more times, join."]
    assert ["", ""] == faults(rows)
    assert "80 sc" == made(rows)[-1]
