"""Rows that count all they make, on an edge that nobody tells. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, work

RING = "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 12 sc in ring, join."
UNKNOWN = "Rnd 2: Sc in each sc, and then vary it all over, join."
LOOPS = "Rnd 3: Sl st in next loop, ch 7, *dc in next loop, ch 4; rep from * 8 times, join."


def test_a_row_that_counts_all_it_makes_is_counted_on_any_edge() -> None:
    """Nine dc behind the beginning chain, which stands for one and a ch-4 space, whatever the round before was."""
    assert ["12 sc", "?", "10 dc, 10 ch-4 sps"] == made([RING, UNKNOWN, LOOPS])


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 3: Ch 1, sc in each st around, join.",
        "Rnd 3: Ch 1, *sc in next st, ch 2; rep from * around, join.",
        "Rnd 3: Ch 1, sc in next 4 sts, dc in each of the remaining sts, join.",
        "Rnd 3: Ch 1, sc in next 4 sts, inc in next st, join.",
        "Rnd 3: Ch 1, sc in next 4 sts, and then do as you like, join.",
        "Rnd 3: Ch 1, (2 dc, ch 1, 2 dc) in every other st around, join.",
    ],
)
def test_a_row_that_asks_the_edge_how_many_is_unknown(line: str) -> None:
    """All around, all that remain, a stitch that is that of the work around: the edge decides, and nobody tells it."""
    assert ["12 sc", "?", "?"] == made([RING, UNKNOWN, line])


def test_a_turning_chain_that_nobody_tells_may_stand_for_a_stitch() -> None:
    """Four dc, or five with the chain at whose foot the row begins: not known. A single crochet has none."""
    flat = ["Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn.", "Row 2: Sc as you please, turn."]
    assert "?" == made([*flat, "Row 3: Dc in next 4 sts, turn."])[-1]
    assert "4 sc" == made([*flat, "Row 3: Sc in next 4 sts, turn."])[-1]


def test_what_does_not_fit_on_a_row_counted_alone_is_unknown_and_not_wrong() -> None:
    """Who knows whether the round above was counted right."""
    rows = [
        RING,
        UNKNOWN,
        LOOPS,
        "Rnd 4: Ch 1, *3 sc in next ch-4 sp; rep from * 11 times, sc in each dc around, join.",
    ]
    assert ["", "", "", ""] == faults(rows)
    assert "?" == made(rows)[-1]


def test_rows_are_sure_again_behind_a_stated_count_that_agrees() -> None:
    """From then on a row that does not fit is wrong."""
    sure = "Rnd 4: Ch 1, *3 sc in next ch-4 sp; rep from * around, join. (30)"
    too_many = "Rnd 5: Ch 1, sc in next 31 sc, join."
    assert "out-of-stitches" == faults([RING, UNKNOWN, LOOPS, sure, too_many])[-1]
    assert "" == faults([RING, UNKNOWN, LOOPS, sure.replace(" (30)", ""), too_many])[-1]


def test_a_row_counted_alone_is_not_proved_and_says_why() -> None:
    """It is known what a round with places told in words makes; its edge is not checked."""
    round_2 = "Rnd 2: Ch 1, sc in next 5 sc, 2 dc in next loop of the rail, sc in next 5 sc, join."
    outcome = work([RING, round_2])[-1].outcome
    assert outcome is not None
    assert outcome.edge.untested
    assert outcome.why


def test_stitches_told_for_a_whole_edge_are_counted_once() -> None:
    """ "Work 31 sc down the side" makes 31, wherever they go; how many "sc down the side" are, only the edge tells."""
    rows = [
        "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn.",
        "Next row: Working over side of each row",
    ]
    assert "31 sc" == made([rows[0], f"{rows[1]} work 31 sc down side, ch 1, turn."])[-1]
    side = work([rows[0], f"{rows[1]} work sc down side, ch 1, turn."])[-1].outcome
    assert side is not None
    assert (True, 24) == (side.edge.untested, side.edge.turns)


def test_a_row_goes_on_from_the_last_one_to_edges_that_nobody_tells() -> None:
    """Eight stitches, six along the ends of rows and four more: eighteen, but the row is not proved."""
    first = "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn."
    row = "Row 2: Ch 1, sc in each sc, sc in side of next 6 rows, working all around the tip, sc in next 4 sts, join."
    assert ["8 sc", "18 sc"] == made([first, row])
    assert [False, True] == [w.outcome.edge.untested for w in work([first, row]) if w.outcome]
    assert "?" == made([first, row.replace("next 4 sts", "each st")])[-1]


def test_an_edge_is_met_only_where_the_last_row_is_used_up() -> None:
    """The ends of rows in the middle of a row are beyond what is known."""
    first = "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn."
    rows = [first, "Row 2: Ch 1, sc in next 3 sc, sc in side of next 6 rows, sc in each sc across, turn."]
    assert "?" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_where_a_repeat_begins_may_depend_on_the_edge() -> None:
    """The second reference to the mark may mean all that stands behind it, or only the loop that is told once more."""
    line = (
        "Rnd 3: Ch 1, *ch 4, sc in next loop; rep from * twice more, ch 9, {}ch 4, sc in next loop; "
        "rep from * 3 times more, join."
    )
    assert "?" == made([RING, UNKNOWN, line.format("")])[-1]
    assert "6 ch-4 sps, 7 sc, 1 ch-13 sp" == made([RING, UNKNOWN, line.format("*")])[-1]
