"""Reads places that are passed one after the other: "sk next (ch 1, dc, ch 1)"."""

from __future__ import annotations

from convert.document.steps import Place, Skip, Step, What
from convert.instructions.repeats.brackets import closing
from convert.instructions.words.cursor import Cursor

_LISTED = 2
"""So many places in a bracket are a list."""


def read_listed(cur: Cursor, start: int) -> list[Step] | None:
    """ "Sk next (ch 1, dc, ch 1)": what lies there, one after the other; chains are a space."""
    at = cur.at
    cur.take_words("the", "next")
    end = closing(cur) if cur.is_mark("(", "[") else None
    cur.at += 1
    steps: list[Step] = []
    while end is not None and cur.at < end:
        chained = cur.peek().kind == "stitch" and cur.peek().id == "ch"
        number = None if chained else cur.take_kind("num")
        stitch = cur.take_kind("stitch")
        number = cur.take_kind("num") if chained else number
        many = number.value if number is not None else 1
        if stitch is None or not (cur.take_mark(",") or cur.take_words("and") or cur.at == end):
            break
        place = Place(What.SPACE, chains=many) if stitch.id == "ch" else Place(number=many, of=stitch.id)
        steps.append(Skip(place, span=cur.span(start)))
    if end is None or cur.at != end or len(steps) < _LISTED:
        cur.at = at
        return None
    cur.at += 1
    return steps
