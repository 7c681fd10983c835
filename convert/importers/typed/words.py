"""Small readings that several sections of a text as typed share: numbers as people type them, lines of lists."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from decimal import Decimal
from itertools import pairwise

from convert.importers.typed.units import Unit
from convert.source import Passage

_FRACTIONS = {"¼": ".25", "½": ".5", "¾": ".75", "⅛": ".125", "⅜": ".375", "⅝": ".625", "⅞": ".875"}
DECIMAL = r"(?:\d{1,6}(?:[.,]\d{1,4})?\s?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞])"
PER_SIZE = rf"{DECIMAL}(?:\s?[(\[]\s?{DECIMAL}(?:\s?[,:;/]\s?{DECIMAL})*\s?[)\]])?"


def spaced(text: str) -> str:
    """A text with single spaces."""
    return " ".join(text.split())


def decimal(text: str) -> Decimal:
    """A number as people type it.

    >>> decimal("2½"), decimal("3,5")
    (Decimal('2.5'), Decimal('3.5'))
    """
    found = text.strip().replace(",", ".")
    for sign, value in _FRACTIONS.items():
        if found.endswith(sign):
            whole = found.removesuffix(sign).strip()
            return Decimal((whole or "0") + value)
    return Decimal(found)


def decimals(text: str) -> tuple[Decimal, ...]:
    """The numbers of "90 (100, 110)", in order. Commas part them, points are decimal."""
    return tuple(decimal(number) for number in re.findall(r"\d+(?:\.\d+)?\s?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]", text))


def entries(units: Iterable[Unit]) -> Iterator[Passage]:
    """The lines of a list: one for each bullet and for each line that the author set apart."""
    for unit in units:
        edges = [0, *unit.breaks, len(unit.passage.text)]
        for start, end in pairwise(edges):
            passage = unit.passage.cut(start, end)
            if passage.text:
                yield passage
