"""Reads how stitches in one place are drawn together to a popcorn: "drop loop from hook, insert hook in first dc, pull
loop through".
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.prose import Prose
from convert.document.steps import Step, Verbatim
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_from, untranslatable
from convert.trade.patterns import listed, said, signs


def read_drawn_through(cur: Cursor) -> list[Step] | None:
    """The loop is dropped, the hook goes in, and the loop comes through; with the chain that closes it."""
    word = cur.peek()
    if word.text.lower() not in _first_words():
        return None
    start = cur.at
    match = _drawn().match(cur.passage.text, word.start)
    end = match.end() if match is not None else -1
    while not cur.done and cur.peek().end <= end:
        cur.at += 1
    ends = match is not None and cur.peek(-1).end == end and (cur.done or cur.peek().kind == "mark")
    if not ends or any(map(untranslatable, cur.words[start : cur.at])):
        cur.at = start
        return None
    return [Verbatim(said_from(cur, start), True, cur.span(start))]


def draws_through(words: Prose) -> bool:
    """Whether the words draw the stitches before them together to a popcorn.

    >>> draws_through(("drop loop from hook, insert hook in first st, pull loop through",))
    True
    """
    first = words[0] if words else ""
    if not isinstance(first, str) or _drops().match(first) is None:
        return False
    return any(isinstance(part, str) and _through().search(part) for part in words)


@cache
def _first_words() -> frozenset[str]:
    return frozenset(form.split()[0] for form in listed("dropped"))


@cache
def _drops() -> re.Pattern[str]:
    return re.compile(signs("dropped"), re.IGNORECASE)


@cache
def _through() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('drawn_through')}\b", re.IGNORECASE)


@cache
def _drawn() -> re.Pattern[str]:
    closing = rf"(?:[,;]?\s(?:and\s)?ch[\s-]?1\sto\s{signs('closed')}(?:\s(?:the\s)?[a-z]+)?)?"
    inside = rf"{said('insert')}\b[^.()*\[\]]{{1,90}}?\b{signs('drawn_through')}"
    return re.compile(rf"{signs('dropped')}[,;]?\s(?:and\s)?(?:then\s)?{inside}{closing}", re.IGNORECASE)
