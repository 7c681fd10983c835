"""Lengths: metric numbers that remember the unit their author used."""

from __future__ import annotations

import re
from decimal import ROUND_HALF_UP, Decimal, InvalidOperation

from msgspec import Struct
from msgspec.structs import force_setattr

CENTIMETRES = {
    "cm": Decimal(1),
    "mm": Decimal("0.1"),
    "m": Decimal(100),
    "in": Decimal("2.54"),
    "yd": Decimal("91.44"),
    "ft": Decimal("30.48"),
}
"""Centimetres in one unit. The inch is 25.4 mm and the yard 0.9144 m exactly (international yard and pound, 1959)."""

_SPELLINGS = {
    "cms": "cm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "millimetres": "mm",
    "millimeters": "mm",
    "inch": "in",
    "inches": "in",
    "ins": "in",
    "in.": "in",
    '"': "in",
    "″": "in",
    "”": "in",
    "yds": "yd",
    "yard": "yd",
    "yards": "yd",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
    "feet": "ft",
    "foot": "ft",
}
_FRACTIONS = {"¼": "25", "½": "5", "¾": "75", "⅛": "125", "⅜": "375", "⅝": "625", "⅞": "875"}
_LENGTH = re.compile(r"\s*(\d{0,7}(?:[.,]\d{1,4})?)\s*([¼½¾⅛⅜⅝⅞]?)\s*([a-zA-Z.\"″”]{1,12})\s*\Z")


_TYPED = {"1/4": "¼", "1/2": "½", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}
_TYPED_FRACTION = re.compile(r"(?:(?<=\d)\s|(?<!\d/)(?<![\d/.,]))([1357]/[248])(?![\d/])")


def with_glyphs(text: str) -> str:
    """A text in which fractions typed with a stroke are single characters.

    >>> with_glyphs("15 3/4 (18 1/2) in, 1/4 in, 2024/8/1")
    '15¾ (18½) in, ¼ in, 2024/8/1'
    """
    return _TYPED_FRACTION.sub(lambda match: _TYPED.get(match[1], match[0]), text) if "/" in text else text


def unit_words() -> dict[str, tuple[str, Decimal]]:
    """Every word for a unit of length with the unit and its centimetres.

    >>> unit_words()["inches"]
    ('in', Decimal('2.54'))
    """
    words = {**{unit: unit for unit in CENTIMETRES}, **_SPELLINGS}
    return {word: (unit, CENTIMETRES[unit]) for word, unit in words.items()}


class Length(Struct, frozen=True):
    """A length in centimetres, exact, and the unit it was given in.

    >>> parse_length("55 in")
    Length(cm=Decimal('139.70'), unit='in')
    """

    cm: Decimal
    unit: str = "cm"

    def __post_init__(self) -> None:
        force_setattr(self, "cm", Decimal(self.cm))

    def __hash__(self) -> int:
        return hash((self.cm, self.unit))

    @property
    def said(self) -> str:
        """The length in its own unit, as the author gave it.

        >>> parse_length("2½ inches").said
        '2.5 in'
        """
        return f"{tidy(self.cm / CENTIMETRES[self.unit])} {self.unit}"


def spellings(*units: str) -> tuple[str, ...]:
    """Every way in which these units are written.

    >>> spellings("mm")
    ('mm', 'millimetres', 'millimeters')
    """
    return (*units, *(form for form, unit in _SPELLINGS.items() if unit in units))


def tidy(value: Decimal, places: int = 4) -> str:
    """A decimal without needless zeros.

    >>> tidy(Decimal("140.00")), tidy(Decimal("2.50"))
    ('140', '2.5')
    """
    rounded = value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
    text = format(rounded, "f")
    return text.rstrip("0").rstrip(".") if "." in text else text


def parse_length(text: str) -> Length | None:
    """Reads "140 cm", "55 in", "2½ inches", "2 1/2 in"; None if it is no length or has no unit."""
    match = _LENGTH.match(with_glyphs(text))
    if not match:
        return None
    number, fraction, unit = match.groups()
    unit = _SPELLINGS.get(unit.lower(), unit.lower())
    if unit not in CENTIMETRES or not (number or fraction):
        return None
    try:
        value = Decimal((number or "0").replace(",", "."))
    except InvalidOperation:
        return None
    if fraction:
        value += Decimal("0." + _FRACTIONS[fraction])
    return Length(value * CENTIMETRES[unit], unit)
