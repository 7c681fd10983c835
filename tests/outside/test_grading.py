"""Grading against published worked examples and mathematics. Sources stand beside each; read on 2026-11-24."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from fractions import Fraction
from math import pi, tan

import pytest

from convert.checks.not_flat import CIRCLE, SQUARE
from convert.document.lengths import parse_length
from convert.document.sizing import Along, Fit, Gauge
from convert.grader.grading import best_number, length_of, per_cm
from convert.grader.schedule import changes_between, gaps, positions, schedule
from convert.trade.bodies import bodies, body

EVENLY = [
    # stitches, changes, {section: how many}
    (124, 14, {8: 2, 9: 12}),  # Ann Budd, Magic Formula for Placement of Increases or Decreases, 2010
    (52, 7, {7: 4, 8: 3}),  # by the same rule, worked out here
    (112, 16, {7: 16}),  # woolpackyarn.com, Calculating where to place the increases
]
SLEEVES = [
    # rows, changes, [(every so many rows, times)]
    (140, 36, [(4, 32), (3, 4)]),  # getknitting.com, Knitting and the Magic Formula
    (
        108,
        11,
        [(10, 9), (9, 2)],
    ),  # Kristen TenDyke, How to increase evenly along a set number of rows (rate worked out here)
    (60, 10, [(6, 10)]),  # stitchwhisperdesigns.com, Designing sleeves, 2017
]


@pytest.mark.parametrize(("stitches", "changes", "expected"), EVENLY)
def test_changes_spread_evenly(stitches: int, changes: int, expected: dict[int, int]) -> None:
    assert expected == dict(Counter(gaps(stitches, changes)))


def test_changes_in_a_round_and_in_a_row() -> None:
    """51 stitches, 4 increases (woolpackyarn.com): its round differs from ours by the order of the longer
    sections only.
    """
    assert sorted([13, 13, 13, 12]) == sorted(gaps(51, 4))
    # A yarn company's lesson: 48 stitches, 12 increases, flat: 2, then every 4th, 2 left over.
    assert [2, *range(6, 47, 4)] == list(positions(48, 12, flat=True))


@pytest.mark.parametrize(("rows", "changes", "expected"), SLEEVES)
def test_long_edges_and_sleeves(rows: int, changes: int, expected: list[tuple[int, int]]) -> None:
    plan = schedule(rows, changes)
    assert expected == [(stretch.interval, stretch.times) for stretch in plan.stretches]


def test_sleeve_from_cuff_to_top() -> None:
    """TenDyke: 38 stitches at the cuff, 60 at the top, 11 increase rows of 2."""
    assert 11 == changes_between(38, 60, 2)


@pytest.mark.parametrize(("stitches", "per_inch", "inches"), [(184, 4, 46), (160, 5, 32), (312, 6.5, 48)])
def test_gauge_to_width(stitches: int, per_inch: float, inches: float) -> None:
    """doubleewe, mathsmagics.com (2021) and a third maker: stitches by the gauge to a width, in inches."""
    over = parse_length("1 in")
    assert over is not None
    rate = per_cm(Gauge(stitches=_decimal(per_inch), over=over), Along.STITCHES)
    assert rate is not None
    width = length_of(Fit("n", "width", Along.STITCHES), stitches, rate)
    assert inches == float(width / Fraction("2.54"))


def _decimal(value: float):  # type: ignore[no-untyped-def] # the type is that of the field

    return Decimal(str(value))


def test_stitches_rounded_to_a_multiple() -> None:
    """Raglan by Lily Chin (Interweave): 4.6 stitches an inch, bust 40 in: 184; upper arm 13 in: 60 in whole pairs."""
    rate = Fraction(46, 10) / Fraction("2.54")
    assert 184 == best_number(Fit("n", "bust", Along.STITCHES, step=2), Fraction("101.6"), rate)
    assert 60 == best_number(Fit("n", "arm", Along.STITCHES, step=2), 13 * Fraction("2.54"), rate)


def test_published_top_in_seven_sizes() -> None:
    """Lion Brand Coboo Sutton's Shell Top: 16 sc are 3.5 in; two pieces of these stitches; published busts are
    rounded up.
    """
    rate = Fraction(16) / (Fraction("3.5") * Fraction("2.54"))
    published = [34, 37, 41, 45, 49, 53, 57]
    for stitches, bust in zip([78, 84, 93, 102, 111, 120, 129], published, strict=True):
        inches = float(length_of(Fit("n", "bust", Along.STITCHES, across=2), stitches, rate) / Fraction("2.54"))
        assert inches == pytest.approx(bust, abs=0.65)


def test_flat_polygons() -> None:
    """Growth for flat work is 2 n tan(pi / n) times height by width, and 2 pi for a circle (mathematics)."""

    assert pytest.approx(2 * 4 * tan(pi / 4)) == SQUARE
    assert pytest.approx(2 * pi) == CIRCLE


def test_body_charts_agree_in_both_units() -> None:
    """Every centimetre value lies within 1 cm of 2.54 times its inches (common practice, no source)."""
    for name in bodies():
        found = body(name)
        assert found is not None
        for measure in found.values():
            assert abs(float(measure.cm) - 2.54 * float(measure.inches)) <= 1.01, (name, measure.name)
