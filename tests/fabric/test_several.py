"""Lines that tell of several rows, rings made in passing, and stitches worked beside spaces.

Common practice of the trade, no source.
"""

from __future__ import annotations

from tests.fabric.working import faults, made, work

RING = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 8 sc in ring, join."


def test_rounds_told_in_one_line_are_worked_one_after_the_other() -> None:
    """Each joined round is the base of what stands behind the join."""
    rows = [
        RING,
        "Rnd 2: Ch 1, 2 sc in each st around, join. Ch 3, 2 dc in next st, dc in each st around, join. (17 dc)",
    ]
    assert ["8 sc", "17 dc"] == made(rows)
    assert ["8 sc", "16 sc"] == made(
        [RING, "Rnd 2: Ch 1, sc in each st around, join, ch 1, turn, 2 sc in each st, join."]
    )


def test_rows_turned_in_one_line() -> None:
    """The second row meets the first in reverse."""
    rows = ["Row 1: Ch 7, sc in 2nd ch from hook, dc in next 5 ch, turn, ch 1, sc in next 5 dc, 2 sc in next sc, turn."]
    assert ["7 sc"] == made(rows)


def test_a_turn_before_the_end_leaves_the_row_unknown() -> None:
    """Where the stitches left behind go on is not told: unknown, and no error."""
    rows = [
        "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn, sc in next 5 sts, turn, sc in next 5 sts."
    ]
    assert ["?"] == made(rows)
    assert ["the work is turned in the middle of the row"] == [w.outcome.why for w in work(rows) if w.outcome]


def test_a_chain_that_is_joined_is_a_ring() -> None:
    """ "Make a chain of 3, join": the first round goes into it."""
    assert ["3 ch", "7 sc"] == made(["Make a chain of 3, join.", "Rnd 1: 7 sc in ring."])


def test_a_stitch_told_behind_what_went_into_the_ring_goes_there_too() -> None:
    """ "(3 dc, ch 3) 4 times and dc": the ring is not left for its chains."""
    rows = [
        "Rnd 1: Ch 9, join with sl st to form a ring, ch 3, dc in ring, ch 3, in ring make (3 dc, ch 3) 4 times and dc."
    ]
    assert [""] == faults(rows)
    assert "15 dc, 5 ch-3 sps" == made(rows)[0]


def test_rows_on_a_part_of_a_ring_leave_the_rest_of_it() -> None:
    """The work is turned before the ring is full."""
    rows = ["Row 1: Ch 12, join with sl st to form a ring, ch 3, 2 dc in next st of ring, 2 dc in next st, ch 3, turn."]
    assert [""] == faults(rows)


def test_stitches_and_spaces_in_one_pass() -> None:
    """ "Dc in each dc and (2 dc, ch 2, 2 dc) in each ch-2 loop": every dc, and what stands between them."""
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, (4 dc in ring, ch 2) 3 times, join.",
        "Rnd 2: Ch 1, 1 dc in each dc and 2 dc, ch 2, 2 dc in each ch-2 loop, join.",
    ]
    assert "24 dc, 3 ch-2 sps" == made(rows)[-1]


def test_a_group_made_on_the_way_across() -> None:
    """One space, and stitches before and behind it."""
    rows = [
        "Row 1: Ch 12, sc in 2nd ch from hook and in next 4 ch, ch 3, skip 1 ch, sc in last 5 ch, turn.",
        "Row 2: Ch 1, sc in each sc across and 3 sc in ch-3 sp, turn.",
    ]
    assert "13 sc" == made(rows)[-1]


def test_the_chain_behind_those_of_a_space_is_the_one_that_stood_for_a_stitch() -> None:
    """ch 5 was a dc and two chains: the two are skipped, and the dc goes into the top of the first three."""
    rows = [
        "Row 1: Ch 14, dc in 8th ch from hook, *ch 2, sk 2 ch, dc in next ch; rep from * across. Ch 5, turn.",
        "Row 2: Sk first dc, 1 dc in next dc, ch 2, dc in next dc, ch 2, sk 2 ch, 1 dc in next ch. Ch 5, turn.",
        "Row 3: Sk first dc, 1 dc in next dc, ch 2, dc in next dc, ch 2, dc in 3rd ch of tch, ch 2, dc in same ch.",
    ]
    assert ["4 dc, 3 ch-2 sps", "4 dc, 3 ch-2 sps", "5 dc, 4 ch-2 sps"] == made(rows)


FLAP = "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, ch 1, turn."
SLIT = [
    FLAP,
    "Row 2: Sc in each of the first 7 sc, turn.",
    "Row 3: Ch 1, sc in each sc. Fasten off.",
    "Attach yarn in first free st of 1st row, ch 1, sc in each sc, turn.",
]


def test_yarn_joined_where_a_row_left_stitches_free() -> None:
    """The second half has the four stitches that the first half left."""
    assert ["11 sc", "7 sc", "7 sc", "4 sc"] == made(SLIT)


def test_a_row_that_goes_on_over_the_other_side_counts_its_stitches() -> None:
    """Four of its own, and seven that stand on the other side of the slit; the row behind it is worked on both."""
    both = [
        *SLIT,
        "Row 6: Sc in each sc, sc in each of the 7 sts of opposite side, turn.",
        "Row 7: Sc in each sc, turn.",
    ]
    assert ["4 sc", "11 sc", "11 sc"] == made(both)[3:]
    assert all(w.outcome is not None and w.outcome.edge.untested for w in work(both)[4:])
