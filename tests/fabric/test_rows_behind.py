"""One more row along an edge, told at the end of a line. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

FLAP = "Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn. (12 sc)"


@pytest.mark.parametrize(
    ("line", "makes"),
    [
        ("Row 2: Ch 1, 2 sc in first sc, sc in each sc across. Fasten off. Hdc evenly around entire flap.", "13 sc"),
        ("Row 2: Ch 1, sc in each sc across, do not turn. Work a row of sc around outer edge, join.", "12 sc"),
        ("Row 2: Ch 1, sc in each sc across, turn. Rep Row 2 4 times, do not turn. Sc evenly around flap.", "12 sc"),
        ("Row 2: Ch 1, sc in next 5 sc, work a row of sc around entire flap.", "?"),
    ],
)
def test_the_row_before_the_edging_is_worked(line: str, makes: str) -> None:
    """The line's own row is known; the row along the edge is not, nor what stands on it."""
    assert ["", "", ""] == faults([FLAP, line, "Row 3: Ch 1, sc in next 50 sc, turn."])
    assert [makes, "50 sc"] == made([FLAP, line, "Row 3: Ch 1, sc in next 50 sc, turn."])[1:]


def test_a_count_behind_the_edging_is_that_of_the_edging() -> None:
    """It says nothing of the row before."""
    rows = [FLAP, "Row 2: Ch 1, sc in each sc across, do not turn. Work a row of sc around entire flap, join. (30 sc)"]
    assert ["", ""] == faults(rows)
    assert "?" == made(rows)[-1]
    assert "" != whys(rows)[-1]
