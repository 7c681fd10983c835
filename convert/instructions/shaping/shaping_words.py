"""Reads shaping that only words tell: "widening at each side of the heel", "narrow twice in each row"."""

from __future__ import annotations

from functools import cache

from convert.document.steps import Again, Step
from convert.instructions.repeats.repeat import is_sign
from convert.instructions.rows.again import clause_ends
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.remarks import remark_follows
from convert.instructions.words.said import said_in_row
from convert.trade.tables import table

SHAPING = {"inc": "inc", "increasing": "inc", "dec": "dec", "decreasing": "dec"}
"""The ids of stitches and words that shape, and the stitch that each comes to."""


def read_shaping_in_words(cur: Cursor) -> list[Step] | None:
    """Where and how often the work is shaped, in the author's words: what they come to only the maker can tell."""
    extra = cur.is_word("with") and cur.peek(1).kind == "num" and cur.is_word("more", ahead=2)
    if (not extra and cur.peek().text.lower() not in _shaping()) or remark_follows(cur):
        return None
    return read_in_words(cur)


def read_in_words(cur: Cursor) -> list[Step] | None:
    """The clause at the position as work that its words alone tell; None where they cannot be said in both systems."""
    start = cur.at
    cur.at += 1
    while not (cur.done or _ends(cur)):
        if is_sign(cur) or cur.peek().kind in ("tog", "formula"):
            cur.at = start
            return None
        cur.at += 1
    said = said_in_row(cur, start)
    if said is None:
        cur.at = start
        return None
    return [Again(0, 0, words=said, span=cur.span(start))]


def _ends(cur: Cursor) -> bool:
    """Whether the clause ends here; not where a further place follows (", also in the middle")."""
    further = cur.is_mark(",") and cur.is_word("and", ahead=1) and cur.is_word("in", ahead=2)
    return clause_ends(cur) and not further


@cache
def _shaping() -> frozenset[str]:
    return frozenset(map(str, table("asides")["shaping"]))
