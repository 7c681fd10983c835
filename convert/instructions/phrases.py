"""Reads phrases of `shared/signs.yaml` whose words have meanings of their own, or none."""

from __future__ import annotations

import re
from functools import cache

from convert.instructions.cursor import Cursor
from convert.trade.patterns import signs


def takes_sign(cur: Cursor, name: str) -> bool:
    """Reads one of the phrases of a list in `shared/signs.yaml`, if one stands next and no word is cut in two."""
    if cur.done:
        return False
    match = _sign(name).match(cur.passage.text, cur.peek().start)
    if match is None:
        return False
    end = cur.at
    while end < len(cur.words) and cur.words[end].start < match.end():
        end += 1
    if cur.words[end - 1].end != match.end():
        return False
    cur.at = end
    return True


@cache
def _sign(name: str) -> re.Pattern[str]:
    return re.compile(rf"{signs(name)}\b", re.IGNORECASE)
