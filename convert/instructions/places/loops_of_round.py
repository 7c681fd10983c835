"""Reads loops of an earlier round that a row is worked in: "working in the unused front loops of Rnd 4"."""

from __future__ import annotations

from convert.document.steps import Begin, Place, Start, Step, What
from convert.instructions.places.place_words import said_of_place
from convert.instructions.words.cursor import Cursor

_ROUNDS = frozenset({"row", "round"})


def read_loops_of_round(cur: Cursor) -> list[Step] | None:
    """The row goes along that round, whose number the words tell."""
    if not cur.holds & _ROUNDS:
        return None
    start = cur.at
    cur.take_words("work")
    first = cur.at
    named = cur.take_words("in") > 0 and _take_loops(cur) and take_round(cur)
    if not named or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    span = cur.span(start)
    return [Begin(Start.ALONG, place=Place(What.PIECE, words=said_of_place(cur, first), span=span), span=span)]


def _take_loops(cur: Cursor) -> bool:
    while cur.take_words("the", "each", "unworked", "remaining") or cur.is_listed("left_free"):
        cur.take_listed("left_free")
    if not cur.take_word("front-loop", "back-loop", "third-loop", "loop"):
        return False
    cur.take_words("only", "of", "in", "from", "the", "each", "stitch")
    return True


def take_round(cur: Cursor) -> bool:
    """Reads "Rnd 4", "4th rnd"."""
    start = cur.at
    cur.take_words("of", "from", "the")
    if cur.take_kind("ord") is not None and cur.take_word("round", "row"):
        return True
    cur.at = start
    cur.take_words("of", "from", "the")
    if cur.take_word("round", "row") and cur.take_kind("num") is not None:
        return True
    cur.at = start
    return False
