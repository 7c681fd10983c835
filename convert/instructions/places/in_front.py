"""Reads what the work goes over or in front of, with no comma behind it: "working behind 2 sts just made dc in ..."."""

from __future__ import annotations

from convert.document.steps import Step, Verbatim
from convert.instructions.places.just_made import told_as_made
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.said import said_in_row


def read_in_front(cur: Cursor) -> list[Step] | None:
    """The words up to the stitch that is worked: they tell on which side of the fabric the hook passes, and no more."""
    start = cur.at
    if not cur.is_word("work") or not cur.peek().text.lower().endswith("ing"):
        return None
    cur.at += 1
    if not takes_sign(cur, "hook_passes") or not _takes_thing(cur) or not _works_next(cur):
        cur.at = start
        return None
    words = said_in_row(cur, start)
    if words is None:
        cur.at = start
        return None
    return [Verbatim(words, True, cur.span(start))]


def _takes_thing(cur: Cursor) -> bool:
    """Reads "the 3 sts just made", "next ch-1 sp", "ch-3"."""
    start = cur.at
    while cur.is_word("the", "last") or cur.peek().kind == "num":
        cur.at += 1
    made = cur.at
    while not cur.done and cur.peek().kind != "mark" and cur.at - made < _NEAR:
        cur.at += 1
        if cur.is_listed("just_now", -1) and cur.is_listed("was_made"):
            cur.at += 1
            return True
    cur.at = start
    return told_as_made(cur) is not None or read_place(cur, preposition=False) is not None


_NEAR = 3
"""So many words behind the number stands "just made" at most."""


def _works_next(cur: Cursor) -> bool:
    """Whether the clause ends, or a stitch to be worked stands right there, with its number or without."""
    if cur.done or cur.is_mark(",", ";", ".", ":"):
        return True
    stitch = cur.peek(1) if cur.peek().kind == "num" else cur.peek()
    return stitch.kind in ("stitch", "tog") and stitch.id != "ch"
