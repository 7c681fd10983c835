"""How rounds end, and rows that are joined to other pieces on their way. Common practice of the trade, no source."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from convert.document.records import Remark
from convert.document.steps import Extent, Place, Repeat, What, Work
from convert.fabric.proving import work_document
from tests.fabric.working import faults, made, pattern, work

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 3 and work 15 dc in ring, join in 3rd st of ch."
STRAIGHT = "Ch 12, sc in 2nd ch from hook and in each ch across, turn."
NET = "Rnd 2: Ch 5, *skip next dc, dc in next dc, ch 2; rep from * around, skip next dc, join in 3rd ch of ch-5."


def test_a_slip_stitch_behind_the_last_place_goes_into_the_round_itself() -> None:
    """A spiral ends so: "sc in each st, sl st in next st"."""
    rows = ["Rnd 1: 6 sc in adjustable ring.", "Rnd 2: 2 sc in each sc, sl st in next st, fasten off."]
    assert ["6 sc", "12 sc"] == made(rows)
    assert ["", ""] == faults(rows)


def test_a_round_that_begins_with_an_increase_may_end_before_one() -> None:
    """Sixteen places: two in the first, then one and two in turn, and one in the last."""
    rows = [RING, "Rnd 2: Ch 3, dc in same st, *dc in next dc, 2 dc in next dc; rep from * around, join."]
    assert ["16 dc", "24 dc"] == made(rows)
    assert ["", ""] == faults(rows)


def test_a_round_does_not_end_before_an_increase_that_it_did_not_begin_with() -> None:
    """One in the first place: what is left at the end is left over."""
    rows = [RING, "Rnd 2: Ch 3 (counts as dc), *dc in next dc, 2 dc in next dc; rep from * around, join."]
    assert ["", "stitches-left-over"] == faults(rows)


def test_a_last_working_may_end_with_its_chain() -> None:
    """The join catches it, and the round's beginning stands for the stitches behind it."""
    rows = [
        RING,
        NET,
        (
            "Rnd 3: Ch 3, dc in same st, *dc in first ch of ch-2, ch 3, dc in next ch of same ch-2, dc in next dc; "
            "rep from * around, join in 3rd ch of ch-3."
        ),
    ]
    assert ["8 dc, 8 ch-2 sps", "24 dc, 8 ch-3 sps"] == made(rows)[1:]


def test_what_is_only_skipped_at_the_end_may_lead_to_the_join() -> None:
    """ "Skip 1, sl st in next": the last stitch is skipped, and the join stands for the slip stitch."""
    rows = [
        RING,
        "Rnd 2: Ch 3, sl st in same st, *skip 1 dc, sl st in next dc, ch 3, sl st in same st; rep from *, join.",
    ]
    assert ["", ""] == faults(rows)


def test_a_row_joined_to_another_piece_uses_none_of_its_own_places_there() -> None:
    """The slip stitch parts the chains before it from those behind it, and that is all."""
    rows = [
        RING,
        NET,
        "Rnd 3: *Ch 4, sl st in next loop on first wheel, ch 4, sc in next sp on this wheel; rep from * 7 times.",
    ]
    assert "16 ch-4 sps, 8 sl st, 8 sc" == made(rows)[-1]


def test_a_row_joined_to_another_piece_is_never_accused() -> None:
    """Which places are whose is told in words alone: what does not come out is unknown."""
    rows = [
        RING,
        NET,
        "Rnd 3: *Ch 4, sl st in next loop on first medallion, ch 4, sc in next sp; rep from * 19 times, join.",
    ]
    assert ["", "", ""] == faults(rows)
    assert "?" == made(rows)[-1]


def test_the_first_chain_of_a_foundation_is_met_only_once() -> None:
    """ "3 dc in 4th ch from hook ... working on opposite side": the chain in which the round began is full."""
    rows = [
        "Rnd 1: Ch 10, 3 dc in 4th ch from hook, dc in next 5 ch, 6 dc in last ch, other side of ch: dc in next 5 ch.",
    ]
    assert [""] == faults(rows)


