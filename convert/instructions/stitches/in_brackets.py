"""Reads what a bracket says of the work behind it: its loops, or its yarn: "(BLO) sc around", "(A) 3 sc, (B) 4 sc"."""

from __future__ import annotations

from convert.document.steps import ChangeColour, Step
from convert.instructions.chains.chain import read_colour_name
from convert.instructions.places.loops import read_working_in
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.yarns import take_yarn


def read_in_bracket(cur: Cursor) -> list[Step] | None:
    """The work in these loops, or the change of yarn, that the bracket at the position tells; None if it tells none."""
    if cur.is_word("in", "back-loop", "front-loop", "third-loop", ahead=1):
        looped = read_working_in(cur)
        if looped is not None:
            return looped
    start = cur.at
    if not cur.take_mark("(", "["):
        return None
    cur.take_words("with", "in", "change", "to")
    named = take_yarn(cur) or read_colour_name(cur)
    if named is None or not cur.take_mark(")", "]"):
        cur.at = start
        return None
    cur.take_mark(":")
    return [ChangeColour(named, cur.span(start))]
