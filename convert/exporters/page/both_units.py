"""Lengths in an author's running text, told in the reader's own unit with the other behind."""

from __future__ import annotations

import re
from functools import cache

from convert.document.lengths import parse_length, unit_words
from convert.document.prose import Prose
from convert.document.records import TermSystem
from convert.exporters.page.measures import centimetres, inches

_NUMBER = r"\d{1,4}(?:\.\d{1,2})?(?:\s?[¼½¾⅛⅜⅝⅞])?|[¼½¾⅛⅜⅝⅞]"
_BETWEEN = r"\s?(?:[x×–-]|\bby\b|\bto\b)\s?"
_UNITS = ("cm", "mm", "in")


@cache
def _lengths() -> re.Pattern[str]:
    """ "9 cm", "8-9 in", "20 x 30 cm": one or several figures before a unit."""
    known = [word for word, (unit, _) in unit_words().items() if unit in _UNITS]
    words = "|".join(re.escape(word) for word in sorted(known, key=len, reverse=True))
    numbers = rf"(?:{_NUMBER})(?:{_BETWEEN}(?:{_NUMBER})){{0,3}}"
    return re.compile(rf"(?<![\w.,/¼½¾⅛⅜⅝⅞])({numbers})\s?-?\s?({words})(?![\w¼½¾])", re.IGNORECASE)


def in_both_units(prose: Prose, system: TermSystem) -> Prose:
    """The text with each of its lengths in both units, the reader's own first; as it stands if it tells both itself.

    >>> in_both_units(("About 9 cm tall",), TermSystem.US), in_both_units(("8 in (20 cm) wide",), TermSystem.UK)
    (('About 3½ in (9 cm) tall',), ('8 in (20 cm) wide',))
    >>> in_both_units(("20 x 30 cm",), TermSystem.US), in_both_units(("2½-3 inches",), TermSystem.UK)
    (('7¾ x 11¾ in (20 x 30 cm)',), ('6.5–7.5 cm (2½–3 in)',))
    """
    texts = [part for part in prose if isinstance(part, str)]
    told = {unit_words()[found[2].lower()][0] == "in" for text in texts for found in _lengths().finditer(text)}
    if len(told) != 1:
        return prose
    return tuple(
        _lengths().sub(lambda found: _told(found, system), part) if isinstance(part, str) else part for part in prose
    )


def _told(found: re.Match[str], system: TermSystem) -> str:
    unit = unit_words()[found[2].lower()][0]
    imperial, metric = (_figures(found[1], unit, imperial=imperial) for imperial in (True, False))
    own, other = (imperial, metric) if system is TermSystem.US else (metric, imperial)
    return f"{own} ({other})"


def _figures(numbers: str, unit: str, *, imperial: bool) -> str:
    def one(figure: re.Match[str]) -> str:
        length = parse_length(f"{figure[0]} {unit}")
        if length is None:
            return figure[0]
        exact = imperial is (unit == "in")
        return inches(length.cm, exact=exact) if imperial else centimetres(length.cm, exact=exact)

    said = re.sub(_NUMBER, one, numbers)
    return f"{re.sub(r'(?<=[^ ])-(?=[^ ])', '–', said)} {'in' if imperial else 'cm'}"
