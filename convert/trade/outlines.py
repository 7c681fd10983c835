"""Outlines of finished pieces, from `shared/outlines.yaml`."""

from __future__ import annotations

from functools import cache
from types import MappingProxyType
from typing import Any

from msgspec import Struct

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
        fields = record(entry, {"id", "path", "lines"}, {"inner"}, where)
        spans = tuple(_span(line, where) for line in fields["lines"])
        found[fields["id"]] = Outline(fields["id"], fields["path"], fields.get("inner", ""), spans)
    return MappingProxyType(found)
