"""Outlines of finished pieces, from `shared/outlines.yaml`."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.trade.tables import TableError, record, table

Point = tuple[int, int]
SIDES = ("below", "right")


class Span(Struct, frozen=True):
    """A line that shows a measurement: the first of `measures` that the pattern has, figures at its `side`."""

    measures: tuple[str, ...]
    start: Point
    end: Point
    side: str


class Outline(Struct, frozen=True):
    """A shape in a field of 200 by 150 units, as paths of an SVG."""

    id: str
    path: str
    inner: str
    spans: tuple[Span, ...]
    upright: float = 0
    """A rectangle of up to so many times its width in length stands upright, in its own proportions."""
    unasked: tuple[str, ...] = ()
    """Measurements that no maker takes of it, since the others tell them."""


def standing(outline: Outline, wide: float, long: float) -> Outline:
    """The outline of a rectangle that stands upright, if it is one and not too long for that; else as it is.

    >>> standing(outlines()["rectangle"], 60, 80).path, standing(outlines()["rectangle"], 20, 80).path[:5]
    ('M51 10 H149 V140 H51 Z', 'M0 20')
    """
    if not wide or not 0 < long <= outline.upright * wide:
        return outline
    scale = min(_FIELD[0] / wide, _FIELD[1] / long)
    across, down = round(wide * scale / 2), round(long * scale / 2)
    left, right, upper, lower = 100 - across, 100 + across, 75 - down, 75 + down
    spans = (
        Span(("width",), (left, lower + 15), (right, lower + 15), "below"),
        Span(("length", "height", "depth"), (right + 15, upper), (right + 15, lower), "right"),
    )
    return replace(outline, path=f"M{left} {upper} H{right} V{lower} H{left} Z", spans=spans)


_FIELD = (200, 130)


def _span(entry: dict[str, Any], where: str) -> Span:
    fields = record(entry, {"measures", "from", "to", "text"}, set(), where)
    if fields["text"] not in SIDES:
        raise TableError(f"{where}: figures stand {' or '.join(SIDES)}, not {fields['text']!r}")
    start, end = tuple(fields["from"]), tuple(fields["to"])
    return Span(tuple(map(str, fields["measures"])), (start[0], start[1]), (end[0], end[1]), str(fields["text"]))


@cache
def outlines() -> MappingProxyType[str, Outline]:
    """Every outline by its id.

    >>> [span.measures[0] for span in outlines()["hexagon"].spans]
    ['width', 'height']
    """
    found: dict[str, Outline] = {}
    for entry in table("outlines"):
        where = f"outlines.yaml, {entry.get('id')!r}"
        fields = record(entry, {"id", "path", "lines"}, {"inner", "upright", "unasked"}, where)
        spans = tuple(_span(line, where) for line in fields["lines"])
        upright = float(fields.get("upright", 0))
        unasked = tuple(map(str, fields.get("unasked", ())))
        found[fields["id"]] = Outline(fields["id"], fields["path"], fields.get("inner", ""), spans, upright, unasked)
    return MappingProxyType(found)
