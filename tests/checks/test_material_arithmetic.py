"""Balls against lengths, stated yarn against the rows, finished size against the gauge: mistakes, no accusations."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.findings import Finding
from convert.pipeline import check_source
from convert.source import Source

MAT = """\
format: "1"
title: Mat
terms: us
SIZES
gauge: {stitches: 13, rows: 7, over: 10 cm, stitch: dc}
yarn: [{key: A, name: Wool, weight: 4, YARN}, {key: B, name: Wool, weight: 4}]
parts:
  - name: Mat
    worked: rows
    rows:
      - "Row 1: With A, ch 52, dc in 4th ch from hook (3 skipped ch count as dc), dc in each ch across, turn. (50 dc)"
      - "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (50 dc)"
      - "Rep Row 2 20 (40) times more. Fasten off."
"""
ONE = MAT.replace("20 (40)", "20")
TWO = "sizes: [{id: s, name: Small}, {id: l, name: Large}]"


def _findings(yarn: str, sizes: str = TWO, text: str = MAT) -> tuple[Finding, ...]:
    return check_source(
        Source("mat", text.replace("YARN", yarn).replace("SIZES", sizes)), "yaml", ReadOptions()
    ).findings


def _codes(yarn: str, sizes: str = TWO, text: str = MAT) -> list[str]:
    return [found.code for found in _findings(yarn, sizes, text)]


@pytest.mark.parametrize(
    "yarn",
    [
        "ball: {grams: 100, metres: 180}, balls: [1, 2], metres: [180, 320]",
        "ball: {grams: 100, metres: 180}, balls: 3, metres: [180, 320]",
        "ball: {grams: 50, metres: 90}, balls: [4, 6], metres: [180, 320]",
        "ball: {grams: 100, metres: 180}, balls: [1, 2], grams: [95, 190]",
        "ball: {grams: 100, metres: 180}, metres: [180, 320], grams: [100, 178]",
    ],
)
def test_balls_that_hold_what_is_needed_with_one_or_two_to_spare(yarn: str) -> None:
    assert [] == _codes(yarn)


@pytest.mark.parametrize(
    ("yarn", "sizes", "found"),
    [
        ("ball: {grams: 100, metres: 180}, balls: [1, 1], metres: [180, 320]", ("l",), "180 m"),
        ("ball: {grams: 100, metres: 180}, balls: [1, 12], metres: [180, 320]", ("l",), "2160 m"),
        ("ball: {grams: 100, metres: 180}, balls: 1, grams: 190", (), "100 g"),
        ("ball: {grams: 100, metres: 180}, metres: [180, 320], grams: [180, 320]", (), "180 m"),
    ],
)
def test_balls_that_hold_too_little_or_far_too_much(yarn: str, sizes: tuple[str, ...], found: str) -> None:
    (one,) = [f for f in _findings(yarn) if f.code == "materials-disagree"]
    assert (sizes, found) == (one.sizes, one.found)


@pytest.mark.parametrize(
    "yarn",
    [
        "metres: [150, 280]",
        "metres: [100, 200]",
        "metres: [300, 550]",
        "ball: {metres: 400}, balls: 1",
        "ball: {metres: 180}, balls: [2, 4]",
        "ball: {grams: 50}, balls: 5",
        "weighed: {grams: 95, size: s}, grams: [95, 180], ball: {grams: 50, metres: 90}",
        "weighed: {grams: 95, size: s}, balls: [2, 4], ball: {grams: 50, metres: 90}",
    ],
)
def test_stated_yarn_that_may_be_right(yarn: str) -> None:
    """The rows take about 168 and 310 m; reserves, whole balls and a hand of one's own are no mistake."""
    assert [] == _codes(yarn)


@pytest.mark.parametrize(
    ("yarn", "sizes", "found"),
    [
        ("metres: [70, 280]", ("s",), "70 m"),
        ("metres: [150, 100]", ("l",), "100 m"),
        ("metres: 1500", (), "1500 m"),
        ("ball: {metres: 100}, balls: 1", ("l",), "100 m"),
        ("ball: {metres: 100}, balls: [12, 16]", (), "1200 m"),
        ("weighed: {grams: 95, size: s}, grams: [95, 150], ball: {grams: 50, metres: 90}", ("l",), "150 g"),
    ],
)
def test_stated_yarn_that_is_far_from_what_the_rows_take(yarn: str, sizes: tuple[str, ...], found: str) -> None:
    (one,) = _findings(yarn)
    assert ("yarn-amount-unlikely", sizes, found) == (one.code, one.sizes, one.found)


def test_no_amount_is_judged_where_a_row_could_not_be_worked() -> None:
    text = MAT.replace(
        "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (50 dc)", "Row 2: As you like."
    )
    assert "yarn-amount-unlikely" not in _codes("metres: 1", text=text)


def test_yarn_that_may_be_carried_along_is_not_too_much() -> None:
    text = MAT.replace(
        "Row 2: Ch 3 (counts as dc), dc in next st and in each",
        "Row 2: Ch 3 (counts as dc), dc in next st, change to B, dc in each",
    )
    assert "yarn-amount-unlikely" in _codes("metres: [150, 2]", text=text)
    assert [] == _codes("metres: 900", text=text)


