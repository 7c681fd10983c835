"""Lengths and numbers as the two editions write them."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.document.lengths import Length, parse_length
from convert.document.records import TermSystem
from convert.exporters.page.measures import (
    Reckoned,
    centimetres,
    inches,
    length_pair,
    length_range,
    length_text,
    nearest,
    per_size,
    yarn_length,
)

FRACTIONS = {"¼": "0.25", "½": "0.5", "¾": "0.75", "⅛": "0.125", "⅜": "0.375", "⅝": "0.625", "⅞": "0.875"}


def number(text: str) -> Decimal:
    """The value of "2½"."""
    whole = text.rstrip("".join(FRACTIONS))
    return Decimal(whole or "0") + sum(Decimal(FRACTIONS[c]) for c in text[len(whole) :])


@pytest.mark.parametrize(
    ("said", "us", "uk"),
    [
        ("10 cm", "4 in (10 cm)", "10 cm (4 in)"),
        ("4 in", "4 in (10 cm)", "10 cm (4 in)"),
        ("55 in", "55 in (140 cm)", "140 cm (55 in)"),
        ("140 cm", "55 in (140 cm)", "140 cm (55 in)"),
        ("2⅜ in", "2⅜ in (6 cm)", "6 cm (2⅜ in)"),
        ("16.3 cm", "6½ in (16.3 cm)", "16.3 cm (6½ in)"),
        ("5 ft", "60 in (152 cm)", "152 cm (60 in)"),
        ("3 mm", "⅛ in (0.3 cm)", "0.3 cm (⅛ in)"),
    ],
)
def test_the_readers_own_unit_comes_first(said, us, uk):
    length = parse_length(said)
    assert length is not None
    assert us == length_text(length, TermSystem.US)
    assert uk == length_text(length, TermSystem.UK)


def test_a_length_that_was_worked_out_is_written_as_a_tape_shows_it():
    """265 stitches at 4 to the centimetre are not told to the quarter of a centimetre; an author's figure is kept."""
    assert "66.25 cm (26 in)" == length_text(Length(Decimal("66.25")), TermSystem.UK)
    assert "66 cm (26 in)" == length_text(Reckoned(Decimal("66.25")), TermSystem.UK)
    assert "26 (28) in" == length_pair([Reckoned(Decimal("66.25")), Reckoned(Decimal("71.25"))], TermSystem.US)[0]


@given(st.decimals(Decimal("0.1"), Decimal(400), places=2))
def test_inches_are_off_by_no_more_than_a_tape_shows(cm):
    """An eighth of an inch below 20 in, a quarter above: half of the step that is written."""
    exact = cm / Decimal("2.54")
    assert abs(number(inches(cm, exact=False)) - exact) <= (Decimal("0.25") if exact >= 20 else Decimal("0.125"))


@given(st.decimals(Decimal("0.1"), Decimal(400), places=3))
def test_centimetres_are_off_by_no_more_than_half_a_step(cm):
    assert abs(Decimal(centimetres(cm, exact=False)) - cm) <= (Decimal("0.5") if cm >= 20 else Decimal("0.25"))


@given(st.decimals(Decimal(0), Decimal(500), places=4), st.sampled_from([Decimal("0.25"), Decimal("0.5"), Decimal(1)]))
def test_nearest_is_a_multiple_of_the_step(value, step):
    found = nearest(value, step)
    assert 0 == found % step
    assert abs(found - value) <= step / 2


def test_lengths_of_sizes_stand_in_one_list():
    lengths = [Length(Decimal(50)), Length(Decimal(55)), Length(Decimal(60))]
    assert "50 (55, 60) cm, 19¾ (21½, 23½) in" == length_range(lengths, TermSystem.UK)
    assert "19¾ (21½, 23½) in, 50 (55, 60) cm" == length_range(lengths, TermSystem.US)


@pytest.mark.parametrize(
    ("values", "expected"),
    [(["4"], "4"), (["4", "4"], "4"), (["4", "5", "6"], "4 (5, 6)"), ([None, "5"], "– (5)"), ([], ""), ([None], "–")],
)
def test_values_per_size(values, expected):
    assert expected == per_size(values)


def test_yarn_is_rounded_up():
    """200.1 m is 218.83 yd: nobody may run out by rounding."""
    assert "219 yd (201 m)" == yarn_length([Decimal("200.1")], TermSystem.US)
