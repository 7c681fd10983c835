"""Reads rows that go on like the last one with more, or fewer, stitches between their shapings: "continue in same
manner, having 1 more st between increases in each row".
"""

from __future__ import annotations

from convert.document.steps import Again, Step
from convert.instructions.cursor import Cursor
from convert.instructions.said import said_from
from convert.instructions.shaping_words import SHAPING
from convert.trade.patterns import listed


def read_growing(cur: Cursor) -> list[Step] | None:
    """A reference to the last row by the number of stitches that each row has more between its shapings."""
    start = cur.at
    if "between" not in cur.holds or not cur.is_word("go-on", "work", "manner", "repeat", "increasing", "decreasing"):
        return None
    more = 0
    while not (cur.done or cur.is_mark(".", ";", "(", "[")):
        if cur.is_word("having", "with", "work", "leave") or cur.peek().text.lower() in listed("adding"):
            cur.at += 1
            more = more or _more_between(cur)
        elif cur.peek().kind in ("num", "tog", "formula"):
            break
        else:
            cur.at += 1
    if not more or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return [Again(0, 0, words=said_from(cur, start), more=more, span=cur.span(start))]


def _more_between(cur: Cursor) -> int:
    """ "1 more st between increases", "2 sts less between decs"; below 0 for fewer, and 0 with nothing read."""
    start = cur.at
    number = cur.take_kind("num")
    sign = 0
    while number is not None and not cur.is_word("between"):
        sign = sign or (1 if cur.is_word("more") else -1 if cur.is_word("fewer") else 0)
        if cur.done or not (cur.is_word("more", "stitch") or sign == -1 or cur.peek().kind == "stitch"):
            break
        cur.at += 1
    found = sign if cur.take_words("between", "each", "the") and cur.peek().id in SHAPING else 0
    if number is None or not found:
        cur.at = start
        return 0
    cur.at += 1
    return found * number.value
