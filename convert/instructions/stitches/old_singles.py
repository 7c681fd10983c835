"""Reads the single of old English books, which is a slip stitch: "a single in next double", "fasten in next loop with a
single". Where double is single crochet (US), the stitch below it is the slip stitch (Handbook of Wool Knitting and
Crochet, 1918).
"""

from __future__ import annotations

from convert.document.records import TermSystem
from convert.document.steps import Slip, Step
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor


def read_old_single(cur: Cursor) -> list[Step] | None:
    """One slip stitch into the place named; only in UK terms, where the word means no other stitch."""
    if cur.context.system is not TermSystem.UK:
        return None
    start = cur.at
    place = read_place(cur) if _takes_single(cur) else None
    if place is None and _takes_fasten(cur):
        place = read_place(cur)
        place = place if cur.take_words("with") and _takes_single(cur) else None
    if place is None or not (cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then")):
        cur.at = start
        return None
    return [Slip(place, cur.span(start))]


def _takes_single(cur: Cursor) -> bool:
    start = cur.at
    cur.take_words("work", "the")
    if cur.peek().kind == "num" and cur.peek().value == 1:
        cur.at += 1
    if cur.take_listed("single"):
        return True
    cur.at = start
    return False


def _takes_fasten(cur: Cursor) -> bool:
    return cur.take_listed("fasten") and cur.is_word("in")
