"""Reads what stitch the work goes on in, in front of it: "change to dc for the brim, making a dc in each stitch"."""

from __future__ import annotations

from convert.document.steps import Step, Verbatim
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.said import said_in_row


def read_stitch_change(cur: Cursor) -> list[Step] | None:
    """The words as a remark, where the stitch itself is worked behind them."""
    start = cur.at
    if not cur.is_word("change") or not cur.is_word("to", ahead=1) or cur.peek(2).kind != "stitch":
        return None
    stitch = cur.peek(2).id
    cur.at += 3
    while not (cur.done or cur.peek().kind in ("mark", "num", "stitch", "tog", "formula")):
        cur.at += 1
    _take_hyphen(cur)
    behind = [word.id for word in cur.words[cur.at :] if word.kind == "stitch"]
    words = said_in_row(cur, start) if cur.is_mark(",", ";", ":") and stitch in behind[:1] else None
    if words is None:
        cur.at = start
        return None
    return [Verbatim(words, True, cur.span(start))]


def _take_hyphen(cur: Cursor) -> None:
    """ "Head-band": the rest of a compound."""
    while cur.is_mark("-") and cur.peek(1).kind in ("word", "unknown"):
        cur.at += 2
