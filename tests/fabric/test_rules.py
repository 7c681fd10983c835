"""The rules of the fabric, each with a row that shows it.

Common practice of the trade, no source, unless one is named.
"""

from __future__ import annotations

import pytest

from convert.document.records import Special, Worked
from convert.document.steps import Work
from tests.fabric.working import faults, made, work

RING = "Rnd 1: Ch 4, join with sl st to form a ring."


def test_a_row_worked_flat_meets_the_last_one_in_reverse() -> None:
    """The first stitches of row 2 go into the last ones of row 1."""
    rows = [
        "Row 1: Ch 7, sc in 2nd ch from hook and in next ch, dc in next 4 ch, turn.",
        "Row 2: Ch 1, sc in next 4 dc, sc in next 2 sc.",
    ]
    assert ["2 sc, 4 dc", "6 sc"] == made(rows)


def test_a_joined_round_meets_the_last_one_in_the_same_order() -> None:
    """Unturned rounds go on in the same direction."""
    rows = [
        "Rnd 1: Make an adjustable ring, 2 sc in ring, 4 dc in ring, join with sl st in first sc.",
        "Rnd 2: Ch 1, sc in next 2 sc, sc in next 4 dc, join.",
    ]
    assert ["2 sc, 4 dc", "6 sc"] == made(rows)


def test_a_beginning_chain_that_counts_sits_on_the_first_place() -> None:
    """ch 3 and 11 dc in the next stitches fill 12 places."""
    rows = [
        RING,
        "Rnd 2: Ch 3 (counts as dc), 11 dc in ring, join.",
        "Rnd 3: Ch 3 (counts as dc), dc in next 11 sts, join.",
    ]
    assert ["4 ch", "12 dc", "12 dc"] == made(rows)
    assert ["", "", ""] == faults(rows)


def test_a_beginning_chain_that_counts_may_share_its_place() -> None:
    """ "dc in same st" goes into the place of the chain."""
    rows = [
        RING,
        "Rnd 2: Ch 3 (counts as dc), 11 dc in ring, join.",
        "Rnd 3: Ch 3 (counts as dc), dc in same st, 2 dc in each st around, join.",
    ]
    assert "24 dc" == made(rows)[-1]


def test_a_beginning_chain_that_does_not_count_makes_nothing() -> None:
    """The first stitch goes where the chain stands."""
    rows = [
        RING,
        "Rnd 2: Ch 2 (does not count as st), 10 hdc in ring, join.",
        "Rnd 3: Ch 2 (does not count as st), hdc in each st around, join.",
    ]
    assert ["4 ch", "10 hdc", "10 hdc"] == made(rows)


def test_a_chain_that_counts_as_a_stitch_and_a_chain() -> None:
    """ch 4 (counts as dc and ch 1) is a stitch and a space."""
    rows = [
        RING,
        "Rnd 2: Ch 4 (counts as dc and ch 1), [dc in ring, ch 1] 5 times, join with sl st in 3rd ch of beg ch-4.",
    ]
    assert "6 dc, 6 ch-1 sps" == made(rows)[-1]


def test_chains_between_stitches_make_one_space() -> None:
    """The next round can work into it, or into one of its chains."""
    rows = [
        RING,
        "Rnd 2: Ch 1, [sc in ring, ch 3] 4 times, join.",
        "Rnd 3: Ch 1, *5 sc in next ch-3 sp; rep from * around, join.",
    ]
    assert ["4 ch", "4 sc, 4 ch-3 sps", "20 sc"] == made(rows)
    inside = [*rows[:2], "Rnd 3: Ch 1, *sc in 2nd ch of next ch-3 sp; rep from * around, join."]
    assert "4 sc" == made(inside)[-1]


def test_next_stitch_passes_spaces_and_next_space_passes_stitches() -> None:
    """Passing without saying so is common."""
    rows = [RING, "Rnd 2: Ch 1, [2 sc in ring, ch 2] 3 times, join.", "Rnd 3: Ch 1, sc in next 6 sts, join."]
    assert ("6 sc", "") == (made(rows)[-1], faults(rows)[-1])
    spaces = [*rows[:2], "Rnd 3: Ch 1, 3 dc in each of next 3 ch-2 sps, join."]
    assert ("9 dc", "") == (made(spaces)[-1], faults(spaces)[-1])


def test_each_stitch_leaves_spaces_out_unless_they_are_named() -> None:
    """ "each st" works the stitches; "each st and each ch-1 sp" both."""
    rows = [RING, "Rnd 2: Ch 1, [2 sc in ring, ch 1] 3 times, join."]
    assert "6 sc" == made([*rows, "Rnd 3: Ch 1, sc in each st around, join."])[-1]
    assert "9 sc" == made([*rows, "Rnd 3: Ch 1, sc in each st and in each ch-1 sp around, join."])[-1]


