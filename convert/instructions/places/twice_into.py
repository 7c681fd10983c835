"""Reads where stitches go that were told before, so often each: "3 tr, 3 ch, working twice into each loop"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, Extent, Group, Place, Repeat, What, Which, Work
from convert.instructions.places.place import as_space, read_place
from convert.instructions.shaping.shaped_times import so_often
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.source import NOWHERE


def worked_so_often(cur: Cursor, items: list[Item]) -> bool:
    """Puts the stitches and chains of the row, none of which names a place, so often into each place told."""
    start = cur.at
    if not items or not cur.is_word("work") or not cur.peek().text.lower().endswith("ing"):
        return False
    cur.at += 1
    times = so_often(cur)
    place = read_place(cur) if times is not None else None
    steps = [_without_place(item) for item in items]
    ends = cur.done or cur.is_mark(".", ";", ",")
    if place is None or times is None or not ends or None in steps or not isinstance(items[0], Work):
        cur.at = start
        return False
    where = as_space(replace(place, which=Which.NEXT) if place.which is Which.EACH else place)
    if where.what is not What.SPACE or where.which is not Which.NEXT or where.number != 1:
        cur.at = start
        return False
    body = Repeat(tuple(s for s in steps if s is not None), Extent.TIMES, times)
    group = Group((body,), where, items[0].span.to(cur.span(start)))
    items[:] = [Repeat((group,), Extent.END, span=group.span)]
    return True


def _without_place(item: Item) -> Work | Chain | None:
    """A stitch told without a place, as many as there are, for one place; or a chain."""
    if isinstance(item, Chain):
        return item
    place = item.place if isinstance(item, Work) else None
    untold = isinstance(place, Place) and place.span == NOWHERE and place.which is Which.NEXT
    if not isinstance(item, Work) or place is None or not untold or item.each != 1:
        return None
    return Work(item.stitch, place.number, None, span=item.span)
