"""Lengths and weights told twice: mistakes are seen, and nobody who rounds is accused."""

from __future__ import annotations

from decimal import Decimal

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.read import ReadOptions
from convert.document.units import told_twice
from convert.pipeline import check_source
from convert.source import Source

REGISTRY: pint.UnitRegistry[float] = pint.UnitRegistry()
RIGHT = [
    "20 in / 50 cm",
    "20 in (51 cm)",
    "51 cm/20 in",
    "4 in = 10 cm",
    '4" (10cm)',
    "1 in / 2.5 cm",
    "½ in (1 cm)",
    "2½ in (6.5 cm)",
    "19 3/4 in / 50 cm",
    "34 (36, 38) in / 86 (91, 97) cm",
    "18-20 in (46-51 cm)",
    "20 x 30 in (51 x 76 cm)",
    "53 in x 60 in / 135 cm x 152 cm",
    "53 in by 60 in (135 cm by 152 cm)",
    "6 ft (2 m)",
    "200 yd (183 m)",
    "1,200 yd (1097 m)",
    "1,200 yd (1,097 m)",
    "100 g / 3.5 oz",
    "4 oz (100 g)",
    "50 g / 105 m",
    "10 in / 12 sts",
    "8 cm / 10 cm",
]
WRONG = [
    "20 in / 60 cm",
    "20 in (15 cm)",
    "50 cm / 25 in",
    "34 (36, 38) in / 86 (19, 97) cm",
    "20 x 30 in (51 x 67 cm)",
    "200 m / 183 yds",
    "1,200 yd (1,907 m)",
    "50 g (3.5 oz)",
    "2½ in (8.5 cm)",
]


@pytest.mark.parametrize("text", RIGHT)
def test_the_same_in_two_units_is_left_alone(text: str) -> None:
    assert [] == [told.words for told in told_twice(f"It is {text} wide.") if told.off]


@pytest.mark.parametrize("text", WRONG)
def test_two_amounts_are_reported(text: str) -> None:
    assert [text] == [told.words for told in told_twice(f"It is {text}, more or less.") if told.off]


@given(number=st.integers(1, 900), unit=st.sampled_from(["in", "yd", "ft"]), places=st.sampled_from([0, 1]))
def test_nobody_who_rounds_is_accused(number: int, unit: str, places: int) -> None:
    """A length rounded to the whole or the tenth, as pint converts it, and to the trade's 2.5 cm for an inch."""
    metric = "cm" if unit == "in" else "m"
    exact = REGISTRY.Quantity(number, {"in": "inch", "yd": "yard", "ft": "foot"}[unit]).to(metric).magnitude
    rounded = round(Decimal(str(exact)), places)
    texts = [f"{number} {unit} / {rounded} {metric}", f"{rounded} {metric} ({number} {unit})"]
    texts += [f"{number} in / {Decimal(number) * Decimal('2.5')} cm"]
    assert [] == [told.words for text in texts for told in told_twice(text) if told.off]


@given(number=st.integers(4, 900), factor=st.sampled_from(["0.5", "0.8", "1.25", "2", "10"]))
def test_a_figure_that_is_a_quarter_off_is_reported(number: int, factor: str) -> None:
    wrong = round(Decimal(number) * Decimal("2.54") * Decimal(factor), 1)
    assert [True] == [told.off for told in told_twice(f"{number} in / {wrong} cm")]


def test_long_lists_of_figures_take_no_time() -> None:
    """No text makes the search go back and forth; what is longer than any list of sizes is no statement."""
    for text in ("1, " * 20_000, "1,1" * 20_000, "1 1/1" * 10_000, "(1x" * 20_000, "1-" * 20_000):
        assert [] == list(told_twice(text))


def test_the_finding_stands_at_the_words() -> None:
    text = """\
format: "1"
title: Mat
terms: us
notes:
  - It may stretch.
  - Block it to 8 in / 25 cm before you sew.
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
"""
    (found,) = check_source(Source("mat", text), "yaml", ReadOptions()).findings
    assert ("units-disagree", (6, 17), "8 in / 25 cm") == (found.code, found.span.for_people, found.found)
