"""Lengths, weights and numbers per size, written for one edition: inches first for US, centimetres first for UK."""

from __future__ import annotations

import re
from collections.abc import Sequence
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from convert.document.lengths import CENTIMETRES, Length, parse_length, tidy
from convert.document.records import TermSystem

_EIGHTHS = {0: "", 1: "⅛", 2: "¼", 3: "⅜", 4: "½", 5: "⅝", 6: "¾", 7: "⅞"}
_INCH = CENTIMETRES["in"]
_IMPERIAL = frozenset({"in", "ft", "yd"})
_ROUNDED = 100
"""From so many metres on, whole tens are taken for a rounded amount."""


class Reckoned(Length, frozen=True):
    """A length that a computation found: no figure of it is the author's own."""


def per_size(values: Sequence[str | None]) -> str:
    """Values of the sizes in their order; a dash where a size has none, one value where all are alike.

    >>> per_size(["48", "56", None]), per_size(["9", "9"])
    ('48 (56, –)', '9')
    """
    written = ["–" if value is None else value for value in values]
    if len(set(written)) <= 1:
        return "".join(written[:1])
    return f"{written[0]} ({', '.join(written[1:])})"


def nearest(value: Decimal, step: Decimal) -> Decimal:
    """The multiple of `step` that comes nearest, the larger one at half way."""
    return (value / step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step


def inches(cm: Decimal, *, exact: bool) -> str:
    """Inches as a maker reads them off a tape: to the quarter, from 20 in on to the half, below 1 in to the eighth.

    `exact` keeps an author's own figure, as a fraction where the tape has one.

    >>> inches(Decimal("122"), exact=False), inches(Decimal("6.35"), exact=True)
    ('48', '2½')
    """
    value = cm / _INCH
    if not exact:
        value = nearest(value, _step(value, Decimal("0.5"), Decimal("0.25"), Decimal("0.125")))
    eighths = value * 8
    if eighths != eighths.to_integral_value():
        return tidy(value, 2)
    whole, part = divmod(int(eighths), 8)
    return f"{whole or ''}{_EIGHTHS[part]}" or "0"


def centimetres(cm: Decimal, *, exact: bool) -> str:
    """Centimetres to the half, from 20 cm on to the whole, below 1 cm to the millimetre.

    `exact` keeps the author's own figure.

    >>> centimetres(Decimal("139.70"), exact=False), centimetres(Decimal("6.35"), exact=False)
    ('140', '6.5')
    """
    if exact:
        return tidy(cm, 2)
    return tidy(nearest(cm, _step(cm, Decimal(1), Decimal("0.5"), Decimal("0.1"))))


def _step(value: Decimal, coarse: Decimal, usual: Decimal, fine: Decimal) -> Decimal:
    return coarse if value >= 20 else usual if value >= 1 else fine


def length_text(length: Length, system: TermSystem) -> str:
    """A length in both units, the reader's own first.

    >>> length_text(Length(Decimal(122)), TermSystem.US), length_text(Length(Decimal("139.7"), "in"), TermSystem.UK)
    ('48 in (122 cm)', '140 cm (55 in)')
    """
    return length_range([length], system)


def length_range(lengths: Sequence[Length], system: TermSystem) -> str:
    """Lengths of the sizes, in both units.

    >>> length_range([Length(Decimal(50)), Length(Decimal(55))], TermSystem.UK)
    '50 (55) cm, 19¾ (21½) in'
    """
    first, second = length_pair(lengths, system)
    return f"{first}, {second}" if "(" in first else f"{first} ({second})"


def length_pair(lengths: Sequence[Length], system: TermSystem) -> tuple[str, str]:
    """Lengths of the sizes in the reader's own unit, and in the other.

    >>> length_pair([Length(Decimal(50)), Length(Decimal(55))], TermSystem.US)
    ('19¾ (21½) in', '50 (55) cm')
    """
    imperial = per_size([inches(x.cm, exact=_said(x, imperial=True)) for x in lengths]) + " in"
    metric = per_size([centimetres(x.cm, exact=_said(x, imperial=False)) for x in lengths]) + " cm"
    return (imperial, metric) if system is TermSystem.US else (metric, imperial)


_FITTING = re.compile(r"(.*?)(?:([\d.]+)\s*[-–]\s*)?([\d.]+[¼½¾]?)\s*([A-Za-z]+)")
"""Whom a size fits, with one length or the two ends of a range behind it."""


def fitting(text: str, system: TermSystem) -> str:
    """Whom a size fits, its length in both units; any other text as it is, but for the dash of a range.

    >>> (
    ...     fitting("head 41-44 cm", TermSystem.US),
    ...     fitting("chest 32 in", TermSystem.UK),
    ...     fitting("age 3-4", TermSystem.US),
    ... )
    ('head 16¼–17¼ in (41–44 cm)', 'chest 81 cm (32 in)', 'age 3–4')
    """
    match = _FITTING.fullmatch(text)
    whom, first, last, unit = match.groups() if match else ("", None, "", "")
    ends = [parse_length(f"{end} {unit}") for end in (first, last) if end]
    if not ends or not all(ends):
        return _RANGE.sub("–", text)
    imperial = "–".join(inches(end.cm, exact=_said(end, imperial=True)) for end in ends if end) + " in"
    metric = "–".join(centimetres(end.cm, exact=_said(end, imperial=False)) for end in ends if end) + " cm"
    own, other = (imperial, metric) if system is TermSystem.US else (metric, imperial)
    return f"{whom}{own} ({other})"


_RANGE = re.compile(r"(?<=\d)-(?=\d)")


def _said(length: Length, *, imperial: bool) -> bool:
    """Whether the author gave this very figure in these units, rather than a computation: at most one decimal place."""
    if isinstance(length, Reckoned) or (length.unit in _IMPERIAL) is not imperial:
        return False
    value = length.cm / CENTIMETRES[length.unit]
    return value * 8 == (value * 8).to_integral_value() or value * 10 == (value * 10).to_integral_value()


def _whole(value: Decimal, step: int = 1) -> str:
    return str(int(value.quantize(Decimal(1), rounding=ROUND_CEILING)) * step)


def yarn_length(metres: Sequence[Decimal], system: TermSystem) -> str:
    """Lengths of yarn, rounded up to the whole so that nobody runs out.

    >>> yarn_length([Decimal(200)], TermSystem.US), yarn_length([Decimal(355), Decimal(420)], TermSystem.UK)
    ('219 yd (200 m)', '355 (420) m, 389 (460) yd')
    """
    return _both_units(metres, system, 1)


def yarn_amount(metres: Sequence[Decimal], system: TermSystem) -> str:
    """Yarn that a pattern takes. Where all of it was rounded to tens of metres, yards are no more exact than that.

    >>> yarn_amount([Decimal(520), Decimal(840)], TermSystem.US), yarn_amount([Decimal(85)], TermSystem.UK)
    ('570 (920) yd, 520 (840) m', '85 m (93 yd)')
    """
    return _both_units(metres, system, 10 if all(m % 10 == 0 and m >= _ROUNDED for m in metres) else 1)


def _both_units(metres: Sequence[Decimal], system: TermSystem, step: int) -> str:
    yards = per_size([_whole(m * 100 / CENTIMETRES["yd"] / step, step) for m in metres]) + " yd"
    metric = per_size([_whole(m) for m in metres]) + " m"
    first, second = (yards, metric) if system is TermSystem.US else (metric, yards)
    return f"{first}, {second}" if "(" in first else f"{first} ({second})"


def grams(weights: Sequence[Decimal]) -> str:
    """Weights in grams.

    >>> grams([Decimal(100)])
    '100 g'
    """
    return per_size([tidy(w) for w in weights]) + " g"
