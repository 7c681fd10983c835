"""Takes motions of the hook that no reader could put together to a stitch of the trade: they are one clause, since each
of them alone says nothing.
"""

from __future__ import annotations

from convert.instructions.words.cursor import Cursor

MOTIONS = ("yarn-over", "insert", "draw-up", "work-off")
"""Words of motions of the hook."""
_LAST = ("draw-up", "work-off")
"""Motions that may take all loops off the hook."""
WRAP = "over"
"""Behind other motions the bare word wraps the yarn."""


def take_motions(cur: Cursor) -> None:
    """Goes to the last clause of a run of motions, which ends with the motion that takes all loops off the hook."""
    wraps = cur.peek().text.lower() == WRAP and cur.is_mark(",", ahead=1) and _goes_on(cur, cur.at + 2)
    if not (wraps or cur.is_word(*MOTIONS)):
        return
    end = cur.at
    while not _takes_all(cur, end):
        comma = _comma(cur, end)
        if comma is None or not _goes_on(cur, comma + 1):
            return
        end = cur.at = comma + 1


def _comma(cur: Cursor, begin: int) -> int | None:
    """The comma that ends the clause, outside brackets; None where something else ends it."""
    at = begin
    while at < len(cur.words):
        mark = cur.words[at].id if cur.words[at].kind == "mark" else ""
        if mark in (".", ";", ":", "(", ")", "[", "]", "*"):
            return None
        if mark == ",":
            return at
        at += 1
    return None


def _goes_on(cur: Cursor, at: int) -> bool:
    """Whether a motion stands there: a wrap, "hook in next st", "draw up a loop", "1 in the 3rd"."""
    ahead = at - cur.at
    while cur.is_word("and", "then", ahead=ahead):
        ahead += 1
    word = cur.peek(ahead)
    if word.text.lower() == WRAP or cur.is_word(*MOTIONS, ahead=ahead):
        return True
    if cur.is_word("hook", ahead=ahead) or (word.kind == "num" and cur.is_word("in", ahead=ahead + 1)):
        return cur.is_word("in", ahead=ahead + 1)
    ahead += cur.is_word("the", "more", ahead=ahead)
    return cur.is_word("loop", ahead=ahead) and cur.is_word("in", ahead=ahead + 1)


def _takes_all(cur: Cursor, begin: int) -> bool:
    """Whether the clause takes several loops off the hook at once, which ends a stitch."""
    at, last = begin, False
    while at < len(cur.words) and cur.words[at].kind != "mark":
        word = cur.words[at]
        last = last or (word.kind == "word" and word.id in _LAST)
        many = word.id in ("each", "remaining", "at-once") or (word.kind == "num" and word.value > 2)
        if last and many:
            return True
        at += 1
    return False
