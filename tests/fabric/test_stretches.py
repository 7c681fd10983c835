"""Loops of a stretch that has a name, and groups that a row names. Common practice of lace patterns, no source."""

from __future__ import annotations

from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 4 sc in ring, join."
TREFOIL = "Rnd 2: Ch 1, sc in first sc, *ch 7, sc in next sc; rep from * around, ch 7, join."
COMB = (
    "Row 2: Ch 1, 2 dc in first sc, ch 5, skip 2 sc, sc in next sc, (ch 3, sc in next sc) 3 times (comb), "
    "ch 5, skip 2 sc, 2 dc in last sc, turn."
)
LAST = "sc in last dc, turn."


def test_a_bracket_behind_a_repeat_of_loops_names_them() -> None:
    """ "First loop of fan" lies between two of the stitches that bear the loops, "last" is the last of the same fan."""
    base = ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.", COMB]
    first = "Row 3: Ch 1, sc in first dc, ch 6, sc in 1st loop of comb, (ch 3, sc in next loop) twice, ch 6, " + LAST
    last = "Row 3: Ch 1, sc in first dc, ch 6, sc in last loop of comb, ch 6, " + LAST
    assert "5 sc, 2 ch-6 sps, 2 ch-3 sps" == made([*base, first])[-1]
    assert "3 sc, 2 ch-6 sps" == made([*base, last])[-1]


def test_a_name_that_no_bracket_gave_is_unknown() -> None:
    """Where nobody says what a comb is, its first loop is not guessed."""
    rows = [RING, TREFOIL, "Rnd 3: Ch 1, sc in first sc, *ch 3, sc in 1st loop of comb; rep from * around, join."]
    assert ("?", "", "a place that is told in words") == (made(rows)[-1], faults(rows)[-1], whys(rows)[-1])


def test_loops_across_are_fastened_with_the_stitch_before() -> None:
    """ "Work 3 ch-4 loops across": a chain and a stitch into the next loop, three times."""
    rows = [RING, TREFOIL, "Rnd 3: Sl st in next loop, ch 1, dc in same loop, work 3 ch-4 loops across, ch 4, join."]
    assert "4 dc, 4 ch-4 sps" == made(rows)[-1]


def test_a_bracket_behind_stitches_in_one_place_names_them() -> None:
    """The name then stands for the stitches, in this row and in those that follow."""
    rows = [
        RING,
        "Rnd 2: *Dc in next sc, ch 2, dc in same sc (reed st), ch 3; rep from * around, join.",
        "Rnd 3: *Reed st in next ch-2 sp, ch 4; rep from * around, join.",
    ]
    assert "8 dc, 4 ch-2 sps, 4 ch-4 sps" == made(rows)[-1]


def test_a_row_may_call_a_group_otherwise_from_there_on() -> None:
    """ "All shells are reed shells and shall be called shells from here": not the trade's usual shell of five."""
    named = "Rnd 2: *2 dc in next sc, ch 2, 2 dc in same sc (reed shell), ch 3; rep from * around, join."
    rows = [
        RING,
        f"{named} All shells are reed shells and will be called shells.",
        "Rnd 3: *Shell in next ch-2 sp, ch 4; rep from * around, join.",
    ]
    assert "16 dc, 4 ch-2 sps, 4 ch-4 sps" == made(rows)[-1]


def test_on_in_the_same_group() -> None:
    """ "Next dc of same shell" is one that the shell still has; the first of the next one comes behind it."""
    inside = "ch 4, sc in next dc of same group, ch 2, sc in 1st dc of next group"
    rows = [
        RING,
        "Rnd 2: *(Dc, ch 2, dc) in next sc, ch 1; rep from * around, join.",
        f"Rnd 3: Ch 1, sc in first dc, *{inside}; rep from * around, ending to correspond, ch 2, join.",
    ]
    assert "8 sc, 4 ch-4 sps, 4 ch-2 sps" == made(rows)[-1]


def test_a_round_that_begins_with_a_picot_does_not_end_with_another() -> None:
    """The picot behind the first stitch is the one that the last repeat would make."""
    picot = "ch 4, sl st in 4th ch from hook for picot"
    end = "rep from * around, ending to correspond, join."
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 8 sc in ring, join.",
        f"Rnd 2: Ch 1, sc in first sc, {picot}, *ch 5, sc in next sc, {picot}, sc in next sc; {end}",
    ]
    assert "8 sc, 4 picot, 4 ch-5 sps" == made(rows)[-1]


def test_stitches_between_picots_are_no_left_overs() -> None:
    """A round that works into picots alone passes what lies between them."""
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 6 sc in ring, join.",
        "Rnd 2: *Sc in next sc, ch 3, sl st in 3rd ch from hook for picot; rep from * around, join.",
        "Rnd 3: Sl st into picot, ch 3, 2 dc in same picot, *ch 2, 3 dc in next picot; rep from * around, ch 2, join.",
    ]
    assert ("18 dc, 6 ch-2 sps", "") == (made(rows)[-1], faults(rows)[-1])


def test_into_a_group_with_several_spaces() -> None:
    """Slipped "into shell", the round begins in the first space of it."""
    rows = [
        RING,
        "Rnd 2: *(Dc, ch 2, dc, ch 2, dc) in next sc; rep from * around, join.",
        "Rnd 3: Sl st into shell, ch 3, dc in same space, *2 dc in next ch-2 sp; rep from * around, join.",
    ]
    assert "16 dc" == made(rows)[-1]
