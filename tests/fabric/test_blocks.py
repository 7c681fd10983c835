"""Stitches side by side between chains are groups of the next row, whether it marks them so or not. Common practice."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 12 sc in ring, join."
ROW = "Row 1: Ch 18, dc in 4th ch from hook and in next 2 ch, *ch 2, skip 2 ch, dc in next 4 ch; rep from * once, turn."


def test_a_part_of_a_group_is_skipped_and_the_rest_worked() -> None:
    """What is skipped is the first of each group: the stitches behind it are those of the same group."""
    told = "Row 2: Ch 1, *skip first dc of next group, sc in next 2 dc, skip last dc of same group, ch 4; rep from *."
    assert ["12 dc, 2 ch-2 sps", "6 sc, 2 ch-4 sps"] == made([ROW, told])
    assert "" == faults([ROW, told])[-1]


def test_the_same_in_groups_worked_into_one_place() -> None:
    """Shells mark their groups themselves."""
    fan = "*skip 2 ch, 5 dc in next ch, skip 2 ch, sc in next ch; rep from * across, turn."
    shells = f"Row 1: Ch 20, sc in 2nd ch from hook, {fan}"
    told = (
        "Row 2: Ch 1, sc in first sc, *skip first dc of next shell, sc in next 3 dc, sc in next sc; rep from * across."
    )
    assert ["15 dc, 4 sc", "13 sc"] == [", ".join(sorted(one.split(", "))) for one in made([shells, told])]


def test_the_single_stitch_between_groups() -> None:
    """The round begins behind the single stitch, and its last working comes back to it."""
    wide = (
        "Rnd 2: Ch 4, *skip next sc, dc in next sc, 2 dc in next sc, dc in next sc, ch 1, skip next sc, dc in next sc, "
        "ch 1; rep from * around, join to 3rd ch of ch-4."
    )
    ring = "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 18 sc in ring, join."
    loops = "ch 7, skip first dc of next group, dc2tog over next 2 dc, ch 7, sc in the single dc between groups"
    told = f"Rnd 3: *{loops}; rep from * around, join to base of first ch-7. (6 loops)"
    assert ["15 dc, 6 ch-1 sps", "6 ch-7 sps, 3 dc2tog, 3 sc, 1 sl st"] == made([ring, wide, told])[1:]
    assert "6 ch-7 sps, 3 dc2tog, 3 sc" == made([ring, wide, f"Rnd 3: *{loops}; rep from * around, join."])[-1]


def test_groups_that_the_join_may_part_are_unknown() -> None:
    """Where stitches stand on both sides of the join, nobody says where a group begins."""
    told = "Rnd 3: Ch 1, *sc in first dc of next group, ch 5; rep from * around, join."
    arches = "*ch 3, skip 2 sc, dc in next 2 sc; rep from * once, ch 3, skip next sc, dc in next sc, join."
    cut = f"Rnd 2: Ch 3, dc in next sc, {arches}"
    rows = [RING, cut, told]
    assert ("?", "") == (made(rows)[-1], faults(rows)[-1])
    assert "groups that the row below does not mark as such" == whys(rows)[-1]
