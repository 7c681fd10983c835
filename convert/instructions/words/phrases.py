"""Reads phrases of `shared/signs.yaml` whose words have meanings of their own, or none."""

from __future__ import annotations

import re
from functools import cache

from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import signs


def takes_sign(cur: Cursor, name: str) -> bool:
    """Reads one of the phrases of a list in `shared/signs.yaml`, if one stands next and no word is cut in two."""
    return name in cur.begun and take_phrase(cur, _sign(name)) is not None


def take_phrase(cur: Cursor, phrase: re.Pattern[str]) -> re.Match[str] | None:
    """Reads what a pattern matches in the text, if it stands next and no word is cut in two; the match."""
    match = None if cur.done else phrase.match(cur.passage.text, cur.peek().start)
    if match is None:
        return None
    end = cur.at
    while end < len(cur.words) and cur.words[end].start < match.end():
        end += 1
    if cur.words[end - 1].end > match.end():
        return None
    cur.at = end
    return match


@cache
def _sign(name: str) -> re.Pattern[str]:
    return re.compile(rf"{signs(name)}\b", re.IGNORECASE)
