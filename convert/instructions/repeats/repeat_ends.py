"""Tells from the words behind "repeat" where it ends: at the row's closing, in another line, or in words of its own."""

from __future__ import annotations

from functools import cache

from convert.instructions.words.cursor import Cursor
from convert.trade.tables import table


def closes_behind(cur: Cursor) -> bool:
    """Whether the row is closed behind the comma ("repeat, join", "repeat, ending with 2 dc"), or words behind it tell
    how the repeat goes ("repeat, widening at the corners").
    """
    if _is_count(cur):
        return True
    if not cur.is_mark(","):
        return False
    closes = cur.is_word("join", "turn", "do-not-turn", "fasten-off", "ending", ahead=1)
    return closes or cur.peek(1).text.lower() in differing_words()


def _is_count(cur: Cursor) -> bool:
    """Whether a number alone in brackets, or with what it counts, is all that is left to work: "repeat (24 sc)"."""
    if not cur.is_mark("(", "[") or cur.peek(1).kind != "num":
        return False
    ahead = 2 + (cur.peek(2).kind in ("stitch", "unknown", "word"))
    behind = cur.at + ahead + 1
    ends = behind >= cur.end or cur.ids[behind] in ("fasten-off", "turn", "join", ".")
    return cur.is_mark(")", "]", ahead=ahead) and ends


@cache
def differing_words() -> frozenset[str]:
    """Words behind work told before that begin what differs: "making", "widening"."""
    return frozenset(map(str, table("asides")["differing"]))


def ends_elsewhere(cur: Cursor) -> bool:
    """ "Rep from * of 9th rnd", "rep from ** to end of 1st point": of what another line tells."""
    if cur.is_word("of"):
        return True
    ahead = 2 if cur.is_word("to") and cur.is_word("end", ahead=1) else 1 if cur.is_word("around", "across") else 0
    if not ahead or not cur.is_word("of", ahead=ahead):
        return False
    return cur.peek(ahead + 1).kind == "ord" or cur.is_word("piece", "same", ahead=ahead + 1)
