"""Rows worked even, earlier rows among other sentences of a line, and how a spiral ends.

Common practice of the trade, no source.
"""

from __future__ import annotations

from tests.fabric.working import faults, made, work

DISC = ["Rnd 1: 6 sc in adjustable ring.", "Rnd 2: 2 sc in each st around."]
STRIP = "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn."


def _why(lines: list[str]) -> list[str]:
    return [w.outcome.why for w in work(lines) if w.outcome]


def test_rows_worked_even_behind_a_row_keep_its_stitches() -> None:
    """ "Work 2 rounds even" is two rounds more, which later lines count back to."""
    rows = [*DISC, "Rnd 3: Inc in every 3rd sc. Work 2 rounds even.", "Repeat last 3 rounds once."]
    assert ["6 sc", "12 sc", "16 sc", "21 sc"] == made(rows)
    assert [1, 1, 3, 3] == [w.worked for w in work(rows)]


def test_the_stitch_of_rows_worked_even() -> None:
    """It is the one that is named, or the only one that the last row has; in a pattern nobody knows."""
    assert "8 dc" == made([STRIP, "Ch 3, turn. Work even in dc for 3 rows."])[-1]
    mixed = [STRIP, "Row 2: Ch 1, *sc in next st, dc in next st; rep from * across, turn. Work 2 rows even."]
    assert "?" == made(mixed)[-1]
    assert "work told elsewhere" == _why(mixed)[-1]
    spaced = [STRIP, "Row 2: Ch 1, *sc in next st, ch 1, sk next st; rep from * across, turn.", "Work 2 rows even."]
    assert "?" == made(spaced)[-1]


def test_rows_worked_even_to_a_length_go_on_with_as_many_stitches() -> None:
    """How many rows that is stays open; the edge does not."""
    rows = [
        STRIP,
        "Row 2: Ch 1, sc in each st across, turn. Work even until piece measures 6 inches.",
        "Ch 1, sc in next 8 sts.",
    ]
    assert ["8 sc", "8 sc", "8 sc"] == made(rows)


def test_a_spiral_is_led_to_its_end_behind_rounds_worked_again() -> None:
    """A few stitches and a slip stitch leave the last round as it is; more than go once around do not."""
    rows = [
        *DISC,
        "Rnd 3: Sc in each st around. Repeat last round 4 times, sc in next 2 sts, sl st in next st, fasten off.",
    ]
    assert "12 sc" == made(rows)[-1]
    assert [""] * 3 == faults(rows)
    longer = [
        rows[0],
        "Rnd 2: Sc in each st around. Repeat last round twice, sc in next 7 sts, sl st in next st, fasten off.",
    ]
    assert "?" == made(longer)[-1]
    assert [""] * 2 == faults(longer)


def test_work_behind_repeated_rows_is_one_more_row() -> None:
    """How often they are repeated must be told: otherwise it may be how the repeated row ends this time."""
    row = "Row 2: Ch 1, sc in each st across, turn."
    assert "16 sc" == made([STRIP, row, "Repeat last row 3 times, ch 1, 2 sc in each st across, turn."])[-1]
    assert "?" == made([STRIP, row, "Repeat last row, 2 sc in each st across, turn."])[-1]


def test_a_turning_chain_told_once_more_replaces_that_of_the_row() -> None:
    """ "Repeat last row 3 times, ch 3, turn": the chain counts in the row behind."""
    rows = [STRIP, "Row 2: Ch 1, sc in each st across, ch 1, turn.", "Repeat last row 3 times, ch 3, turn."]
    assert "8 dc" == made([*rows, "Next row: Skip first st, dc in next 7 sts, turn."])[-1]


def test_a_row_that_leaves_its_last_stitches_makes_fewer() -> None:
    """The stitches left are no left-overs, and none of those that are worked."""
    assert "6 sc" == made([STRIP, "Row 2: Ch 1, sc in each st across leaving 2 sts free at the neck, turn."])[-1]
    assert ["", "stitches-left-over"] == faults([STRIP, "Row 2: Ch 1, sc in next 6 sts, turn."])


def test_rows_up_to_so_many_stripes() -> None:
    """The rows worked so far are the first stripes; behind more of them than one turn of the colours it stays open."""
    stripes = "Work 2 rows B, 2 rows A until there are 4 stripes of each color."
    even = "Row 2: Ch 1, sc in each sc across, turn."
    assert [15, 14] == [work([STRIP, stripes])[-1].worked, work([STRIP, even, stripes])[-1].worked]
    longer = work([STRIP, even, "Repeat last row 4 times.", stripes])[-1]
    assert (4, True) == (longer.worked, longer.open_end)


def test_stripes_behind_rows_that_grow_are_unknown() -> None:
    """They may grow as well, unless they are said to be worked even."""
    wider = "Row 2: Ch 1, 2 sc in first sc, sc in each sc to last sc, 2 sc in last sc, turn."
    assert ["?", "10 sc"] == [
        made([STRIP, wider, f"Work {how}3 more rows in Teal."])[-1] for how in ("", "even in sc, work ")
    ]


def test_a_row_told_behind_a_length_is_worked() -> None:
    """ "... until it is so long, then ch 1, ...": the length ends at the comma, and another row follows."""
    rows = [
        STRIP,
        "Row 2: Ch 1, sc in each sc across until piece measures 15 cm, then ch 1, 2 sc in first sc, sc in each sc.",
    ]
    assert ["8 sc", "9 sc"] == made(rows)
    assert ["", ""] == faults(rows)
