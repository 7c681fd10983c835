"""Reads foundation chains that are told by their length: "make a chain 30 cm long", "ch for 12 inches".

How many chains that is depends on the yarn and the hook, so that such a chain is one of open length.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.lengths import unit_words
from convert.document.steps import Begin, Start
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import take_phrase
from convert.trade.patterns import chain, either, signs


@cache
def _told() -> re.Pattern[str]:
    figure = r"\d{1,4}(?:[.,]\d{1,2})?\s?[¼½¾⅛⅜⅝⅞]?|[¼½¾⅛⅜⅝⅞]"
    units = either(word for word in unit_words() if word.rstrip(".") != "in")
    inches = rf"(?:{figure})\s?in(?:\.|\b)"
    lead, tail = rf"(?:{signs('length_leads')}\s)", rf"\s?{signs('length_tails')}\b"
    plain = rf"{lead}*(?:{figure})\s?{units}(?![^\W\d_])(?:{tail})?"
    # "Ch 3 in ring" is no length: the short word for inches needs another one beside it.
    short = rf"{lead}+{inches}(?:{tail})?|{inches}{tail}"
    return re.compile(rf"{chain()}\s(?P<words>{plain}|{short})", re.IGNORECASE)


def read_told_length(cur: Cursor) -> Begin | None:
    """The chain with its length; the words of that are kept."""
    if cur.peek().id != "ch" or cur.peek().kind != "stitch":
        return None
    match = take_phrase(cur, _told())
    return Begin(Start.OPEN_CHAIN, words=match["words"]) if match is not None else None


def is_told_length(words: str) -> bool:
    """Whether the words behind "ch" are such a length and nothing else.

    >>> is_told_length("about 30 cm"), is_told_length("long enough for the lid")
    (True, False)
    """
    return _told().fullmatch(f"ch {words}") is not None
