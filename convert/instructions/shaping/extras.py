"""Reads stitches that a plain row has besides one in each: "plain, with 3 extra dc under each arm, and 6 extra at the
centre of back". How many there are is told, and where at most in words.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, Verbatim, What, Which, Work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.said import said_in_row

_INCREASE = "inc"


def read_extras(cur: Cursor, items: list[Item]) -> bool:
    """The extra stitches at the position, put into the items; whether there are any behind a row of one in each."""
    if not (cur.is_word("with") and _counts_extra(cur, 1)) and not _counts_extra(cur, 0):
        return False
    at = row_of_one(items)
    if at is None:
        return False
    start = cur.at
    whole = items[at]
    assert isinstance(whole, Work)
    assert whole.place is not None
    cur.take_word("with")
    number = cur.peek().value
    cur.at += 2
    named = cur.take_kind("stitch")
    cur.take_words("stitch")
    stitch = whole.place.of if _is_increase(whole) else whole.stitch
    times = _take_where(cur)
    words = said_in_row(cur, start)
    if not times or words is None or (named is not None and named.id != stitch):
        cur.at = start
        return False
    before = whole.place.number if _is_increase(whole) else 0
    assert isinstance(before, int)
    place = Place(which=Which.ANY, number=before + number * times, of=stitch)
    items[at] = replace(whole, stitch=_INCREASE, place=place)
    items.append(Verbatim(words, True, cur.span(start)))
    return True


def _counts_extra(cur: Cursor, ahead: int) -> bool:
    return cur.peek(ahead).kind == "num" and cur.is_listed("besides", ahead + 1)


def _is_increase(step: Work) -> bool:
    return step.stitch == _INCREASE


def row_of_one(items: list[Item]) -> int | None:
    """The index of the step that works one stitch into each, with or without further stitches spread over them; None
    where another step stands behind it.
    """
    at = len(items) - 1
    while at >= 0 and _is_said(items[at]):
        at -= 1
    step = items[at] if at >= 0 else None
    if not isinstance(step, Work) or step.place is None or step.each != 1 or step.place.what is not What.STITCH:
        return None
    place = step.place
    if _is_increase(step):
        return at if place.which is Which.ANY and place.of is not None and isinstance(place.number, int) else None
    plain = place.which is Which.EACH and place.every == 1 and not place.also and place.within is None
    return at if plain and place.of in (None, step.stitch) else None


def _is_said(item: Item) -> bool:
    return isinstance(item, Verbatim) and item.inert


def _take_where(cur: Cursor) -> int:
    """Reads on to the end of the clause; how many places of the kind it names there are, 0 where nobody knows."""
    times = 1
    while not (cur.done or cur.is_mark(",", ".", ";", "(", "[")):
        if cur.is_word("and") and _counts_extra(cur, 1):
            break
        if cur.peek().kind in ("tog", "formula"):
            return 0
        if cur.is_word("each"):
            times = 2 if cur.is_listed("pairs", 1) else 0
        if not times:
            return 0
        cur.at += 1
    return times
