"""What a list of materials tells that rows call its yarns by: "Fawn (F)", "R = red", "A -- black", "C1 lemon"."""

from __future__ import annotations

import re
from functools import cache

from convert.trade.patterns import listed, signs

_KEY = r"[A-Z]{1,2}\d?|mc|cc\d?|MC|CC\d?"


def yarn_keys(text: str) -> tuple[str, ...]:
    """The short names of yarns in a line of a list, with the colours that stand beside them, in order.

    >>> yarn_keys("25 g each of Fawn (F) and Plum (P)"), yarn_keys("W = white, DK weight")
    (('F', 'Fawn', 'P', 'Plum'), ('W', 'white'))
    """
    found: list[str] = []
    for match in _told().finditer(text):
        groups = match.groupdict()
        key = next(groups[name] for name in ("inner", "tied", "called", "numbered") if groups[name])
        if key not in listed("no_yarns"):
            found += [key, *filter(None, (groups["before"], groups["behind"]))]
    return tuple(dict.fromkeys(found))


@cache
def _told() -> re.Pattern[str]:
    colour = r"[^\W\d_]{3,}"
    return re.compile(
        rf"(?<!\w)(?:(?P<before>{colour})\s?\((?P<inner>{_KEY})\)"
        rf"|(?P<tied>{_KEY})\s?(?:=|:|--|–|—|\s-\s)\s?(?=\S)(?P<behind>{colour}(?=\s?(?:[,;.(]|\Z)))?"
        rf"|{signs('yarn_called')}\s(?P<called>{_KEY})(?!\w)"
        rf"|(?P<numbered>(?:C|Y|CC)\d)\s(?={colour}))"
    )
