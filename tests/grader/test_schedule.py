"""Schedules of shaping: every row used, shaping rows as even as they can be, and the rows come out when executed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.read import ReadOptions
from convert.grader.schedule import NoSchedule, gaps, positions, schedule
from convert.pipeline import Checked, check_source
from convert.source import Source

PIECE = """\
format: "1"
title: Wedge
terms: us
sizes:
  - {id: s, name: S, numbers: {wide: 20}}
  - {id: m, name: M, numbers: {wide: 30}}
  - {id: l, name: L, numbers: {wide: 34}}
parts:
  - name: Wedge
    worked: rows
    rows:
      - "Row 1: Ch {wide + 1}, sc in 2nd ch from hook and in each ch across, turn. — {wide} sc"
      - shape:
          start: "{wide}"
          end: END
          rows: 24
          step: STEP
          shaped: Ch 1, sc2tog, sc in each st to last 2 sts, sc2tog, turn
          even: Ch 1, sc in each st across, turn
      - "Next row: Ch 1, sc in each st across. — END sc"
"""


def _checked(end: int, step: int = 1) -> Checked:
    text = PIECE.replace("END", str(end)).replace("STEP", str(step))
    return check_source(Source("wedge", text), "yaml", ReadOptions())


@given(st.integers(0, 200), st.integers(0, 60), st.integers(1, 3), st.integers(0, 3), st.integers(0, 3))
def test_a_schedule_uses_every_row_and_makes_every_change(
    rows: int, changes: int, step: int, before: int, after: int
) -> None:
    """Or says that it cannot; intervals differ by one step at most."""
    try:
        plan = schedule(rows, changes, step=step, before=before, after=after)
    except NoSchedule:
        assert (rows - before - after) // step < changes or rows < before + after
        return
    assert rows == plan.rows
    assert changes == sum(stretch.times for stretch in plan.stretches)
    lengths = [stretch.interval for stretch in plan.stretches]
    assert lengths == sorted(lengths, reverse=True)
    assert max(lengths, default=0) - min(lengths, default=0) in (0, step)


@given(st.integers(1, 300), st.integers(1, 60))
def test_changes_are_spread_evenly(stitches: int, changes: int) -> None:
    if stitches < changes:
        with pytest.raises(NoSchedule):
            gaps(stitches, changes)
        return
    found = gaps(stitches, changes)
    assert stitches == sum(found)
    assert max(found) - min(found) <= 1
    in_row = positions(stitches, changes, flat=True)
    assert all(0 <= at <= stitches for at in in_row)


@pytest.mark.parametrize("step", [1, 2])
def test_the_rows_written_out_are_proved_like_any_others(step: int) -> None:
    """Three sizes with different intervals over the same rows: 5, 10 and 12 changes in 24 rows."""
    found = _checked(10, step)
    assert () == found.findings
    assert found.proof is not None
    assert [10, 10, 10] == [size.total for size in found.proof.rows[-1].sizes]
    assert found.measured is not None
    assert [26, 26, 26] == [size.parts[0].rows for size in found.measured.sizes]


def test_a_schedule_that_does_not_fit_names_the_size() -> None:
    """M has 12 changes for 12 right-side rows; L has 14, and nothing after its shaping is accused in its place."""
    findings = _checked(6, 2).findings
    assert [("shaping-impossible", ("l",))] == [(f.code, f.sizes) for f in findings]
