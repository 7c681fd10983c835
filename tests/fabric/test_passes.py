"""Rows worked in two passes: the loop on the hook, the way back, and the side from which the next row begins."""

from __future__ import annotations

import pytest

from convert.fabric.cells import Strip
from tests.fabric.working import work

FOUNDATION = "Row 1: Ch 12, Tss in 2nd ch from hook and in each ch across."


def kinds(strip: Strip | None) -> list[str]:
    """Every cell of a strip, in order."""
    assert strip is not None
    return [strip.at(index)[0].kind for index in range(strip.length)]


@pytest.mark.parametrize(
    "row",
    [
        "Row 2: Tss in each st across.",
        "Row 2: Skip first st, Tss in each st across.",
        "Row 2: Skip next st, Tks in next 4 sts, Tps in next 7 sts.",
        "Row 2: Ch 1, Tss in each st across.",
    ],
)
def test_the_loop_on_the_hook_is_the_first_stitch(row: str) -> None:
    """It stands over the first stitch below, whether that is said to be skipped or not."""
    worked = work([FOUNDATION, row])
    assert [12, 12] == [one.outcome.made.length for one in worked if one.outcome and one.outcome.made]
    assert () == worked[-1].outcome.faults if worked[-1].outcome else False


def test_one_stitch_too_many_runs_out() -> None:
    """Twelve stitches have eleven places behind the first."""
    worked = work([FOUNDATION, "Row 2: Tss in next 12 sts."])[-1]
    assert worked.outcome is not None
    assert ["out-of-stitches"] == [fault.code for fault in worked.outcome.faults]


def test_the_work_is_not_turned() -> None:
    """Every row begins at the same edge: what was drawn together at the beginning is met at the beginning."""
    rows = [FOUNDATION, "Row 2: Tss2tog, Tss in each st across.", "Row 3: Tss in each st across."]
    worked = work(rows)[-1].outcome
    assert worked is not None
    assert ["tss", "tss2tog", *["tss"] * 9] == kinds(worked.base)


def test_other_rows_are_turned() -> None:
    """A row of single crochet (US) is met from its end."""
    rows = [
        "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 1, sc2tog, sc in each st across, turn.",
        "Row 3: Ch 1, sc in each st across.",
    ]
    worked = work(rows)[-1].outcome
    assert worked is not None
    assert [*["sc"] * 9, "sc2tog"] == kinds(worked.base)
