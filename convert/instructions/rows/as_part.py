"""Reads how far a piece is worked like another one: "work as for first wing until 6 rows are completed", "work as for
front through row 9", "work same as front for 9 rows".
"""

from __future__ import annotations

import re

from convert.document.steps import Again, Step
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_from
from convert.trade.patterns import listed, said

_MOST = 12
"""The most words that a piece is called by."""


def read_as_part(cur: Cursor) -> list[Step] | None:
    """The first rows of the other piece, worked again here."""
    start = cur.at
    cur.take_words("work", "go-on")
    if not cur.is_word("manner", "as", "as-first", "same"):
        cur.at = start
        return None
    named = cur.at
    far: tuple[int, bool] | None = None
    while far is None and cur.at - named < _MOST and not (cur.done or cur.peek().kind == "mark"):
        end = cur.at
        far = _how_far(cur)
        cur.at += far is None
    if far is None or end <= named + 1:
        cur.at = start
        return None
    at, cur.at = cur.at, end
    words = said_from(cur, named)
    cur.at = at
    return [Again(1, far[0], rounds=far[1], words=words, span=cur.span(start))]


def _how_far(cur: Cursor) -> tuple[int, bool] | None:
    """ "Until 6 rows are completed", "through Rnd 4", "to end of 5th row": the last row, and whether it is a round."""
    start = cur.at
    if cur.take_word("for"):
        return _so_many(cur, start)
    until = cur.is_listed("until")
    if not until and not _says_how_far(cur):
        return None
    whole = cur.is_word("around", "across") and cur.peek(1).kind == "num"  # "to end of rnd" 4
    rounds = whole and re.search(said("round"), cur.peek().text, re.IGNORECASE) is not None
    cur.at += 1
    while cur.is_word("to", "the", "and", "end", "of") or _says_how_far(cur):
        cur.at += 1
    rounds = rounds or cur.is_word("round") or cur.is_word("round", ahead=1)
    number = cur.take_kind("num") if (until or whole) and cur.peek().kind == "num" else cur.take_kind("ord")
    if whole:
        found = number
    elif number is not None:
        found = number if cur.take_words("row", "round") else None
    else:
        found = cur.take_kind("num") if cur.take_words("row", "round") else None
    by_size = cur.is_mark("(", "[", "{") and cur.peek(1).kind == "num"  # "to end of row 38 (40, 42)"
    if found is None or found.value < 1 or by_size or not _are_done(cur):
        cur.at = start
        return None
    return found.value, rounds


def _so_many(cur: Cursor, start: int) -> tuple[int, bool] | None:
    """ "For 9 rows", "for the first 4 rounds": so many from the beginning."""
    cur.take_words("the")
    first = cur.take_kind("ord")
    number = cur.take_kind("num") if first is None or first.value == 1 else None
    rounds = cur.is_word("round")
    if number is None or number.value < 1 or not cur.take_words("row", "round") or not _are_done(cur):
        cur.at = start
        return None
    return number.value, rounds


def _says_how_far(cur: Cursor) -> bool:
    return cur.peek().text.lower().split(" ", 1)[0] in listed("as_far_as")


def _are_done(cur: Cursor) -> bool:
    """ "... are completed", "have been made", up to the end of the sentence."""
    while cur.peek().kind == "unknown" or cur.is_word("told", "was-made", "total-of", "work"):
        cur.at += 1
    return cur.done or cur.peek().kind == "mark"
