"""Reads how far a clause goes that seemed to go to the end of the row: "dc in each dc, up to the ch-2 sp"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent, Repeat, Verbatim, What, Which, Work
from convert.instructions.places.place import as_space, read_place
from convert.instructions.places.twice_into import worked_so_often
from convert.instructions.shaping.extras import read_extras
from convert.instructions.shaping.shaped_times import SHAPING, shaped_times
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.said import said_in_row
from convert.trade.stitches import stitches


def narrowed_behind(cur: Cursor, items: list[Item]) -> bool:
    """Whether words at the position tell more of the work that went to the end of the row: where it stops, what is
    among it, or what there is besides.
    """
    first = cur.peek()
    if not items or first.kind in ("mark", "tog") or (first.kind == "stitch" and first.id not in SHAPING):
        return False
    return (
        ("besides" in cur.begun and read_extras(cur, items))
        or shaped_times(cur, items)
        or (first.id == "work" and worked_so_often(cur, items))
        or (first.id == "to" and stops_before(cur, items))
        or ("included" in cur.begun and tells_included(cur, items))
    )


def stops_before(cur: Cursor, items: list[Item]) -> bool:
    """Whether the place at the position is where the work told last stops, behind a comma; its step is then a repeat up
    to there.
    """
    if not cur.is_word("to") or not cur.at or not cur.is_mark(",", ahead=-1):
        return False
    at = len(items) - 1
    while at >= 0 and _is_said(items[at]):
        at -= 1
    last = items[at] if at >= 0 else None
    if not isinstance(last, Work) or last.place is None or last.place.which is not Which.EACH or last.place.also:
        return False
    start = cur.at
    cur.at += 1
    place = read_place(cur, preposition=False)
    ends = cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then")
    place = as_space(place) if place is not None else None
    spaced = place is not None and place.what in (What.SPACE, What.CORNER) and place.which.is_one
    at_end = place is not None and place.what is What.STITCH and place.which is Which.LAST and not place.words
    if not ends or not (spaced or at_end):
        cur.at = start
        return False
    each = replace(last, place=replace(last.place, which=Which.NEXT))
    extent = Extent.TO_LAST if at_end else Extent.TO_PLACE
    items[at] = Repeat((each,), extent, place=place, span=last.span.to(cur.span(start)))
    return True


def tells_included(cur: Cursor, items: list[Item]) -> bool:
    """Whether words at the position only tell that stitches of a group are among those told last: "dc in each dc,
    including the 3 dc of shell". They are put into the items.
    """
    last = items[-1] if items else None
    if not isinstance(last, Work) or last.place is None or last.place.which is not Which.EACH:
        return False
    start = cur.at
    if not cur.is_listed("included"):
        return False
    cur.at += 1
    cur.take_words("the", "each")
    cur.take_kind("num")
    named = cur.take_kind("stitch")
    unit = cur.take_kind("stitch") if named is not None and cur.take_words("of", "the", "each") else None
    entry = stitches().get(unit.id) if unit is not None else None
    same = named is not None and named.id in (last.place.of, last.stitch)
    if entry is None or not entry.unit or not same or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return False
    words = said_in_row(cur, start)
    if words is None:
        cur.at = start
        return False
    items.append(Verbatim(words, True, cur.span(start)))
    return True


def _is_said(item: Item) -> bool:
    return isinstance(item, Verbatim) and item.inert
