"""Lengths against pint, a library of units."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.lengths import CENTIMETRES, parse_length

REGISTRY: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
PINT_NAMES = {"cm": "centimeter", "mm": "millimeter", "m": "meter", "in": "inch", "yd": "yard", "ft": "foot"}


def test_every_unit_is_compared() -> None:
    """A unit added to the table has to be added here."""
    assert set(PINT_NAMES) == set(CENTIMETRES)


@pytest.mark.parametrize("unit", PINT_NAMES)
@given(number=st.decimals(0, 9_999_999, places=4, allow_nan=False, allow_infinity=False))
def test_lengths_in_any_unit_are_exact(unit: str, number: Decimal) -> None:
    """Read from text, a length has exactly the centimetres that pint computes in fractions."""
    length = parse_length(f"{number:f} {unit}")
    assert length is not None
    expected = REGISTRY.Quantity(Fraction(number), PINT_NAMES[unit]).to("centimeter").magnitude
    assert expected == Fraction(length.cm)


@given(
    number=st.integers(0, 100_000),
    over=st.sampled_from([("½", 1, 2), ("¼", 1, 4), ("¾", 3, 4), ("⅛", 1, 8), ("⅞", 7, 8)]),
)
def test_fractions_of_an_inch_are_exact(number: int, over: tuple[str, int, int]) -> None:
    """2⅞ inches is no rounded number."""
    sign, above, below = over
    length = parse_length(f"{number}{sign} inches")
    assert length is not None
    expected = REGISTRY.Quantity(number + Fraction(above, below), "inch").to("centimeter").magnitude
    assert expected == Fraction(length.cm)
