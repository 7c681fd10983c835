"""Reads the far end of an edge, up to which a repeat goes: "to the other end", "to same loop on opposite side"."""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Place, What
from convert.instructions.places.place_words import said_of_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import take_phrase
from convert.trade.patterns import said, signs


def to_far_end(cur: Cursor) -> Place | None:
    """Behind "to" at the position: the place in words, as said; None where something else follows."""
    start = cur.at
    cur.at += 1
    cur.take_words("the")
    first = cur.at
    there = not cur.take_words("same") or cur.take_words("space", "loop", "stitch", "place") > 0
    far = take_phrase(cur, _far_end(same=cur.at > first)) if there else None
    if far is not None and cur.is_word("of"):
        while not (cur.done or cur.peek().kind == "mark"):
            cur.at += 1  # "of the strap"
    if far is None or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return Place(What.PIECE, words=said_of_place(cur, first), span=cur.span(first))


@cache
def _far_end(*, same: bool) -> re.Pattern[str]:
    there = rf"{signs('same_there')}\s(?:{said('the')}\s)?" if same else ""
    return re.compile(rf"{there}{signs('far_ends')}\b", re.IGNORECASE)
