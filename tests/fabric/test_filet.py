"""Meshes told by their number, and lines that tell of further rows. Common practice of filet crochet, no source."""

from __future__ import annotations

import pytest

from convert.fabric.steps.filet import Meshes, meshes_told
from tests.fabric.working import faults, made, whys, work

NET = "Row 1: Ch 23, dc in 8th ch from hook, make 5 more sps across. Ch 5, turn."


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("make 4 more sps", Meshes(4, blocks=False)),
        ("2 bls", Meshes(2, blocks=True)),
        ("Work 3 meshes across", Meshes(3, blocks=False)),
        ("sp over each sp across", Meshes(None, blocks=False)),
        ("bl over next 3 sps", Meshes(3, blocks=True)),
        ("inc 3 sps", Meshes(3, blocks=False, beside=True)),
        ("inc in each sp", None),
        ("make 4 sps in each corner", None),
        ("complete as for first sleeve", None),
    ],
)
def test_how_many_meshes(words: str, told: Meshes | None) -> None:
    """A number of spaces or blocks and nothing else."""
    assert told == meshes_told((words,))


def test_spaces_on_a_foundation_chain() -> None:
    """Two chains to a space, as the seven at the hook tell: a double, and two chains below and above its space."""
    assert "7 dc, 6 ch-2 sps" == made([NET])[-1]


def test_spaces_over_spaces() -> None:
    """The turning chain is the first stitch with its space."""
    rows = [NET, "Row 2: Make sp over each sp across. Ch 5, turn.", "Row 3: Make 6 sps. Ch 5, turn."]
    assert ["7 dc, 6 ch-2 sps"] * 3 == made(rows)
    assert ["", "", ""] == faults(rows)


def test_blocks_and_spaces_over_one_another() -> None:
    """A block has two doubles more than its corner; over a block, a space passes two."""
    rows = [
        NET,
        "Row 2: Make 2 sps, 2 bls, 2 sps. Ch 5, turn.",
        "Row 3: Make 1 sp, 2 bls, 3 sps. Ch 5, turn.",
    ]
    assert ["11 dc, 4 ch-2 sps"] * 2 == made(rows)[1:]


def test_a_space_more_in_front_of_the_row() -> None:
    """The chain has the two chains under that space as well."""
    rows = [NET.replace("Ch 5, turn", "Ch 7, turn"), "Row 2: Dc in first dc, make 6 more sps. Ch 5, turn."]
    assert "8 dc, 7 ch-2 sps" == made(rows)[-1]


def test_meshes_on_another_row_are_unknown() -> None:
    """A row of plain stitches has no meshes, and too many are no sure error: how wide they are is untold."""
    plain = "Row 1: Ch 12, dc in 4th ch from hook and in each ch across. Ch 5, turn."
    for rows in ([plain, "Row 2: Make 3 sps, turn."], [NET, "Row 2: Make 9 sps, turn."]):
        assert ("?", "", "work told elsewhere") == (made(rows)[-1], faults(rows)[-1], whys(rows)[-1])


def test_a_row_that_points_to_further_ones_is_worked_itself() -> None:
    """What those make is unknown, and said to be so."""
    rows = [NET, "Row 2: Make 6 sps. Ch 5, turn. Follow chart to top. Fasten off.", "Row 9: Make 2 sps, turn."]
    assert ["7 dc, 6 ch-2 sps", "?"] == made(rows)[1:]
    assert "work told elsewhere" == whys(rows)[1]


def test_rows_repeated_until_so_many_are_completed() -> None:
    """Row 2 and 3 until 9 rows: three more times."""
    again = "Repeat 2nd and 3rd rows alternately until 9 rows are completed"
    rows = [
        "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, sc in each sc across, turn.",
        f"Row 3: Ch 1, 2 sc in first sc, sc in each sc across, turn. {again}.",
    ]
    assert "14 sc" == made(rows)[-1]
    assert 7 == work(rows)[-1].worked


def test_turns_that_work_a_part_of_the_row_are_unknown() -> None:
    """What becomes of the stitches left is not told."""
    rows = [
        "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, sc in each sc across. Ch 3, turn. Sc in first sc, sc in next sc. Ch 1, turn.",
    ]
    assert "?" == made(rows)[-1]


def test_rows_repeated_for_a_length_that_leave_the_width_as_it_was() -> None:
    """Two rows of different width, and after both as many stitches as before: so it is at any length."""
    rows = [
        "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, 2 sc in each sc across, turn.",
        "Row 3: Ch 1, *sc2tog; rep from * across, turn. Repeat last 2 rows for desired length.",
        "Row 4: Ch 1, sc in next 10 sts, turn.",
    ]
    assert ["10 sc2tog", "10 sc"] == made(rows)[2:]
    growing = [
        rows[0],
        rows[1],
        "Row 3: Ch 1, sc in each sc across, turn. Repeat last 2 rows for desired length.",
        rows[3],
    ]
    assert work(growing)[2].unknown_after


def test_rows_with_fewer_spaces_until_so_many_are_left() -> None:
    """Eleven spaces, then eight, five and two: three rows, each three narrower than the one before."""
    rows = [
        "Row 1: Ch 51, tr in 11th ch from hook, make 10 more sps across. Ch 7, turn.",
        "Row 2: Make 11 sps. Turn.",
        (
            "Row 3: Sl st across first mesh to next tr, ch 7, tr in next tr, 7 more sps. Turn. "
            "Work same as last row, having 3 meshes fewer in each row until only 2 meshes are left. Fasten off."
        ),
    ]
    worked = work(rows)[-1]
    assert ("2 sl st, 3 tr, 2 ch-3 sps", 3) == (made(rows)[-1], worked.worked)
    assert ["", "", ""] == faults(rows)


@pytest.mark.parametrize(("left", "what"), [(2, "2 sl st, 3 tr, 2 ch-3 sps"), (3, "?"), (8, "?"), (9, "?")])
def test_rows_that_never_come_to_the_number_are_unknown(left: int, what: str) -> None:
    """Eight spaces with three fewer each time are five and two, and never another number."""
    rows = [
        "Row 1: Ch 43, tr in 11th ch from hook, make 8 more sps across. Turn.",
        (
            "Row 2: Sl st across first mesh to next tr, ch 7, tr in next tr, 7 more sps. Turn. "
            f"Work same as last row, but having 3 meshes fewer in each row until {left} meshes are left."
        ),
    ]
    assert what == made(rows)[-1]


@pytest.mark.parametrize(
    "lead",
    ["Sl st across first mesh to next dc", "Sl st in first sp, sl st in next dc", "Sl st in next 2 ch and in next dc"],
)
def test_slip_stitches_lead_past_the_first_space(lead: str) -> None:
    """The chain behind them is a double and its space, and they are no place for the next row."""
    back = f"{lead}, ch 5, 1 dc into next dc, 2 more sps. Turn."
    rows = [
        NET.replace(" Ch 5, turn", " Turn"),
        f"Row 2: {back}",
        "Row 3: Sl st in first sp, sl st in next dc, ch 5, 1 dc into next dc. Turn.",
    ]
    assert ["4 dc, 3 ch-2 sps", "2 dc, 1 ch-2 sp"] == [one.split("sl st, ")[1] for one in made(rows)[1:]]