@pytest.mark.parametrize(
    ("row", "expected"),
    [
        ("Row 1: Ch 11, sc in 2nd ch from hook and in each ch across.", "10 sc"),
        ("Row 1: Ch 12, dc in 4th ch from hook and in each ch across.", "10 dc"),
        ("Row 1: Ch 13, tr in 5th ch from hook and in each ch across.", "10 tr"),
        ("Row 1: Ch 11, hdc in 3rd ch from hook and in each ch across.", "10 hdc"),
    ],
)
def test_chains_left_at_the_hook_count_as_their_height_does(row: str, expected: str) -> None:
    """Foundation chains for ten stitches: cherryheartcrochet.co.uk, "Starting Chains" (2014), in US terms."""
    assert [expected] == made([row])


def test_the_stated_count_decides_what_the_skipped_chains_are() -> None:
    """Ten chains and dc in the 4th: eight with the chains counted, seven without."""
    assert "8 dc" == made(["Row 1: Ch 10, dc in 4th ch from hook and in each ch across. (8 dc)"])[-1]
    assert "7 dc" == made(["Row 1: Ch 10, dc in 4th ch from hook and in each ch across. (7 dc)"])[-1]


def test_left_over_stitches_are_an_error_with_their_number() -> None:
    """Unless they are left on purpose."""
    rows = ["Rnd 1: Make an adjustable ring, 6 sc in ring."]
    short = work([*rows, "Rnd 2: Sc in next 4 sts."])[-1].outcome
    assert short is not None
    assert [("stitches-left-over", 2)] == [(f.code, f.facts["left"]) for f in short.faults]
    assert "" == faults([*rows, "Rnd 2: Sc in next 4 sts, leave rem sts unworked."])[-1]
    assert "" == faults([*rows, "Rnd 2: Sc in next 4 sts, sk next 2 sts."])[-1]


def test_running_out_is_an_error_at_the_step_that_ran_out() -> None:
    """The step's own stretch of the text."""
    outcome = work(["Rnd 1: Make an adjustable ring, 6 sc in ring.", "Rnd 2: Sc in next 4 sts, dc in next 4 sts."])[
        -1
    ].outcome
    assert outcome is not None
    assert [("out-of-stitches", (25, 41))] == [(f.code, (f.span.column, f.span.end_column)) for f in outcome.faults]


def test_rep_from_star_counts_further_workings() -> None:
    """The first working is not among the times that are given: Star Book No. 98, American Thread Company, 1953."""
    rows = ["Rnd 1: Make an adjustable ring, 8 sc in ring."]
    assert "4 sc, 4 ch-1 sps" == made([*rows, "Rnd 2: *Sc in next st, ch 1, sk next st; rep from * 3 times."])[-1]
    assert "4 sc, 4 ch-1 sps" == made([*rows, "Rnd 2: *Sc in next st, ch 1, sk next st; rep from * 3 times more."])[-1]
    assert "4 sc, 4 ch-1 sps" == made([*rows, "Rnd 2: [Sc in next st, ch 1, sk next st] 4 times."])[-1]


def test_a_doubtful_repeat_is_read_as_it_fits() -> None:
    """Where only "in all" fits the row below, that is taken."""
    rows = [
        "Rnd 1: Make an adjustable ring, 6 sc in ring.",
        "Rnd 2: *Sc in next st, ch 1, sk next st; rep from * 3 times. (3 sc)",
    ]
    last = work(rows)[-1].outcome
    assert last is not None
    assert (True, "3 sc, 3 ch-1 sps") == (last.reading.fewer, made(rows)[-1])


def test_the_end_of_the_last_repeat_may_differ() -> None:
    """ "Ending with" replaces the end of the last working, wherever that begins."""
    shells = [
        (
            "Row 1: Ch 20, sc in 2nd ch from hook, *sk next 2 ch, 5 dc in next ch, sk next 2 ch, sc in next ch; "
            "rep from * across, turn."
        ),
        (
            "Row 2: Ch 3 (counts as dc), 2 dc in same st, *sk next 2 dc, sc in next dc, sk next 2 dc, 5 dc in "
            "next sc; rep from * across, ending with 3 dc in last sc, turn."
        ),
    ]
    assert ["4 sc, 15 dc", "16 dc, 3 sc"] == made(shells)
    loops = [
        "Rnd 1: Make an adjustable ring, 8 sc in ring, join with sl st in first sc.",
        "Rnd 2: Sc in first sc, *ch 3, sc in next sc; rep from * around, ending with ch 1, hdc in first sc.",
    ]
    assert "8 sc, 8 ch-3 sps" == made(loops)[-1]


def test_the_last_repeat_may_stop_at_a_mark() -> None:
    """ "Ending last rep at **" leaves out what stands behind the mark."""
    rows = [
        "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, *sc in next 2 sts, **ch 1, sk next st; rep from * across, ending last rep at **.",
    ]
    assert "8 sc, 3 ch-1 sps" == made(rows)[-1]


def test_a_repeat_to_the_last_stitches_must_leave_just_those() -> None:
    """It fits one number of stitches and not another."""
    row = "Row 2: Ch 1, *sc in next 3 sts, sk next st; rep from * to last st, sc in last st."
    assert "" == faults(["Row 1: Ch 14, sc in 2nd ch from hook and in each ch across, turn.", row])[-1]
    assert (
        "repeat-does-not-fit"
        == faults(["Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn.", row])[-1].split(",")[0]
    )


