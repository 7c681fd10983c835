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
from convert.source import Span
from convert.trade.patterns import either, listed, said, signs
from convert.trade.stitches import closed_stitch, stitches


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


def closed_to(unit: str, span: Span) -> list[Step]:
    """ "5-dc popcorn in next st": what the five are closed to, behind them in a bracket; nothing for another group."""
    return [Verbatim((f"({stitches()[unit].us.name})",), True, span)] if unit == closed_stitch() else []


def draws_through(words: Prose) -> bool:
    """Whether the words draw the stitches before them together to a popcorn, or call them so.

    >>> draws_through(("drop loop from hook, insert hook in first st, pull loop through",))
    True
    >>> draws_through(("(popcorn)",)), draws_through(("(shell)",))
    (True, False)
    """
    first = words[0] if words else ""
    if not isinstance(first, str):
        return False
    if len(words) == 1 and first.startswith("("):
        return _named().fullmatch(first) is not None
    if _drops().match(first) is None:
        return False
    return any(isinstance(part, str) and _through().search(part) for part in words)


@cache
def _named() -> re.Pattern[str]:
    """A bracket that names what the stitches before it are: "(popcorn)", "(popcorn made)"."""
    closed = stitches()[closed_stitch()]
    forms = (form for names in (closed.us, closed.uk) for form in (names.name, names.plural, *names.variants))
    return re.compile(rf"\(\s*{either(forms)}(?:\s{signs('just_made')})?\s*\)", re.IGNORECASE)


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
