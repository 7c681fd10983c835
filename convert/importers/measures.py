"""Numbers, lengths and amounts in an author's data."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

from convert.document.codec import decode_record
from convert.document.lengths import Length, parse_length
from convert.document.located import Located
from convert.document.numbers import Formula, Number, PerSize
from convert.importers.author import Author
from convert.instructions.words.numbers import tidy_formula

_BLANKS = re.compile(r"[ \t\r\n]+")


def whole(data: Located | None, otherwise: int = 0) -> int:
    """A whole number."""
    return data.value if data is not None and isinstance(data.value, int) else otherwise


def decimal(data: Located | None) -> Decimal | None:
    """A number, exactly."""
    return Decimal(data.value) if data is not None and isinstance(data.value, int | Decimal) else None


def words(data: Located | None) -> str:
    """A text on one line, without white space around it; empty where there is none. Blanks that forbid a break stay."""
    return _BLANKS.sub(" ", data.words).strip(" ") if data is not None else ""


def length(data: Located | None, author: Author) -> Length | None:
    """A length in words ("90 cm") or in the neutral form."""
    if data is None:
        return None
    if data.mapping:
        found: Length | None = decode_record(Length, data)
        return found
    found = parse_length(data.words)
    if found is None:
        hint = "Known units: cm, mm, m, in, ft, yd."
        author.error(
            "value-not-allowed", f'"{data.words}" is no length with a unit that is known.', data.span, hint, data.words
        )
    return found


def metres(data: Located | None, author: Author) -> Decimal | None:
    """A number of metres, given as such or as a length with its unit."""
    if data is None or not isinstance(data.value, str):
        return decimal(data)
    found = length(data, author)
    return found.cm / 100 if found is not None else None


def each_size(
    data: Located | None,
    author: Author,
    one: Callable[[Located, Author], Decimal | None] | None = None,
) -> tuple[Decimal, ...]:
    """One value for all sizes or one for each."""
    if data is None:
        return ()
    values = [
        one(item, author) if one else decimal(item)
        for item in (data.items if isinstance(data.value, tuple) else (data,))
    ]
    return tuple(value for value in values if value is not None)


def number(data: Located | None, otherwise: int = 1) -> Number:
    """A whole number, a list with one for each size, or a formula in braces."""
    if data is None:
        return otherwise
    if isinstance(data.value, tuple):
        return PerSize(tuple(item.value if isinstance(item.value, int) else None for item in data.items))
    if isinstance(data.value, str):
        return Formula(tidy_formula(data.value.strip().strip("{}")))
    return whole(data, otherwise)