def test_an_unknown_row_is_unknown_and_a_stated_count_lets_the_work_resume() -> None:
    """Unknown is not wrong."""
    rows = [
        "Rnd 1: Make an adjustable ring, 6 sc in ring.",
        "Rnd 2: Do as you like.",
        "Rnd 3: Sc in each st around.",
        "Rnd 4: Do as before. (12 sc)",
        "Rnd 5: Sc in each st around.",
    ]
    assert ["6 sc", "?", "?", "?", "12 sc"] == made(rows)
    assert ["", "", "", "", ""] == faults(rows)


def test_every_size_is_executed() -> None:
    """A repeat that is exact for one size and off by one for another is the mistake to find."""
    from convert.fabric.proving import work_document
    from tests.fabric.working import pattern

    lines = [
        "Row 1: Ch 13 (16, 20), sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, *sc in next 2 sts, sk next st; rep from * across.",
    ]
    runs = work_document(pattern(lines, sizes=("S", "M", "L")), {})
    codes = [[f.code for w in run.rows if w.outcome for f in w.outcome.faults] for run in runs]
    assert [[], [], ["stitches-left-over"]] == codes


def test_groups_and_special_stitches() -> None:
    """A definition is executed; its stitches and the group itself can be counted."""
    shell = Special("shell", "shell", "shell", "shells", steps=(Work("dc", 5),))
    rows = [
        "Row 1: Ch 8, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, sc in first st, sk next 2 sts, shell in next st, sk next 2 sts, sc in last st. (1 shell, 2 sc)",
        "Row 3: Ch 1, turn, sc in next st, sc in center dc of next shell, sc in last st.",
    ]
    found = work(rows, specials=(shell,))
    assert ["7 sc", "2 sc, 5 dc", "3 sc"] == made(rows, specials=(shell,))
    assert ["", "", ""] == [",".join(f.code for f in w.outcome.faults) if w.outcome else "" for w in found]


def test_a_stitch_that_is_only_named_has_an_unknown_effect() -> None:
    """A stitch of the author's without a definition is not counted as one stitch."""
    reed = Special("reed", "reed", "reed")
    rows = ["Row 1: Ch 8, sc in 2nd ch from hook and in each ch across, turn.", "Row 2: Ch 1, reed in each st across."]
    found = work(rows, specials=(reed,))
    assert ["7 sc", "?"] == made(rows, specials=(reed,))
    assert [None, "a stitch that is named and not explained"] == [
        w.outcome.why or None if w.outcome else "" for w in found
    ]


def test_increases_and_decreases_follow_the_stitch_around_them() -> None:
    """ "inc" in a round of hdc makes hdc."""
    rows = [
        "Rnd 1: Make an adjustable ring, 6 hdc in ring.",
        "Rnd 2: Inc in each st around.",
        "Rnd 3: [Hdc in next st, inc] 6 times.",
        "Rnd 4: [Hdc in next st, dec] 6 times.",
    ]
    assert ["6 hdc", "12 hdc", "18 hdc", "6 hdc, 6 hdc2tog"] == made(rows)


def test_rows_again_and_ranges() -> None:
    """Ranges of rows, "rep rows", "next 3 rows" and "rep last row" work the rows meant."""
    rows = [
        "Row 1: Ch 7, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, 2 sc in first st, sc in each st across, turn.",
        "Row 3: Ch 1, sc in each st across, turn.",
        "Rows 4-7: Rep Rows 2 and 3.",
        "Rep Rows 2 and 3 2 times more.",
        "Next 3 rows: Ch 1, 2 sc in first st, sc in each st across, turn.",
        "Rep last row once more.",
    ]
    assert ["6 sc", "7 sc", "7 sc", "9 sc", "11 sc", "14 sc", "15 sc"] == made(rows)


def test_slip_stitches_move_the_start_of_a_round_and_leave_stitches_in_rows() -> None:
    """To the corner in the round; past the armhole in rows."""
    square = [
        RING,
        "Rnd 2: Ch 3 (counts as dc), 2 dc in ring, ch 2, [3 dc in ring, ch 2] 3 times, join.",
        (
            "Rnd 3: Sl st in next 2 dc, sl st in next ch-2 sp, ch 3 (counts as dc), 2 dc in same sp, [3 dc in "
            "next ch-2 sp] 3 times, join."
        ),
    ]
    assert ("12 dc", "") == (made(square)[-1], faults(square)[-1])
    row = [
        "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Sl st in next 3 sts, ch 1, sc in next 4 sts, leave rem sts unworked, turn.",
        "Row 3: Ch 1, sc in next 4 sts.",
    ]
    assert "" == faults(row)[-1]


def test_rows_worked_in_a_spiral_need_no_join() -> None:
    """Each round begins where the last one ended."""
    rows = ["Rnd 1: Make an adjustable ring, 6 sc in ring.", "Rnd 2: 2 sc in each st around."]
    assert ["6 sc", "12 sc"] == made(rows, worked=Worked.SPIRAL)
