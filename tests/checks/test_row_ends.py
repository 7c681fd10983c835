"""Edges along the ends of rows: stitches against the length of the edge, however the row says them."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.findings import Finding
from convert.pipeline import check_source
from convert.source import Source

PANEL = """\
format: "1"
title: Panel
terms: us
gauge: {GAUGE}
parts:
  - name: Panel
    worked: rows
    rows:
      - "Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn. (20 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (20 sc)"
      - "Rep Row 2 34 times more."
      - "Next row: EDGE"
"""
SC = "stitches: 16, rows: 18, over: 10 cm, stitch: sc"


def _told(edge: str, gauge: str = SC, text: str = PANEL) -> list[Finding]:
    source = Source("panel", text.replace("GAUGE", gauge).replace("EDGE", edge))
    return [f for f in check_source(source, "yaml", ReadOptions()).findings if f.code == "row-ends"]


@pytest.mark.parametrize(
    ("edge", "found"),
    [
        ("Ch 1, 18 sc evenly along row ends, turn.", "18"),  # 36 rows at 1.8 a cm are 20 cm: 32 stitches at 1.6 a cm
        ("Ch 1, 25 sc in row ends, turn.", "25"),
        ("Ch 1, 26 sc in row ends, turn.", None),
        ("Ch 1, 40 sc evenly across the row ends.", None),
        ("Ch 1, 41 sc evenly across the row ends.", "41"),
        ("Ch 1, sc in each row end across.", None),  # 36 stitches
        ("Ch 1, 2 sc in each row end across.", "72"),
        ("Ch 1, sc in every other row end across.", "18"),
        ("Ch 1, *sc in next 3 row ends, sk next row end; rep from * across.", None),  # 27
        ("Ch 1, *sc in next row end, sk next row end; rep from * across.", "18"),
        ("Ch 1, sc evenly along row ends.", None),  # no number is given
        ("Ch 1, sc in each st across.", None),
    ],
)  # fmt: skip
def test_stitches_against_the_length_of_the_edge(edge: str, found: str | None) -> None:
    assert ([found] if found else []) == [f.found for f in _told(edge)]


def test_the_finding_has_the_numbers() -> None:
    only = _told("Ch 1, 18 sc evenly along row ends, turn.")[0]
    assert "18 stitches along an edge of 20.0 cm, where 32 lie flat: they will draw the edge in" in only.message


def test_nothing_is_said_where_the_edge_is_slanted_or_the_gauge_incomplete() -> None:
    few = "Ch 1, 18 sc evenly along row ends, turn."
    assert [] == _told(few, "stitches: 16, over: 10 cm, stitch: sc")
    slanted = PANEL.replace(
        "Rep Row 2 34", 'Row 3: Ch 1, 2 sc in first st, sc in each st across, turn."\n      - "Rep Row 3 33'
    )
    assert [] == _told(few, text=slanted)
