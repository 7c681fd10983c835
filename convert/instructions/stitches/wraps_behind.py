"""Reads where a stitch goes behind a bracket that tells its wraps: "1 tr (over once) in next sp"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Step, Verbatim, Work
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.source import NOWHERE


def placed_behind_wraps(cur: Cursor, items: list[Item], end: int) -> list[Step] | None:
    """Gives the stitch read last its place, which stands behind the bracket that closes at `end`."""
    start = cur.at
    last = items[-1] if items else None
    untold = isinstance(last, Work) and last.place is not None and last.place.span == NOWHERE and last.each == 1
    cur.at = end + 1
    place = read_place(cur) if untold else None
    if place is None or not isinstance(last, Work) or last.place is None:
        cur.at = start
        return None
    items[-1] = replace(last, each=last.place.number, place=place)
    return [Verbatim((cur.text(start, end + 1),), True, cur.span(start, end + 1))]
