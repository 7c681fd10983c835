"""Reads rows of filet that are widened by whole meshes: "inc 2 sps"."""

from __future__ import annotations

from convert.document.steps import Again, Step
from convert.instructions.rows.again import clause_ends
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_from


def read_meshes_more(cur: Cursor) -> list[Step] | None:
    """So many spaces more at the place where the work stands; how one is made, the rows before tell."""
    if cur.peek().id != "inc" or cur.peek(1).kind != "num" or not cur.is_word("space", ahead=2):
        return None
    start = cur.at
    cur.at += 3
    if not (cur.done or clause_ends(cur)):
        cur.at = start
        return None
    return [Again(0, 0, words=said_from(cur, start), span=cur.span(start))]