@pytest.mark.parametrize(
    "target",
    [
        "{width: 38.5 cm, length: 31.5 cm}",
        "{width: 40 cm, length: 30 cm}",
        "{width: 31.5 cm, length: 38.5 cm}",
        "{width: 15 in}",
        "{length: 42 cm}",
        "{bust: 90 cm}",
        "{width: 19 cm, length: 31 cm}",
        "{width: 38 cm, length: 31 cm, depth: 2 cm}",
    ],
)
def test_a_finished_size_that_may_be_right(target: str) -> None:
    """50 dc at 13 in 10 cm are 38.5 cm, 22 rows at 7 are 31.4 cm; either may be called the width."""
    assert [] == _codes("metres: 170", sizes=f"sizes: [{{id: s, name: S, target: {target}}}]", text=ONE)


@pytest.mark.parametrize(
    ("target", "found"),
    [
        ("{width: 50 cm, length: 31 cm}", "38.5 cm"),
        ("{width: 38 cm, length: 50 cm}", "31.4 cm"),
        ("{width: 20 in}", "15.1 in"),
        ("{width: 5 in}", "15.1 in"),
    ],
)
def test_a_finished_size_that_the_gauge_does_not_give(target: str, found: str) -> None:
    (one,) = _findings("metres: 170", sizes=f"sizes: [{{id: s, name: S, target: {target}}}]", text=ONE)
    assert ("finished-size-off", found) == (one.code, one.found)


def test_shells_and_spaces_are_as_wide_as_they_are_pinned() -> None:
    text = MAT.replace(
        "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (50 dc)",
        "Row 2: Ch 3 (counts as dc), dc in next st, [ch 2, sk next 2 sts, dc in next st] 16 times, turn. (18 dc)",
    ).replace('      - "Rep Row 2 20 (40) times more. Fasten off."\n', "")
    assert [] == _codes("metres: 20", sizes="sizes: [{id: s, name: S, target: {width: 70 cm}}]", text=text)


def test_a_tube_is_measured_around() -> None:
    join = "join with sl st in first sc. (50 sc)"
    ring = "With A, ch 50, join with sl st to form a ring, ch 1 (does not count as st), sc in each ch around"
    rows = (f"Rnd 1: {ring}, {join}", f"Rnd 2: Ch 1, sc in each st around, {join}")
    head, _, _ = MAT.partition("parts:")
    head = head.replace("rows: 7, over: 10 cm, stitch: dc", "rows: 15, over: 10 cm, stitch: sc")
    lines = "".join(f'      - "{row}"\n' for row in rows)
    text = f"{head}parts:\n  - name: Cowl\n    worked: rounds\n    rows:\n{lines}"
    sizes = "sizes: [{{id: s, name: S, target: {{circumference: {0} cm}}}}]"
    assert [] == _codes("fibre: wool", sizes=sizes.format(40), text=text)
    assert ["finished-size-off"] == _codes("fibre: wool", sizes=sizes.format(60), text=text)


TYPED = """\
Quay Mat

US terms.

FINISHED SIZE
SIZE

GAUGE
16 sc and 18 rows = 10 cm

MAT
Row 1: Ch 33, sc in 2nd ch from hook and in each ch across, turn. (32 sc)
Row 2: Ch 1, sc in each st across, turn. (32 sc)
Rep Row 2 52 times more.
"""


@pytest.mark.parametrize(
    ("said", "found"),
    [
        ("20 x 30 cm", []),
        ("8 by 12 inches", []),
        ("8 in x 12 in (20 cm x 30 cm)", []),
        ("30 cm x 20 cm, without the fringe", []),
        ("20 x 15 cm, folded and sewn", []),
        ("About 20 cm wide", []),
        ("20 x 45 cm", [("45 cm", "30 cm")]),
        ("12 by 12 inches", [("12 in", "7.9 in")]),
    ],
)
def test_a_size_in_words_is_compared_with_the_gauge(said: str, found: list[tuple[str, str]]) -> None:
    """32 sc at 16 in 10 cm are 20 cm, 54 rows at 18 are 30 cm."""
    findings = check_source(Source("mat", TYPED.replace("SIZE\n\n", f"{said}\n\n")), "text", ReadOptions()).findings
    assert [("finished-size-off", *one) for one in found] == [(f.code, f.expected, f.found) for f in findings]
    assert {6} >= {f.span.line + 1 for f in findings}


@pytest.mark.parametrize(
    "gauge",
    [
        "{stitches: 13, over: 10 cm, stitch: dc}",
        "{stitches: 13, rows: 7, over: 10 cm}",
        "{stitches: 13, rows: 15, over: 10 cm, stitch: sc}",
        "{words: as you like}",
    ],
)
def test_no_size_is_judged_by_half_a_gauge_or_that_of_another_stitch(gauge: str) -> None:
    text = ONE.replace("{stitches: 13, rows: 7, over: 10 cm, stitch: dc}", gauge)
    assert [] == _codes(
        "fibre: wool", sizes="sizes: [{id: s, name: S, target: {width: 90 cm, length: 9 cm}}]", text=text
    )
