"""Reads rows that go on like the last one with more, or fewer, stitches between their shapings: "continue in same
manner, having 1 more st between increases in each row".
"""

from __future__ import annotations

from convert.document.steps import Again, Reached, ReachedIn, Step
from convert.instructions.shaping.shaping_words import SHAPING
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_from


def read_growing(cur: Cursor) -> list[Step] | None:
    """A reference to the last row by the number of stitches that each row has more between its shapings."""
    start = cur.at
    if "between" not in cur.holds or not cur.is_word("go-on", "work", "manner", "repeat", "increasing", "decreasing"):
        return None
    more, reached = 0, None
    while not (cur.done or cur.is_mark(".", ";", "(", "[")):
        if cur.is_word("having", "with", "work", "leave") or cur.is_listed("adding"):
            sign = 1 if cur.is_listed("adds") else 0
            cur.at += 1
            more = more or _more_between(cur, sign)
        elif more and cur.is_listed("until"):
            reached = _reached(cur)
            break
        elif cur.peek().kind in ("num", "tog", "formula"):
            break
        else:
            cur.at += 1
    if not more or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return [Again(0, 0, words=said_from(cur, start), more=more, reached=reached, span=cur.span(start))]


def _reached(cur: Cursor) -> Reached | None:
    """ "Until there are 60 sts (in all)", "until you have 9 dc in each section", "until 8 sts are between increases".

    None, and nothing read, where no number of stitches is told so, or several.
    """
    start = cur.at
    number, within, last = 0, ReachedIn.ROW, cur.at
    while not cur.done and (cur.peek().kind != "mark" or cur.is_mark("-", "–")):
        word = cur.peek()
        if word.kind in ("tog", "formula", "ord") or (word.kind == "num" and number):
            cur.at = start
            return None
        if word.kind == "num":
            number = word.value
        if number and cur.is_word("between"):
            within = ReachedIn.BETWEEN
        elif number and within is ReachedIn.ROW and cur.is_word("piece") and cur.is_word("each", ahead=-1):
            within = ReachedIn.SECTION
        cur.at += 1
        last = cur.at
    cur.at = last
    if not number or not _counts_stitches(cur, start):
        cur.at = start
        return None
    return Reached(number, within)


def _counts_stitches(cur: Cursor, start: int) -> bool:
    """Whether the number in the words read is one of stitches, and not of rows or of inches."""
    at = next(i for i in range(start, cur.at) if cur.words[i].kind == "num")
    behind = cur.words[at + 1] if at + 1 < len(cur.words) else None
    return behind is not None and (behind.kind == "stitch" or (behind.kind == "word" and behind.id == "stitch"))


def _more_between(cur: Cursor, sign: int = 0) -> int:
    """ "1 more st between increases", "2 sts less between decs"; below 0 for fewer, and 0 with nothing read.

    `sign` is what the verb tells without a word for it ("adding 1 st between ...").
    """
    start = cur.at
    number = cur.take_kind("num")
    while number is not None and not cur.is_word("between"):
        sign = sign or (1 if cur.is_word("more") else -1 if cur.is_word("fewer") else 0)
        if cur.done or not (cur.is_word("more", "stitch") or sign == -1 or cur.peek().kind == "stitch"):
            break
        cur.at += 1
    between = cur.take_words("between", "each", "the") > 0
    found = sign if between and (cur.peek().id in SHAPING or cur.is_listed("shapings")) else 0
    if number is None or not found:
        cur.at = start
        return 0
    cur.at += 1
    return found * number.value
