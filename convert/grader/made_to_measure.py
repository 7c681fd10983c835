"""The same pattern for a maker's own gauge, or for one size made to a measurement of the maker's own."""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from convert.document.lengths import parse_length
from convert.document.materials import Amount
from convert.document.records import Document, Part, Row, works
from convert.document.resolving import drops_out, resolved
from convert.document.sizing import Gauge, Measure, Size
from convert.grader.targets import with_targets

_GAUGE = re.compile(
    r"\s*(?P<stitches>\d+(?:\.\d+)?)\s*(?:sts?|stitches|(?P<repeats>repeats?|reps?))"
    r"(?:[\s,x×]*(?:and\s*)?(?P<rows>\d+(?:\.\d+)?)\s*(?P<noun>rows?|rnds?|rounds?))?"
    r"\s*(?:=|over|in|to)\s*(?P<over>.+)\Z",
    re.IGNORECASE,
)


class Wish(Struct, frozen=True):
    """What a maker asks for: another gauge, or measurements for one size, or both."""

    gauge: Gauge | None = None
    targets: tuple[Measure, ...] = ()


class NoWish(ValueError):
    """A gauge or measurement that cannot be read; the text says what was expected."""


def read_gauge(text: str) -> Gauge:
    """A gauge in words: stitches, or repeats of the stitch pattern. Raises `NoWish`.

    >>> read_gauge("16 sts 9 rows = 10 cm").rows
    Decimal('9')
    """
    match = _GAUGE.match(text)
    over = parse_length(match["over"]) if match else None
    if match is None or over is None or over.cm <= 0 or not Decimal(match["stitches"]):
        raise NoWish(f'"{text}" is no gauge such as "16 sts 9 rows = 10 cm"')
    rows = Decimal(match["rows"]) if match["rows"] else None
    noun = (match["noun"] or "row").lower()
    number = Decimal(match["stitches"])
    if match["repeats"]:
        return Gauge(None, rows, over, rounds=not noun.startswith("row"), repeats=number)
    return Gauge(number, rows, over, rounds=not noun.startswith("row"))


def read_measure(text: str) -> Measure:
    """A measurement in words. Raises `NoWish`.

    >>> read_measure("width=140 cm").length.said
    '140 cm'
    """
    name, equals, said = text.partition("=")
    length = parse_length(said)
    if not equals or not name.strip() or length is None or length.cm <= 0:
        raise NoWish(f'"{text}" is no measurement such as "width=140 cm"')
    return Measure(name.strip(), length)


def made_to_measure(document: Document, wish: Wish) -> Document:
    """The pattern for the wish. Numbers that the author gave by size are those of the nearest size.

    Raises `NoWish` for a measurement that no size of the pattern has, and for a gauge in repeats where the pattern does
    not say how many stitches one has.
    """
    gauge = wish.gauge
    if gauge is not None:
        own = document.gauge or Gauge()
        if gauge.repeats is not None and not own.repeat:
            raise NoWish("the pattern does not say how many stitches a repeat has, so give the gauge in stitches")
        gauge = replace(
            own,
            stitches=gauge.stitches,
            repeats=gauge.repeats,
            rows=gauge.rows or _rows_kept(own, gauge),
            over=gauge.over,
        )
        document = _without_amounts(replace(document, gauge=gauge))
    return _one_size(document, wish.targets) if wish.targets else document


def _without_amounts(document: Document) -> Document:
    """Without what the author said of yarn: it was of other numbers, and what was weighed was of another hand."""
    yarns = tuple(replace(yarn, amount=Amount(), weighed=None) for yarn in document.materials.yarns)
    return replace(document, materials=replace(document.materials, yarns=yarns))


def _rows_kept(own: Gauge, new: Gauge) -> Decimal | None:
    """The author's rows over the new length, where the maker gives stitches alone."""
    return own.rows * new.over.cm / own.over.cm if own.rows is not None else None


def _one_size(document: Document, targets: tuple[Measure, ...]) -> Document:
    sizes, _ = with_targets(document)
    known = {m.name for size in sizes for m in size.target}
    for target in targets:
        if sizes and target.name not in known:
            names = ", ".join(sorted(known)) or "none"
            raise NoWish(f'no size has a target called "{target.name}" (targets: {names})')
    if not sizes:
        raise NoWish("the pattern has one size with no targets, so there is nothing to fit")
    index = min(range(len(sizes)), key=lambda at: _distance(sizes[at], targets))
    base = sizes[index]
    wished = {m.name: m for m in targets}
    own = tuple(wished.get(m.name, m) for m in base.target)
    size = replace(base, name="Made to measure", target=own, to_fit="", body="")
    parts = tuple(_part(part, document, index) for part in document.parts)
    # The finished sample was of the size as it was before; a swatch tells as much of the new one.
    yarns = tuple(
        replace(y, amount=Amount(), weighed=None if y.weighed is not None and y.weighed.size else y.weighed)
        for y in document.materials.yarns
    )
    materials = replace(document.materials, yarns=yarns)
    return replace(document, sizes=(size,), parts=parts, materials=materials, from_body=())


def _distance(size: Size, targets: tuple[Measure, ...]) -> Fraction:
    own = {m.name: m.length for m in size.target}
    return sum((abs(Fraction(own[t.name].cm) - Fraction(t.length.cm)) for t in targets if t.name in own), Fraction(0))


def _part(part: Part, document: Document, index: int) -> Part:
    """The part as this one size works it."""
    items = tuple(replace(_plain(item, index), sizes=()) for item in part.items if works(item, document, index))
    return replace(part, items=items, make=resolved(part.make, index, {}))


def _plain(item: object, index: int) -> Row:
    if isinstance(item, Row):
        item = replace(item, steps=drops_out(item.steps, index))
    found: Row = resolved(item, index, {})
    return found
