"""Work that goes evenly along an edge. Common practice of edgings, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, work

PIECE = ["Row 1: Ch 16, sc in 2nd ch from hook and in each ch across, turn.", "Row 2: Ch 1, sc in each sc, turn."]
ARMHOLE = "Rnd 3: Join yarn at underarm, ch 1, sc evenly around armhole, join with sl st in first sc."


def test_as_many_stitches_as_the_edge_takes_stand_for_any_number() -> None:
    """The next round goes over six of them at a time: twenty-four are four times six."""
    rows = [*PIECE, ARMHOLE, "Rnd 4: Ch 1, *sc in next 4 sc, sc2tog; rep from * around, join."]
    assert ["24 sc", "16 sc, 4 sc2tog"] == made(rows)[2:]
    assert [(True, 24)] * 2 == _open(rows)


def test_so_many_are_taken_as_suit_the_rows_on_them() -> None:
    """Twenty-eight are four times seven."""
    rows = [*PIECE, ARMHOLE, "Rnd 4: Ch 1, *sc in next 5 sc, sc2tog; rep from * around, join."]
    assert ["28 sc", "20 sc, 4 sc2tog"] == made(rows)[2:]
    assert [(True, 28)] * 2 == _open(rows)


def test_what_does_not_fit_on_any_number_is_never_called_wrong() -> None:
    """How many go along, only the maker knows."""
    rows = [*PIECE, ARMHOLE, "Rnd 4: Ch 1, *sc in next 90 sc, ch 2; rep from * around, join."]
    assert (["", "", "", ""], "?") == (faults(rows), made(rows)[-1])


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Row 3: Join yarn at the right corner, work 1 row of dc evenly along the neck edge, turn.", "24 dc"),
        ("Work a row of dc along the straight edge of the flap.", "24 dc"),
        ("Row 3: Join yarn, *sc evenly along the side, 3 sc in corner; rep from * 2 times more, fasten off.", "81 sc"),
        ("Row 3: Join yarn, *sc evenly along the side, 3 sc in corner; rep from * around, fasten off.", "?"),
    ],
)
def test_each_edge_has_so_many(line: str, expected: str) -> None:
    """Those of a repeat too, if it tells how many edges there are."""
    assert expected == made([*PIECE, line])[-1]


def test_a_count_says_how_many_there_are() -> None:
    """It is not known how they lie along the edges, and they are not taken for so many along each."""
    rows = [*PIECE, ARMHOLE.replace("sc.", "sc. (44 sc)"), "Rnd 4: Ch 1, sc in each sc around, join. (44 sc)"]
    assert ["44 sc", "44 sc"] == made(rows)[2:]
    assert [0, 0] == [turns for _, turns in _open(rows)]


def _open(rows: list[str]) -> list[tuple[bool, int]]:
    """Of the rows behind the piece, whether each is unproved, and how many stitches stand for any number."""
    outcomes = [worked.outcome for worked in work(rows)[len(PIECE) :]]
    return [(outcome.edge.untested, outcome.edge.turns) for outcome in outcomes if outcome is not None]
