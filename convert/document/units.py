"""One length or weight told in two units, and whether the two figures can be the same."""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from functools import cache

from msgspec import Struct

from convert.document.lengths import Length, unit_words

WEIGHTS = {"g": Decimal(1), "kg": Decimal(1000), "oz": Decimal("28.349523125"), "lb": Decimal("453.59237")}
"""Grams in one unit of weight (international avoirdupois pound, 1959: exact)."""
_WEIGHT_WORDS = {"gr": "g", "gram": "g", "grams": "g", "ozs": "oz", "ounce": "oz", "ounces": "oz", "lbs": "lb"}
_IMPERIAL = frozenset({"in", "ft", "yd", "oz", "lb"})
_SHARE = Decimal("0.035")
"""How far apart two figures may be that are said to be the same: 4 in are 10 cm, 2 in are 5 cm (common practice, no
source)."""
_WEIGHED = Decimal("0.12")
"""The same for weights: an ounce is sold as 25 g (common practice, no source)."""
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")
_NEAR = re.compile(r"[\d¼½¾⅛⅜⅝⅞)]\s?-?\s?[a-zA-Z\"″”.]{1,12}\s?[/=(\[]=?\s?[\d¼½¾⅛⅜⅝⅞]")
"""What every statement in two units has; most texts have nothing of the kind, and need no longer search."""
_FRACTIONS = {"¼": "0.25", "½": "0.5", "¾": "0.75", "⅛": "0.125", "⅜": "0.375", "⅝": "0.625", "⅞": "0.875"}
_SIGNS = "".join(_FRACTIONS)
_NUMBER = rf"(?:\d{{1,5}}(?:[.,]\d{{1,3}})?(?:\s?[{_SIGNS}]|[\s-]\d{{1,2}}/\d{{1,2}})?|[{_SIGNS}]|\d{{1,2}}/\d{{1,2}})"
_ONE = re.compile(rf"(\d{{1,5}}(?:[.,]\d{{1,3}})?)?\s?(?:([{_SIGNS}])|-?\s?(\d{{1,2}})/(\d{{1,2}}))?")


class Told(Struct, frozen=True):
    """A statement in two units; `off` tells whether its figures cannot be the same."""

    words: str
    off: bool


@cache
def _units() -> dict[str, tuple[str, Decimal]]:
    """Every word for a unit: the unit and what one of it is."""
    weights = {**{word: word for word in WEIGHTS}, **_WEIGHT_WORDS}
    return {**unit_words(), **{word: (unit, WEIGHTS[unit]) for word, unit in weights.items()}}


@cache
def _statement() -> re.Pattern[str]:
    """ "20 in / 50 cm", "34 (36, 38) in (86 (91, 97) cm)", "20 x 30 in = 51 x 76 cm". Atomic: never slow."""
    words = "|".join(re.escape(word) for word in sorted(_units(), key=len, reverse=True))
    numbers = rf"(?>{_NUMBER}(?:\s?[(,x×–-]\s?\(?{_NUMBER}\)?){{0,60}}+)"
    side = rf"({numbers})\s?-?\s?({words})(?![\w\d])\.?"
    return re.compile(rf"(?<![\w.,/{_SIGNS}-]){side}\s?(?:/|=|\(=?|\[)\s?{side}[)\]]?", re.IGNORECASE)


@cache
def _sides() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """What stands before or behind a figure that is one side of a piece ("50 in x 60 in / 127 cm x 152 cm")."""
    times = r"(?:[x×*]|\bby\b)"
    return re.compile(rf"{times}\s*\Z", re.IGNORECASE), re.compile(rf"\s*{times}", re.IGNORECASE)


def told_twice(text: str) -> Iterator[Told]:
    """Every length or weight that a text tells in a metric and in an imperial unit, one behind the other.

    >>> [told.words for told in told_twice("Strip of 20 in / 60 cm, tie of 10 cm (4 in).") if told.off]
    ['20 in / 60 cm']
    """
    if not _NEAR.search(text):
        return
    before, behind = _sides()
    for match in _statement().finditer(text):
        (one, first), (two, second) = _units()[match[2].lower()], _units()[match[4].lower()]
        if (one in WEIGHTS) != (two in WEIGHTS) or (one in _IMPERIAL) == (two in _IMPERIAL):
            continue
        if before.search(text[: match.start()]) or behind.match(text, match.end()):
            continue
        share = _WEIGHED if one in WEIGHTS else _SHARE
        readings = {(match[1], match[3]), (_THOUSANDS.sub("", match[1]), _THOUSANDS.sub("", match[3]))}
        found = [_compared(left, right, first, second, share) for left, right in sorted(readings)]
        if None not in found:
            yield Told(match[0].rstrip("."), all(found))


@cache
def _rectangle() -> re.Pattern[str]:
    words = "|".join(re.escape(word) for word in sorted(unit_words(), key=len, reverse=True))
    side = rf"(?<![\w.,/(])({_NUMBER})\s?-?\s?({words})?"
    return re.compile(rf"{side}\s?(?:[x×*]|\bby\b)\s?({_NUMBER})\s?-?\s?({words})(?![\w\d])", re.IGNORECASE)


def sides_told(text: str) -> tuple[Length, Length, str] | None:
    """The two sides of a rectangle that a text tells first, with its words; None where it tells none.

    >>> sides_told("About 20 x 30 in (51 x 76 cm)")
    (Length(cm=Decimal('50.80'), unit='in'), Length(cm=Decimal('76.20'), unit='in'), '20 x 30 in')
    """
    match = _rectangle().search(text)
    if match is None:
        return None
    last, second = unit_words()[match[4].lower()]
    unit, first = unit_words()[match[2].lower()] if match[2] else (last, second)
    (one, _), (two, _) = _figures(match[1])[0], _figures(match[3])[0]
    return Length(one * first, unit), Length(two * second, last), match[0]


def _compared(one: str, two: str, first: Decimal, second: Decimal, share: Decimal) -> bool | None:
    """Whether the figures of the two sides cannot be the same; None where there are not as many of them."""
    left, right = _figures(one), _figures(two)
    if len(left) != len(right):
        return None
    return any(_apart(a, first, b, second, share) for a, b in zip(left, right, strict=True))


def _figures(text: str) -> list[tuple[Decimal, Decimal]]:
    """Every number with the half of the last place that it is told to; a sixteenth for fractions."""
    found = []
    for match in _ONE.finditer(text):
        whole, sign, above, below = match.groups()
        if not (whole or sign or above) or (below and not int(below)):
            continue
        number = Decimal((whole or "0").replace(",", "."))
        half = Decimal("0.0625") if sign or above else Decimal("0.5").scaleb(int(number.as_tuple().exponent))
        number += Decimal(_FRACTIONS[sign]) if sign else Decimal(above) / Decimal(below) if above else 0
        found.append((number, half))
    return found


def _apart(
    one: tuple[Decimal, Decimal], first: Decimal, two: tuple[Decimal, Decimal], second: Decimal, share: Decimal
) -> bool:
    """Whether two figures differ by more than both were rounded by, and by more than the trade rounds."""
    left, right = one[0] * first, two[0] * second
    difference = abs(left - right)
    return difference > one[1] * first + two[1] * second and difference > share * max(left, right)
