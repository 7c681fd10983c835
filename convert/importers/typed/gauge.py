"""Gauge as people type it: "16 sts and 9 rows = 10 cm in dc", "7 sc = 2 inches", "3 sts = 1 in; 4 rows = 1 in"."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from msgspec import Struct

from convert.document.lengths import Length, parse_length, spellings
from convert.document.records import TermSystem
from convert.document.sizing import Gauge
from convert.importers.typed.words import DECIMAL, decimal
from convert.source import Passage
from convert.terms.evidence import readings
from convert.terms.lookup import form_at, may_end
from convert.terms.prose import read_prose
from convert.trade.patterns import either, said, signs
from convert.trade.stitches import stitches

_ROUNDED = Decimal("0.03")
"""How far apart the same length in two units may be, of the length: 4 in and 10 cm are."""
_END = re.compile(r"\s*\.?\s*\Z")


class _Patterns(Struct, frozen=True):
    squared: re.Pattern[str]
    """ "10 x 10 cm"."""
    number: re.Pattern[str]
    """The stitches: "16 sts", or 16 and the name of a stitch behind."""
    repeats: re.Pattern[str]
    """ "pattern repeats", behind the number of them."""
    each: re.Pattern[str]
    """ "of 6 sts" or "(6 sts each)", behind the repeats."""
    rows: re.Pattern[str]
    """ "and 9 rows", with the length still to come."""
    over: re.Pattern[str]
    """ "= 10 cm / 4 in"."""
    rows_over: re.Pattern[str]
    """ "; 9 rows = 10 cm"."""
    worked: re.Pattern[str]
    """ "worked in", with the stitch to come."""


@cache
def _patterns() -> _Patterns:
    units = either(spellings("cm", "in"))
    unit = rf"{units}(?![a-z])\.?"
    length = rf"{DECIMAL}\s?{unit}"
    by = rf"(?:{signs('cross')}|{said('with')})"
    square = rf"(?:\s?(?:{signs('square')}(?![a-z])|{by}\s?{length}))?"
    over = rf"\s?{signs('over')}\s?(?:{said('the')}\s)?(?P<over>{length}){square}"
    row = rf"(?P<kind>{said('row', 'round')})\b"
    beside = rf"\s?{signs('beside')}\s?"
    worked = rf"\s?,?\s?(?:{signs('swatch')}\s)?(?:{said('in')}\s)?"
    found = (
        rf"({DECIMAL})\s?({unit})?\s?{by}\s?{DECIMAL}\s?({unit})",
        rf"\s*(?P<n>{DECIMAL})\s?(?P<sts>{said('stitch')}(?![a-z])\.?)?",
        rf"\s?{signs('repeats')}(?![a-z])",
        rf"\s?\(?\s?(?:{said('of')}\s)?(?P<n>\d{{1,3}})\s?{said('stitch')}(?![a-z])\.?(?:\s{said('each')})?\s?\)?",
        rf"{beside}(?P<n>{DECIMAL})\s?{row}",
        rf"{over}(?:\s?(?:/|\(|or)\s?(?P<same>{length})\)?)?{square}",
        rf"(?:{beside})?(?:{said('and')}\s)?\s?(?P<n>{DECIMAL})\s?{row}{over}",
        worked,
    )
    return _Patterns(*(re.compile(pattern, re.IGNORECASE) for pattern in found))


def read_gauge(passage: Passage, system: TermSystem) -> Gauge:
    """The gauge that a passage gives. What does not fit the usual forms is kept in words, whole.

    >>> gauge = read_gauge(Passage("16 sts and 9 rows = 10 cm in dc"), TermSystem.US)
    >>> gauge.stitches, gauge.rows, gauge.stitch, gauge.words
    (Decimal('16'), Decimal('9'), 'dc', ())
    >>> gauge = read_gauge(Passage("2 repeats of 6 sts and 4 rows = 10 cm"), TermSystem.US)
    >>> gauge.repeats, gauge.repeat, gauge.rows
    (Decimal('2'), 6, Decimal('4'))
    """
    words = read_prose(passage.text, system)
    text = _patterns().squared.sub(_one_side, passage.text)
    number = _patterns().number.match(text)
    stitch, at = _stitch(text, number, system)
    each, at = _each_repeat(text, number, stitch, at)
    rows = _patterns().rows.match(text, at)
    length = _patterns().over.match(text, rows.end() if rows else at)
    over = parse_length(_with_unit(length["over"])) if length else None
    if number is None or at == 0 or length is None or over is None or over.cm <= 0:
        return Gauge(words=words, span=passage.whole)
    more = None if rows else _patterns().rows_over.match(text, length.end())
    worked, end = _worked_in(text, more.end() if more else length.end(), system)
    row = rows or more
    whole = _END.match(text, end) is not None and _is_same(length["same"], over) and each != 0
    return Gauge(
        decimal(number["n"]) if each is None else None,
        _per(decimal(row["n"]), over, parse_length(_with_unit(more["over"])) if more else over) if row else None,
        over,
        worked if each is not None else stitch or worked,
        row is not None and row["kind"].lower().startswith(("rnd", "round")),
        () if whole else words,
        decimal(number["n"]) if each else None,
        each or 0,
        span=passage.whole,
    )


def _stitch(text: str, number: re.Match[str] | None, system: TermSystem) -> tuple[str | None, int]:
    """The kind of stitch behind the number, None for "sts"; and where it ends, 0 if neither stands there."""
    if number is None:
        return None, 0
    if number["sts"]:
        return None, number.end()
    found = form_at(text, number.end(), readings(system))
    return (readings(system)[found.form].id, found.end) if found and may_end(text, found.end) else (None, 0)


def _each_repeat(text: str, number: re.Match[str] | None, stitch: str | None, at: int) -> tuple[int | None, int]:
    """The stitches of each repeat where repeats or groups (shells) are counted in place of stitches, 0 where nothing
    tells how many; None where stitches are counted. And where the words for it end.
    """
    if number is None or number["sts"]:
        return None, at
    named = _patterns().repeats.match(text, number.end())
    if named is None and (stitch is None or not stitches()[stitch].unit):
        return None, at
    end = named.end() if named else at
    each = _patterns().each.match(text, end)
    return (int(each["n"]), each.end()) if each else (0, end)


def _worked_in(text: str, start: int, system: TermSystem) -> tuple[str | None, int]:
    """The stitch that the swatch is worked in ("in dc"), and where the words for it end."""
    match = _patterns().worked.match(text, start)
    found = form_at(text, match.end(), readings(system)) if match else None
    return (readings(system)[found.form].id, found.end) if found and may_end(text, found.end) else (None, start)


def _one_side(match: re.Match[str]) -> str:
    """ "10 x 10 cm" as the one length that a gauge is over; two different sides stay as they are."""
    first, second = decimal(match.group(1)), re.search(DECIMAL, match.group()[len(match.group(1)) :])
    if second is None or decimal(second.group()) != first:
        return match.group()
    return f"{match.group(1)} {match.group(3)}"


def _per(rows: Decimal, over: Length, length: Length | None) -> Decimal | None:
    """Rows counted over one length, as rows over another."""
    if length is None or length.cm <= 0:
        return None
    found = rows * over.cm / length.cm
    return (
        found.quantize(Decimal(1))
        if found == found.to_integral_value()
        else found.quantize(Decimal("0.0001")).normalize()
    )


def _is_same(text: str | None, over: Length) -> bool:
    """Whether a length in another unit says the same again."""
    other = parse_length(_with_unit(text)) if text else over
    return other is not None and abs(other.cm - over.cm) <= over.cm * _ROUNDED


def _with_unit(text: str) -> str:
    """A length without the full stop behind its unit, which may be that of a sentence."""
    return text.removesuffix(".")
