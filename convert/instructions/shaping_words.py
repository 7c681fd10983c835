"""Reads shaping that only words tell: "widening at each side of the heel", "narrow twice in each row"."""

from __future__ import annotations

from functools import cache

from convert.document.steps import Again, Step
from convert.instructions.again import clause_ends
from convert.instructions.cursor import Cursor
from convert.instructions.repeats import is_sign
from convert.instructions.said import said_from, untranslatable
from convert.trade.tables import table


def read_shaping_in_words(cur: Cursor) -> list[Step] | None:
    """Where and how often the work is shaped, in the author's words: what they come to only the maker can tell."""
    start = cur.at
    if cur.peek().text.lower() not in _shaping():
        return None
    cur.at += 1
    while not (cur.done or _ends(cur)):
        if is_sign(cur) or cur.peek().kind in ("tog", "formula") or untranslatable(cur.peek()):
            cur.at = start
            return None
        cur.at += 1
    return [Again(0, 0, words=said_from(cur, start), span=cur.span(start))]


def _ends(cur: Cursor) -> bool:
    """Whether the clause ends here; not where a further place follows (", also in the middle")."""
    further = cur.is_mark(",") and cur.is_word("and", ahead=1) and cur.is_word("in", ahead=2)
    return clause_ends(cur) and not further


@cache
def _shaping() -> frozenset[str]:
    return frozenset(map(str, table("asides")["shaping"]))
