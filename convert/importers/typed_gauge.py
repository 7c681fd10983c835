"""Gauge as people type it: "16 sts and 9 rows = 10 cm in dc", "7 sc = 2 inches", "3 sts = 1 in; 4 rows = 1 in"."""

from __future__ import annotations

import re
from decimal import Decimal
from functools import cache

from convert.document.lengths import Length, parse_length
from convert.document.records import Gauge, TermSystem
from convert.importers.typed_words import DECIMAL, decimal
from convert.source import Passage
from convert.terms.evidence import readings, stitch_forms
from convert.terms.forms import key
from convert.terms.prose import read_prose

_IS = r"\s?(?:=|to|per|over|in|equals?|makes?|measures?|gives?|:)\s?(?:a\s|the\s)?"
_UNIT = r"(?:cms?\b|centimet(?:re|er)s?\b|in(?:s|ches|ch)?\b\.?|[\"″”])"
_SQUARE = rf"(?:\s?(?:sq(?:uare)?\b\.?|(?:[x×]|by)\s?{DECIMAL}\s?{_UNIT}))?"
_SAME = rf"(?:\s?(?:/|\(|or)\s?(?P<same>{DECIMAL}\s?{_UNIT})\)?)?"
_ROUNDED = Decimal("0.03")
"""How far apart the same length in two units may be, of the length: 4 in and 10 cm are."""
_SQUARED = re.compile(rf"({DECIMAL})\s?({_UNIT})?\s?(?:[x×]|by)\s?{DECIMAL}\s?({_UNIT})", re.IGNORECASE)
_ROWS = rf"(?P<rows>{DECIMAL})\s?(?P<kind>rows?|rnds?|rounds?)"


def read_gauge(passage: Passage, system: TermSystem) -> Gauge:
    """The gauge that a passage gives. What does not fit the usual forms is kept in words, whole.

    >>> gauge = read_gauge(Passage("16 sts and 9 rows = 10 cm in dc"), TermSystem.US)
    >>> gauge.stitches, gauge.rows, gauge.stitch, gauge.words
    (Decimal('16'), Decimal('9'), 'dc', ())
    """
    words = read_prose(passage.text, system)
    squared = _SQUARED.sub(lambda match: _one_side(match), passage.text)
    match = _pattern().match(squared)
    if match is None:
        return Gauge(words=words, span=passage.whole)
    over = parse_length(_with_unit(match["over"]))
    if over is None or over.cm <= 0:
        return Gauge(words=words, span=passage.whole)
    form = match["stitch"] or match["worked"]
    stitch = readings(system).get(key(form)) if form else None
    whole = match.end() == len(squared) and (stitch is not None or not form) and _is_same(match["same"], over)
    return Gauge(
        decimal(match["sts"]),
        _rows(match, over),
        over,
        stitch.id if stitch else None,
        (match["kind"] or match["kind2"] or "").lower().startswith(("rnd", "round")),
        () if whole else words,
        span=passage.whole,
    )


def _one_side(match: re.Match[str]) -> str:
    """ "10 x 10 cm" as the one length that a gauge is over; two different sides stay as they are."""
    first, second = decimal(match.group(1)), re.search(DECIMAL, match.group()[len(match.group(1)) :])
    if second is None or decimal(second.group()) != first:
        return match.group()
    return f"{match.group(1)} {match.group(3)}"


def _rows(match: re.Match[str], over: Length) -> Decimal | None:
    """The rows over the same length as the stitches."""
    if match["rows"]:
        return decimal(match["rows"])
    if not match["rows2"]:
        return None
    length = parse_length(_with_unit(match["over2"]))
    if length is None or length.cm <= 0:
        return None
    rows = decimal(match["rows2"]) * over.cm / length.cm
    return (
        rows.quantize(Decimal("0.0001")).normalize() if rows != rows.to_integral_value() else rows.quantize(Decimal(1))
    )


def _is_same(text: str | None, over: Length) -> bool:
    """Whether a length in another unit says the same again."""
    other = parse_length(_with_unit(text)) if text else over
    return other is not None and abs(other.cm - over.cm) <= over.cm * _ROUNDED


def _with_unit(text: str) -> str:
    return re.sub(r"(in)\.\Z", r"\1", text)


@cache
def _pattern() -> re.Pattern[str]:
    stitch = rf"(?:sts?\b\.?|stitches|(?P<stitch>{stitch_forms()})(?![^\W_]))"
    length = rf"{DECIMAL}\s?{_UNIT}"
    rows = rf"(?:\s?(?:and|x|×|,|by|/|&|\+|;)\s?{_ROWS})?"
    more = rf"(?:\s?[;,]?\s?(?:and\s)?(?P<rows2>{DECIMAL})\s?(?P<kind2>rows?|rnds?|rounds?){_IS}(?P<over2>{length}){_SQUARE})?"
    worked = rf"(?:\s?,?\s?(?:worked\s|using\s)?(?:in\s|over\s)?(?P<worked>{stitch_forms()})(?![^\W_]))?"
    text = rf"\s*(?P<sts>{DECIMAL})\s?{stitch}{rows}{_IS}(?P<over>{length}){_SQUARE}{_SAME}{_SQUARE}{more}{worked}\s*\.?\s*"
    return re.compile(text, re.IGNORECASE)