def test_rows_that_only_a_remark_tells_leave_the_work_unknown() -> None:
    """Between Rnd 2 and Rnd 9 the piece grew, and nobody can say how far."""
    lines = [
        "Rnd 1: 6 sc in adjustable ring.",
        "Rnd 2: 2 sc in each sc around.",
        "Rnd 9: *Sc in next 8 sc, 2 sc in next sc; rep.",
    ]
    document = pattern(lines)
    rows = document.parts[0].rows
    told = (*rows[:2], Remark(("Go on in this manner until the piece is as wide as the palm.",)), rows[2])
    run = work_document(replace(document, parts=(replace(document.parts[0], items=told),)), {})[0]
    assert [True, True, False] == [w.outcome is not None and w.outcome.made is not None for w in run.rows]
    assert not any(w.outcome.faults for w in run.rows if w.outcome)


@pytest.mark.parametrize(
    ("lines", "known"),
    [
        ([STRAIGHT, "Row 2: Ch 1, sc in next 11 sc."], [True, True]),
        ([STRAIGHT, "Row 3: Ch 1, sc in next 11 sc."], [True, False]),
        (["Ch 12.", "Row 2: Sc in 2nd ch from hook and in each ch across."], [True, False]),
    ],
)
def test_a_line_of_work_without_a_label_is_the_row_whose_number_is_missing(lines: list[str], known: list[bool]) -> None:
    """A remark behind the line that begins the work hides no row; one behind a mere foundation may."""
    document = pattern(lines)
    first, second = document.parts[0].rows
    told = (first, Remark(("See the picture of the braid.",)), second)
    run = work_document(replace(document, parts=(replace(document.parts[0], items=told),)), {})[0]
    outcomes = [w.outcome for w in run.rows if w.outcome is not None]
    assert known == [outcome.made is not None and not outcome.edge.untested for outcome in outcomes]


def test_a_row_that_needs_a_beginning_which_no_row_tells() -> None:
    """ "Sc in next st, ch 1; rep across" on nothing at all makes nothing, and is not executed."""
    outcome = work(["Row 1: *Sc in next st, ch 1; rep from * across."])[0].outcome
    assert outcome is not None
    assert (None, "a beginning that no row tells") == (outcome.made, outcome.why)


def test_words_behind_a_step_that_fails_may_be_about_it() -> None:
    """Nobody understands them, so the step may well be right."""
    rows = [RING, "Rnd 2: Ch 1, sc in next 40 dc down the far flank, join."]
    assert ["", ""] == faults(rows)


def test_a_long_beginning_chain_is_a_loop_by_its_whole_length() -> None:
    """ "Ch 8, turn" was a dc and five chains; the next row but one calls the loop by the eight."""
    rows = [
        "Row 1: Ch 8, dc in 4th ch from hook and in next 4 ch, ch 8, turn.",
        "Row 2: Dc in next dc, dc in next 4 dc, ch 1, turn.",
        "Row 3: Sc in next 5 dc, 9 sc in ch 8 loop, turn.",
    ]
    assert "14 sc" == made(rows)[-1]


def test_a_count_behind_a_repeat_across() -> None:
    """ "Rep from * across, making 5 dc" asks for no more stitches: nothing is left to work them in."""
    rows = [
        "Row 1: Ch 10, dc in 4th ch from hook, *ch 1, skip 1 ch, dc in next ch; rep from * across, making 5 dc; turn."
    ]
    assert [""] == faults(rows)
    assert [5] == [item.number for item in work(rows)[0].stated]


