"""Reads how far a piece is worked like another one: "work as for first wing until 6 rows are completed"."""

from __future__ import annotations

from convert.document.steps import Again, Step
from convert.instructions.cursor import Cursor
from convert.instructions.said import said_from
from convert.trade.patterns import listed

_MOST = 12
"""The most words that a piece is called by."""


def read_as_part(cur: Cursor) -> list[Step] | None:
    """The first rows of the other piece, worked again here."""
    start = cur.at
    if not cur.take_words("work") or not cur.is_word("manner", "as", "like"):
        cur.at = start
        return None
    named = cur.at
    while cur.at - named < _MOST and not (cur.done or cur.peek().kind == "mark"):
        if cur.peek().text.lower() in listed("until"):
            break
        cur.at += 1
    end = cur.at
    if end <= named + 1 or cur.done or cur.peek().kind == "mark":
        cur.at = start
        return None
    cur.at += 1
    number = cur.take_kind("num")
    rounds = cur.is_word("round")
    if number is None or number.value < 1 or not cur.take_words("row", "round") or not _are_done(cur):
        cur.at = start
        return None
    at, cur.at = cur.at, end
    words = said_from(cur, named)
    cur.at = at
    return [Again(1, number.value, rounds=rounds, words=words, span=cur.span(start))]


def _are_done(cur: Cursor) -> bool:
    """ "... are completed", "have been made", up to the end of the sentence."""
    while cur.peek().kind == "unknown" or cur.is_word("told", "was-made", "total-of", "work"):
        cur.at += 1
    return cur.done or cur.peek().kind == "mark"
