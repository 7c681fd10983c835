"""Stitches worked back along a chain that the row has just made. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys, work

RING = "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 14 sc in ring, join."
BACK = "working on opposite side of ch, sc in next 3 ch"
SPIKES = "Rnd 2: *Ch 6, sc in 2nd ch from hook and in each ch across, sc in next 2 sc; rep from * around."
FLAT = [
    "Row 1: Ch 17, sc in 2nd ch from hook and in each ch across, turn. (16 sc)",
    "Row 2: Ch 1, sc in each sc across, turn.",
]


@pytest.mark.parametrize(
    ("spur", "makes"),
    [
        ("ch 7, sc in 2nd ch from hook, hdc in next 2 ch, dc in next 3 ch", "7 sc, 14 hdc, 21 dc, 14 sl st"),
        ("ch 5, sl st in 2nd ch from hook, sc in next, hdc in next, dc in last ch", "21 sl st, 7 sc, 7 hdc, 7 dc"),
        ("ch 13, 2 hdc in 3rd ch from hook and in each ch across", "154 hdc, 14 sl st"),
        ("ch 9, sl st in 2nd ch from hook and in next 5 ch", "7 ch-2 sps, 56 sl st"),
        (f"ch 5, sc in 2nd ch from hook and in next 2 ch, 3 sc in last ch, {BACK}", "63 sc, 14 sl st"),
        ("ch 4, sl st in 3rd ch from hook, ch 1", "14 ch-1 sps, 7 picot, 14 sl st"),
    ],
)
def test_the_chain_is_worked_back_before_the_round_goes_on(spur: str, makes: str) -> None:
    """What the chain takes is no stitch of the round below; chains that are left are the stem. One stitch into a chain
    from the hook closes a picot.
    """
    line = f"Rnd 2: *{spur}, sl st in next 2 sc; rep from * around."
    assert ["", ""] == faults([RING, line])
    assert makes == made([RING, line])[-1]


def test_work_along_a_chain_that_is_too_short_is_unknown() -> None:
    """The chain may have been made before, so that the row is not wrong."""
    rows = [RING, "Rnd 2: *Ch 6, sc in 2nd ch from hook and in next 8 ch, sl st in next 2 sc; rep from * around."]
    assert ["", ""] == faults(rows)
    assert "a chain that is shorter than the work along it" == whys(rows)[-1]


def test_too_many_workings_for_the_round_are_wrong() -> None:
    """The round below has places for seven."""
    turns = "Rnd 2: *Ch 6, sc in 2nd ch from hook and in next 4 ch, sl st in next 2 sc; rep from * {} times more."
    assert "out-of-stitches" == faults([RING, turns.format(7)])[-1]
    assert "" == faults([RING, turns.format(6)])[-1]


@pytest.mark.parametrize(("stated", "makes"), [("14 sc", "35 sc, 14 sc"), ("49 sc", "35 sc, 14 sc"), ("30 sc", "?")])
def test_a_count_may_take_in_what_stands_out_or_not(stated: str, makes: str) -> None:
    """Fourteen stitches in the round, thirty-five along the chains; another count is not called wrong."""
    rows = [
        RING,
        f"Rnd 2: *Ch 6, sc in 2nd ch from hook and in each ch across, sc in next 2 sc; rep from * around. ({stated})",
    ]
    assert ["", ""] == faults(rows)
    assert makes.replace("35 sc, 14 sc", "49 sc") == made(rows)[-1]
    outcome = work(rows)[-1].outcome
    assert outcome is not None
    assert (makes == "?") == (outcome.made is None)


def test_the_next_round_goes_on_behind_what_stands_out() -> None:
    """Each stitch of the round, and none of those along the chains."""
    assert "14 sc" == made([RING, SPIKES, "Rnd 3: Sc in each sc around."])[-1]


def test_a_rib_along_the_last_row_leaves_its_stitches_on_purpose() -> None:
    """Each second row is fastened to the next two stitches of the piece."""
    rib = [
        "Row 3: Ch 8, sc in 2nd ch from hook and in each ch across, sl st in next 2 sc, turn.",
        "Row 4: Skip 2 sl sts, sc in BLO of next 7 sc, turn.",
        "Row 5: Ch 1, sc in BLO of next 7 sc, sl st in next 2 sc, turn.",
    ]
    assert {""} == set(faults([*FLAT, *rib]))
    assert ["7 sc, 2 sl st", "7 sc"] == made([*FLAT, *rib])[2:4]
    longer = "Row 3: Ch 8, sc in 2nd ch from hook and in each ch across, sc in next 2 sc, turn."
    assert "stitches-left-over" == faults([*FLAT, longer])[-1]


def test_petals_leave_a_ring() -> None:
    """Seven stitches back along each chain, and one in the ring behind it."""
    ring = "Ch 7, join with sl st to form a ring."
    petals = "Rnd 1: Ch 1, (ch 8, sc in 2nd ch from hook and in each ch across, sc in ring) 5 times, join."
    assert "40 sc" == made([ring, petals])[-1]
