"""Rows that go on until so many stitches are left. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, work

START = "Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn."
NARROW = "Row 2: Ch 1, sc2tog, sc in each st to last 2 sts, sc2tog, turn."
PLAIN = "Ch 1, sc in each st across, turn."


@pytest.mark.parametrize(
    "line",
    [
        "Repeat Row 2 until 6 sts remain.",
        "Rep last row until 6 sts rem. Fasten off.",
        "Rep Row 2 until there are 6 sts left, turn.",
        "Repeat last row until you have only 6 sc.",
        "Rep Row 2 until 6 (8, 10) sts remain.",
    ],
)
def test_rows_are_worked_as_often_as_it_takes(line: str) -> None:
    """From 18 stitches to 6, by two a row: six rows, and the next one goes on from them."""
    rows = [START, NARROW, line, f"Next row: {PLAIN}"]
    assert ["20 sc", "2 sc2tog, 16 sc", "2 sc2tog, 4 sc", "6 sc"] == made(rows)
    assert (6, False) == (work(rows)[2].worked, work(rows)[2].open_end)


def test_each_size_has_its_number() -> None:
    """Another number of rows for each."""
    from convert.fabric.proving import work_document
    from tests.fabric.working import pattern

    document = pattern([START, NARROW, "Rep Row 2 until 6 (8, 10) sts remain."], sizes=("S", "M", "L"))
    assert [6, 5, 4] == [run.rows[-1].worked for run in work_document(document, {})]


def test_rows_that_take_turns_stop_where_the_number_is_reached() -> None:
    """The row that reaches it is the last."""
    rows = [START, NARROW, f"Row 3: {PLAIN} Repeat Rows 2 and 3 until 10 sts remain."]
    assert (["20 sc", "2 sc2tog, 16 sc", "2 sc2tog, 8 sc"], 8) == (made(rows), work(rows)[-1].worked)


def test_rows_that_grow_to_a_number() -> None:
    """The number may be greater than that of the row before."""
    wide = "Row 2: Ch 1, 2 sc in first sc, sc in each sc to last sc, 2 sc in last sc, turn."
    rows = [START, wide, "Repeat Row 2 until there are 30 sts."]
    assert (["20 sc", "22 sc", "30 sc"], 4) == (made(rows), work(rows)[-1].worked)


def test_spaces_are_counted_too() -> None:
    """Loops, and not the stitches between them."""
    mesh = "Row 1: Ch 25, sc in 4th ch from hook, (ch 3, skip 2 ch, sc in next ch) 7 times, turn."
    fewer = "Row 2: Sl st into next loop, ch 1, sc in same loop, *ch 3, sc in next loop; rep from * across, turn."
    assert ["3 ch-3 sps"] == [made([mesh, fewer, "Repeat Row 2 until 3 loops remain."])[-1].split(", ")[-1]]


@pytest.mark.parametrize("until", ["until 5 sts remain", "until 40 sts remain", "until 3 tassels remain"])
def test_a_number_that_is_never_reached_stays_open(until: str) -> None:
    """Nothing is guessed, and nothing is called wrong."""
    rows = [START, NARROW, f"Repeat Row 2 {until}.", f"Next row: {PLAIN}"]
    assert ("?", ["", "", "", ""]) == (made(rows)[-1], faults(rows))


def test_rows_without_shaping_never_come_to_a_number() -> None:
    """A turn of the rows that changes nothing ends the search."""
    assert [True] == [work([START, f"Row 2: {PLAIN}", "Repeat Row 2 until 6 sts remain."])[-1].open_end]


@pytest.mark.parametrize(
    ("line", "left", "many"),
    [
        ("Continue in same manner until 6 sts remain.", "2 sc2tog, 4 sc", 6),
        ("Continue in this manner until 4 sts remain, fasten off.", "2 sc2tog, 2 sc", 7),
        ("Continue in pattern until there are 8 sts.", "2 sc2tog, 6 sc", 5),
        ("Continue in sc, decreasing 1 st at each end of every row until 6 sts remain.", "2 sc2tog, 4 sc", 6),
        ("Work in sc decreasing 1 sc at each end of next 3 rows.", "2 sc2tog, 10 sc", 3),
        ("Work in sc, decreasing 1 sc at each end of every row 4 times.", "2 sc2tog, 8 sc", 4),
        ("Rep this row 3 times.", "2 sc2tog, 10 sc", 3),
    ],
)
def test_rows_that_go_on_with_their_shaping(line: str, left: str, many: int) -> None:
    """The last row is the one that goes on, or the one that the line tells."""
    found = work([START, NARROW, line])[-1]
    assert (left, many) == (made([START, NARROW, line])[-1], found.worked)


def test_rows_that_take_turns_go_on_in_turn() -> None:
    """They were worked over and over; a plain row behind a shaped one does not tell which of them go on."""
    on = "Continue in same manner until 6 sts remain."
    rows = [START, NARROW, f"Row 3: {PLAIN}"]
    assert "?" == made([*rows, on])[-1]
    assert ("2 sc2tog, 4 sc", 9) == (
        made([*rows, "Rep last 2 rows.", on])[-1],
        work([*rows, "Rep last 2 rows.", on])[-1].worked,
    )
