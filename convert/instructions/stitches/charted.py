"""Reads stitches told by their yarns alone, as from a chart: "3 A, 1 B", "W x 2, G-8"."""

from __future__ import annotations

from convert.document.steps import ChangeColour, Place, Step, Work
from convert.instructions.chains.chain import names_yarn
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number


def read_charted(cur: Cursor) -> list[Step] | None:
    """So many stitches in a yarn, of the kind of the clause or the row before; None where none was told so far."""
    start = cur.at
    stitch = cur.stitch or cur.context.stitch
    if not stitch:
        return None
    if cur.peek().kind == "num":
        number = read_number(cur)
        named = names_yarn(cur) and not cur.is_word("adjustable-ring")
        colour = cur.peek().text
        cur.at += named
    else:
        named, colour = names_yarn(cur), cur.peek().text
        cur.at += named
        cur.at += named and (cur.is_word("times") or cur.is_mark("*", "-"))
        number = read_number(cur) if named else None
    if number is None or not named or not (cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then", "turn")):
        cur.at = start
        return None
    span = cur.span(start)
    return [ChangeColour(colour, span), Work(stitch, 1, Place(number=number), span=span)]