def test_a_repeat_up_to_what_words_tell() -> None:
    """Nobody can say how far "until the strip fits the brim" is: unknown, and not nothing."""
    document = pattern([RING])
    until = Place(What.PIECE, words="the strip fits the brim")
    row = replace(document.parts[0].rows[0], steps=(Repeat((Work("sc"),), Extent.TO_PLACE, place=until),))
    part = replace(document.parts[0], items=(*document.parts[0].items, row))
    outcome = work_document(replace(document, parts=(part,)), {})[0].rows[-1].outcome
    assert outcome is not None
    assert (None, "a repeat up to what is told in words") == (outcome.made, outcome.why)


def test_a_spiral_ends_before_the_chain_with_which_it_goes_on() -> None:
    """Seven loops take three workings and a half; the chain behind it is that of the next round."""
    rows = [
        "Rnd 1: 7 sc in adjustable ring.",
        "Rnd 2: *Ch 3, sc in next sc; rep from * around.",
        "Rnd 3: *Ch 2, sc in next loop, ch 2, dc in next loop; rep from * around ending to correspond.",
    ]
    assert "7 ch-2 sps, 4 sc, 3 dc" == made(rows)[-1]


def test_a_round_comes_at_its_end_to_what_it_passed_at_its_beginning() -> None:
    """An sc stands in front of the first space: the sixth working goes into it. With none for it, it is passed."""
    net = ["Rnd 1: 6 sc in adjustable ring, join.", "Rnd 2: Ch 1, *sc in next st, ch 3; rep from * around, join."]
    rows = [*net, "Rnd 3: *6 dc in next ch-3 sp, sc in next sc; rep from * around, join. (36 dc, 6 sc)"]
    assert "36 dc, 6 sc" == made([*rows, "Rnd 4: Ch 1, sc in each st around, join."])[2]
    assert ["", "", "", ""] == faults([*rows, "Rnd 4: Ch 1, sc in next 42 sts, join."])
    assert "36 dc, 6 ch-1 sps" == made([*net, "Rnd 3: *6 dc in next ch-3 sp, ch 1; rep from * around, join."])[-1]
    slips = "Rnd 3: *6 dc in next ch-3 sp, sl st in next sc; rep from * around, join."
    assert "36 dc, 5 sl st" == made([*net, slips])[-1]


def test_a_round_may_go_on_into_the_chains_that_it_began_with() -> None:
    """An opening: once around, its chains are the next places, and no space any more; of a flat row they are not."""
    opening = "Rnd 3: Ch 4, skip 4 sc, sc in each remaining sc, sc in each ch."
    rows = ["Rnd 1: 6 sc in adjustable ring.", "Rnd 2: 2 sc in each sc.", opening, "Rnd 4: Sc in next 12 sc."]
    assert ["6 sc", "12 sc", "12 sc", "12 sc"] == made(rows)
    assert [""] * 4 == faults(rows)
    early = [*rows[:2], "Rnd 3: Ch 4, skip 4 sc, sc in next 6 sc, sc in each ch."]
    assert "out-of-stitches" == faults(early)[-1]
    flat = ["Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn.", opening.replace("Rnd 3", "Row 2")]
    assert "out-of-stitches" == faults(flat)[-1]


def test_petals_that_each_begin_in_the_stitch_of_the_slip_stitch_before_are_as_many_as_the_stitches() -> None:
    """ "Same st" takes the first stitch of the round and none later; the last slip stitch closes on the first."""
    petal = "ch 3, 2 dc in same st, ch 3, sl st in same st, sl st in next st"
    for stitches in (4, 8, 9):
        ring = f"Rnd 1: {stitches} sc in adjustable ring, join."
        flower = f"Rnd 2: *{petal.capitalize()}; rep from * around."
        assert f"{2 * stitches} ch-3 sps, {2 * stitches} dc, {2 * stitches} sl st" == made([ring, flower])[-1]
        some = f"Rnd 2: [{petal}] 3 times, leave rem sts unworked."
        assert "6 ch-3 sps, 6 dc, 6 sl st" == made([ring, some])[-1]
