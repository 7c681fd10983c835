"""Yarn: what it rests on, colours apart, and how far balls in hand reach."""

from __future__ import annotations

from pathlib import Path

import pytest

from convert.document.read import ReadOptions
from convert.grader.yarn_needs import enough_for, rows_reached
from convert.pipeline import Checked, check_source
from convert.source import Source

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
SQUARE = """\
format: "1"
title: Square
terms: us
gauge: {stitches: 16, rows: 10, over: 10 cm, stitch: dc}
yarn:
  - {key: A, name: Wool, ball: {grams: 50, metres: 100}WEIGHED}
  - {key: B, name: Wool, ball: {grams: 50, metres: 100}}
parts:
  - name: Square
    worked: rows
    rows:
      - "Row 1: With A, ch 22, dc in 4th ch from hook (3 skipped ch count as dc), dc in each ch across, turn. (20 dc)"
      - "Row 2: Change to B, ch 3 (counts as dc), dc in next st and in each st across, turn. (20 dc)"
      - "Row 3: Ch 3 (counts as dc), dc in next st and in each st across. (20 dc)"
"""


def _checked(weighed: str = "") -> Checked:
    text = SQUARE.replace("WEIGHED", weighed)
    return check_source(Source("square", text), "yaml", ReadOptions())


def _grams(found: Checked) -> list[float]:
    assert found.measured is not None
    return [need.grams or 0 for need in found.measured.sizes[0].yarn]


def test_colours_are_counted_row_by_row() -> None:
    """A: 19 dc and the chain of 22. B: twice 19 dc and the ch 3. A dc takes 1.92, a chain 0.47."""
    a, b = _grams(_checked())
    assert pytest.approx(2 * (19 * 1.92 + 3 * 0.47) / (19 * 1.92 + 22 * 0.47), abs=0.01) == b / a


def test_a_finished_sample_gives_its_own_weight_back() -> None:
    """The calibration by the whole piece is exact for that piece."""
    text = SQUARE.replace("gauge:", "sizes: [{id: one, name: One}]\ngauge:", 1)
    text = text.replace("WEIGHED", ", weighed: {grams: 7.5, size: one}")
    assert pytest.approx(7.5) == _grams(check_source(Source("s", text), "yaml", ReadOptions()))[0]


def test_a_swatch_of_half_the_weight_halves_the_estimate() -> None:
    """And yarn of the same name in another colour goes by the same swatch."""
    heavy = _grams(_checked(", weighed: {grams: 8, stitches: 20, rows: 10, stitch: dc}"))
    light = _grams(_checked(", weighed: {grams: 4, stitches: 20, rows: 10, stitch: dc}"))
    assert pytest.approx([2 * grams for grams in light]) == heavy


def test_every_estimate_says_what_it_rests_on() -> None:
    for weighed, rests_on in (
        ("", "gauge"),
        (", weighed: {grams: 4, stitches: 20, rows: 10}", "swatch"),
        (", weighed: {grams: 4, width: 10 cm, height: 10 cm}", "square"),
    ):
        found = _checked(weighed).measured
        assert found is not None
        assert rests_on == found.sizes[0].yarn[0].rests_on


def test_balls_in_hand_reach_a_size_or_a_row() -> None:
    path = DEMO / "pebble-lane-blanket.pattern.yaml"
    found = check_source(Source(path.name, path.read_text("utf-8")), "yaml", ReadOptions())
    assert found.measured is not None
    assert found.document is not None
    needs = [size.yarn for size in found.measured.sizes]
    assert "stroller" == enough_for(found.document, needs, 4, "A")
    assert None is enough_for(found.document, needs, 0.5, "A")
    rows = found.measured.sizes[0].parts[0].worked
    assert 0 == rows_reached(rows, 1.0, 1.0)
    assert len(rows) == rows_reached(rows, 1.0, 1e9)
