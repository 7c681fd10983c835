"""What "6 times" means where nothing decides it: what it meant in the rows before, as their counts showed."""

from __future__ import annotations

import pytest

from tests.fabric.working import made

ROWS = ["Ch 16.", "Row 1: Sc in 2nd ch from hook and in each ch across, turn. (15 sc)"]
OPEN = "Row 3: Ch 1, sc in next st, (ch 3, sc in next st) repeat 4 times, turn. Leave remaining sts unworked."


@pytest.mark.parametrize(
    ("row", "stitches"),
    [
        ("Row 2: Ch 1, (sc in next 2 sts, sc2tog) repeat 3 times, sc in last 3 sts, turn. (12 sc)", "5 sc"),
        ("Row 2: Ch 1, (sc in next 2 sts, sc2tog) repeat 2 times, sc in last 3 sts, turn. (12 sc)", "6 sc"),
    ],
)
def test_a_repeat_is_read_as_the_ones_before(row: str, stitches: str) -> None:
    assert made([*ROWS, row, OPEN])[-1].startswith(stitches)
