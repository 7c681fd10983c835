"""Repeats up to a number of what they make, chains told by their length, rows begun behind stitches that they pass."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys

RING = ["Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 18 sc in ring, join."]
ROW = ["Row 1: Ch 25, sc in 2nd ch from hook and in each ch across, turn."]


def test_a_repeat_goes_on_until_so_many_are_made() -> None:
    """Loops, stitches of a kind, groups in one place; what is left of the row below is left on purpose."""
    loops = "Rnd 2: Ch 1, *sc in next 2 sc, ch 3; rep from * until {}, turn."
    for told in ("7 loops are made", "there are 14 sc", "you have 7 sps in all"):
        assert "14 sc, 7 ch-3 sps" == made([*RING, loops.format(told)])[-1]
    assert (
        "15 dc" == made([*RING, "Rnd 2: *5 dc in next sc, skip next sc; rep from * until 3 petals are done, turn."])[-1]
    )
    assert [""] == faults([*RING, loops.format("7 loops are made")])[1:]


def test_a_number_that_no_working_meets_is_unknown() -> None:
    """Two in each working make no odd number, and loops none at all of what is not worked."""
    row = "Rnd 2: Ch 1, *sc in next 2 sc, ch 3; rep from * until {}, turn."
    for told in ("there are 13 sc", "there are 6 dc", "they are wide enough"):
        assert "a repeat up to what is told in words" == whys([*RING, row.format(told)])[-1]
    assert "out-of-stitches" == faults([*RING, row.format("there are 20 sc")])[-1]


def test_yarn_joined_behind_stitches_that_are_passed() -> None:
    """The chain behind stands for the first stitch there; as many may be left at the end, and no others."""
    joined = "Row 2: Skip first 4 sts, join yarn in next st, ch 3, dc in next {} sts, turn."
    assert "16 dc" == made([*ROW, joined.format(15)])[-1]
    assert ["", "stitches-left-over"] == faults([*ROW, joined.format(14)])
    across = "Row 2: Skip first 4 sts, join yarn in next st, ch 1, sc in same st, sc in each st across, turn."
    assert "20 sc" == made([*ROW, across])[-1]


def test_the_yarn_is_cut_behind_the_last_of_several_rows() -> None:
    """The turning chain of the first row is not lost."""
    rows = "Rows 2 and 3: Skip first st, dc in each st across, ch 3, turn. Fasten off."
    assert "24 dc" == made([ROW[0].replace("turn", "ch 3, turn"), rows])[-1]


def test_a_chain_told_by_its_length_suits_the_rows_on_it() -> None:
    """However many chains that is."""
    rows = [
        "Make a chain 40 cm long.",
        "Row 1: Sc in 2nd ch from hook, *ch 1, skip next ch, sc in next ch; rep from *, turn.",
    ]
    assert faults(rows) == ["", ""]
    assert "?" not in made(rows)
    assert ["?", "?"] != made(["Ch for 10 cm.", rows[1]])
