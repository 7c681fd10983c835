"""Rows told from the middle on or up to it, and work around the end of a chain. Common practice, no source."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys

ACROSS = "Row 1: Ch 14, sc in 2nd ch from hook and in each ch across, turn."
MIDDLE = "Row 2: Ch 1, sc in next 6 sc, 3 sc in next sc, sc in next 6 sc, turn."
LACE = "*skip next sc, dc in next sc, ch 1; rep from * across to center sc of 3-sc group, (dc, ch 1, dc) in center sc"


def test_the_other_side_is_worked_in_the_other_direction() -> None:
    """Four trebles and their spaces, the middle, and the same again."""
    rows = [ACROSS, MIDDLE, f"Row 3: Ch 4, {LACE}. Complete other side to correspond, turn."]
    assert ["", "", ""] == faults(rows)
    assert "10 dc, 9 ch-1 sps" == made(rows)[-1]


def test_the_other_side_of_an_uneven_row_is_unknown() -> None:
    """The row below must be the same from both ends."""
    uneven = MIDDLE.replace("sc in next 6 sc, turn", "sc in next 5 sc, 2 sc in last sc, turn")
    rows = [ACROSS, uneven, f"Row 3: Ch 4, {LACE}. Complete other side to correspond, turn."]
    assert ("?", "", "work told elsewhere") == (made(rows)[-1], faults(rows)[-1], whys(rows)[-1])


def test_up_to_the_middle_of_a_group_told_by_its_size() -> None:
    """No such group: nobody knows how far the repeat goes."""
    rows = [ACROSS, "Row 2: Ch 1, sc in each sc across, turn.", f"Row 3: Ch 4, {LACE}, turn."]
    assert "?" == made(rows)[-1]


def test_an_exception_in_the_middle_space() -> None:
    """Two in each space and four in the middle one; no row of an even number of spaces has one."""
    net = "Row 2: Ch 4, skip next sc, dc in next sc, *ch 1, skip next sc, dc in next sc; rep from * {}, turn."
    row = "Row 3: Ch 1, 2 sc in each sp across, making 4 sc in center sp at point, turn."
    odd = [ACROSS.replace("14", "16"), net.format("5 times more"), row]
    assert "16 sc" == made(odd)[-1]
    even = [ACROSS, net.format("4 times more"), row]
    assert ("?", "a middle between two places") == (made(even)[-1], whys(even)[-1])


def test_around_the_end_of_a_chain_with_chains_at_its_point() -> None:
    """The end chain is met from both sides, and both sides have as many stitches."""
    row = "Row 1: Ch 10, dc in 4th ch from hook and in each ch across, ch 3"
    other = "working along opposite side of starting chain, dc in each ch across, turn."
    assert "14 dc, 1 ch-3 sp" == made([f"{row}, {other}"])[-1]


def test_the_end_of_a_round_cut_inside_a_repeat() -> None:
    """The round begins with two of three stitches that each group has; the last group is the first one's beginning."""
    body = "ch 6, sc in next loop, (ch 2, sc in next loop) twice"
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 9 sc in ring, join.",
        "Rnd 2: Ch 1, sc in first sc, ch 3, *sc in next sc, ch 3; rep from * around, join.",
        f"Rnd 3: Sl st in next loop, sc in same loop, ch 2, sc in next loop, *{body}; rep from *, sl st in first sc.",
    ]
    assert "9 sc, 6 ch-2 sps, 3 ch-6 sps" == made(rows)[-1]


def test_a_slip_stitch_into_the_first_stitch_closes_the_round_past_a_space() -> None:
    """The last "next sc" of the round is its first one."""
    pair = "sc in next sc, ch 3, sc in next sc"
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 8 sc in ring, join.",
        f"Rnd 2: Ch 1, sc in first sc, ch 9, *{pair}, ch 9; rep from * 2 times more, sc in next sc, ch 3, join.",
        "Rnd 3: *5 dc in next ch-9 loop, skip next sc, sl st in next sc; rep from * around, join.",
    ]
    assert ("20 dc, 3 sl st", "") == (made(rows)[-1], faults(rows)[-1])


def test_several_stitches_and_one_more_in_one_place() -> None:
    """ "In next loop (dc, ch 1) 3 times and dc" is one group of four, and not three groups."""
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 4 sc in ring, join.",
        "Rnd 2: Ch 1, *sc in next sc, ch 5; rep from * around, join.",
        "Rnd 3: *In next loop make (dc, ch 1) 3 times and dc, sl st in next sc; rep from * around, join.",
    ]
    assert "16 dc, 12 ch-1 sps, 3 sl st" == made(rows)[-1]


def test_between_groups_told_by_their_size() -> None:
    """The gap between them, if the row below has groups of that size; behind the cut yarn others are told of."""
    groups = "Row 2: Ch 3, 4 dc in next sc, skip 3 sc, 4 dc in next sc, skip next sc, dc in last sc."
    rows = [
        "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn.",
        f"{groups} Ch 3, turn. Sl st between 4-dc groups. Fasten off. Work all tips in this manner.",
    ]
    assert "1 sl st" == made(rows)[-1]
    assert "?" == made([rows[0], rows[1].replace("between 4-dc", "between 5-dc")])[-1]
