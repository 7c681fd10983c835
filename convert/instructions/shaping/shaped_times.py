"""Reads how often a row of one stitch in each is shaped, told behind it: "a double in each double; narrow twice in each
row". How many there are is told, and where is left to the maker.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, Which, Work
from convert.instructions.shaping.extras import row_of_one
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.numbers import times_word
from convert.instructions.words.phrases import takes_sign


def shaped_times(cur: Cursor, items: list[Item]) -> bool:
    """So many increases or decreases, put into the row of one in each that stands before; whether any are told."""
    start = cur.at
    if cur.peek().kind == "num":
        return False
    stitch = next((id for id, words in SHAPING.items() if takes_sign(cur, words)), None)
    at = row_of_one(items) if stitch is not None else None
    whole = items[at] if at is not None else None
    number = so_often(cur) if isinstance(whole, Work) and whole.stitch not in SHAPING else None
    if not isinstance(whole, Work) or at is None or stitch is None or number is None or not _in_each_row(cur):
        cur.at = start
        return False
    place = Place(which=Which.ANY, number=number, of=whole.stitch, span=cur.span(start))
    items[at] = replace(whole, stitch=stitch, place=place, span=whole.span.to(cur.span(start)))
    return True


SHAPING = {"inc": "widen_words", "dec": "narrow_words"}


def so_often(cur: Cursor) -> int | None:
    """ "Twice", "3 times": the number, if it stands next."""
    number = times_word(cur)
    if number is None and cur.peek().kind == "num" and cur.is_word("times", ahead=1):
        number = cur.peek().value
        cur.at += 2
    return number if isinstance(number, int) and number > 0 else None


def _in_each_row(cur: Cursor) -> bool:
    """Reads "in each row", "every round", where the clause ends with it; or nothing, where it ends before."""
    cur.take_words("in")
    cur.take_words("each", "the")
    cur.take_words("row", "round")
    further = cur.is_mark(",") and cur.is_word("and", ahead=1) and cur.is_word("in", ahead=2)  # ", also at the tip"
    return cur.done or (cur.is_mark(".", ";", ",") and not further)
