"""Reads how often a row is shaped where that differs from another row: "with a shell over every 4th shell", "with an
additional stitch between widenings", and what explains it ("in 5th row in every 5th, and so on").
"""

from __future__ import annotations

from msgspec import Struct

from convert.document.steps import Again, Step, Verbatim, What, Which
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_in_row


class EveryInstead(Struct, frozen=True):
    """Every so manieth place in place of the number that the other row tells."""

    every: int


class EveryMore(Struct, frozen=True):
    """So many more places from one shaping to the next; in the next such row as many again."""

    more: int


def read_every(cur: Cursor) -> EveryInstead | EveryMore | None:
    """ "Shell over every 4th shell", "an additional space between widenings"."""
    start = cur.at
    cur.take_words("the")
    number = cur.take_kind("num")
    more = cur.take_words("more") > 0
    noun = cur.take_words("stitch", "space", "loop") > 0 or cur.take_kind("stitch") is not None
    if more and noun and cur.take_words("between"):
        cur.take_words("the")
        if cur.is_listed("shapings") or cur.peek().id in ("inc", "dec"):
            cur.at += 1
            return EveryMore(1 if number is None else number.value)
    cur.at = start
    stitch = cur.take_kind("stitch")
    place = read_place(cur) if stitch is not None else None
    if place is None or place.what is not What.STITCH or place.which is not Which.EACH or place.every < _SECOND:
        cur.at = start
        return None
    return EveryInstead(place.every)


_SECOND = 2


def differs_by_every(cur: Cursor) -> bool:
    """Whether ", with a shell over every 4th shell" stands at the position, to the end of its clause."""
    start = cur.at
    cur.take_mark(",")
    found = cur.take_words("with") > 0 and read_every(cur) is not None and (cur.done or cur.is_mark(".", ",", ";"))
    cur.at = start
    return found


def explains_growth(cur: Cursor, before: Step | object) -> list[Step] | None:
    """ "; in 5th row make a shell in every 5th, and so on, with shell in every 9th, in 9th row": what rows worked like
    an earlier one, with more between their shapings, come to. Only where the numbers of rows and places go together.
    """
    if not isinstance(before, Again) or not before.words or not cur.is_mark(";", ahead=-1) or not cur.is_word("in"):
        return None
    start = cur.at
    rows: list[int] = []
    places: list[int] = []
    while not (cur.done or cur.is_mark(".", ";")):
        if cur.peek().kind == "ord":
            (rows if cur.is_word("row", "round", ahead=1) else places).append(cur.peek().value)
        cur.at += 1
    words = said_in_row(cur, start)
    apart = {row - place for row, place in zip(sorted(rows), sorted(places), strict=False)}
    if not rows or len(rows) != len(places) or len(apart) != 1 or words is None:
        cur.at = start
        return None
    return [Verbatim(words, True, cur.span(start))]
