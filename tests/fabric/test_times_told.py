"""What "6 times" means where nothing decides it: what it meant in the rows before, as their counts showed."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.document.steps import Repeat
from convert.pipeline import check_source
from convert.source import Source
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


def test_what_no_row_shows_is_written_as_the_rows_that_do() -> None:
    """The last round joins another piece and is not executed; it says "4 times" as the ones before said theirs."""
    text = (
        "Bun\n\nUS terms.\n\nRnd 1: 6 sc in adjustable ring. (6)\nRnd 2: (2 sc in next st) repeat 6 times. (12)\n"
        "Rnd 3: (ch 7, sc in 2nd ch from hook, sl st in next st of Rnd 1) repeat 4 times.\n"
    )
    done = check_source(Source("bun.txt", text), "text", ReadOptions())
    assert done.document is not None
    (last,) = done.document.parts[0].rows[-1].steps
    assert isinstance(last, Repeat)
    assert 4 == last.times
