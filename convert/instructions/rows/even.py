"""Reads rows worked straight on: "work 3 rounds even", "continue even in sc for 4 rows", "work even until piece is
10 inches long".
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Again, Place, Step, Which, Work
from convert.instructions.rows.until import read_until, says_until
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.instructions.words.said import said_from
from convert.trade.patterns import signs
from convert.trade.stitches import stitches

"""The words for rows without an increase or decrease."""


def read_even(cur: Cursor) -> list[Step] | None:
    """So many rows or rounds with as many stitches as the last one, or rows until a length is reached."""
    start = cur.at
    if not cur.take_words("work", "go-on"):
        return None
    this_row = _row_in(cur, start)
    if this_row is not None:
        return [this_row]
    as_before = _so_until_left(cur, start)
    if as_before is not None:
        return [as_before]
    number = read_number(cur) if cur.peek().kind in ("num", "mark") else None
    rounds = _counted(cur) if number is not None else None
    even = _take_even(cur)
    whole = _whole_row(cur, start) if even and number is None else None
    if whole is not None:
        return [whole]
    if (number is not None and rounds is None) or not (_take_stitch(cur) if even else _take_plain(cur)):
        cur.at = start
        return None
    until = None
    if number is None:
        further = cur.at
        number = read_number(cur) if cur.take_word("for") and cur.peek().kind in ("num", "mark") else None
        rounds = _counted(cur) if number is not None else None
        if rounds is None:
            cur.at, number = further, None
            until = read_until(cur)
    if (number is None and until is None) or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return [Again(0, 0, number, until, rounds=rounds, words=said_from(cur, start), span=cur.span(start))]


def _so_until_left(cur: Cursor, start: int) -> Again | None:
    """ "Continue in same manner until 6 sts remain": the rows before, over and over, up to a number of stitches."""
    behind = cur.at
    if cur.take_word("manner"):
        cur.take_mark(",")
        until = read_until(cur) if says_until(cur) else None
        counted = until is not None and until.length is None and until.target is None
        if counted and (cur.done or cur.peek().kind == "mark"):
            return Again(0, 0, None, until, words=said_from(cur, start), span=cur.span(start))
    cur.at = behind
    return None


def _row_in(cur: Cursor, start: int) -> Work | None:
    """ "Work the 1st row entirely in dc", "work this row in sc": one stitch in each."""
    behind = cur.at
    cur.take_words("the")
    by_order = cur.take_kind("ord") is not None
    row = cur.take_words("row", "round") > 0 and (by_order or cur.is_word("the", ahead=-2))
    cur.at += row and cur.is_listed("entirely")
    stitch = cur.take_kind("stitch") if row and cur.take_word("in") else None
    cur.take_words("stitch")
    entry = stitches().get(stitch.id) if stitch is not None else None
    if entry is None or not (entry.legs and entry.height is not None) or not (cur.done or cur.peek().kind == "mark"):
        cur.at = behind
        return None
    return Work(entry.id, 1, Place(which=Which.EACH), span=cur.span(start))


def _whole_row(cur: Cursor, start: int) -> Work | None:
    """ "Work even in sc around": one in each, in the row that the label names."""
    behind = cur.at
    stitch = cur.take_kind("stitch") if cur.take_word("in") else None
    all_along = cur.take_words("around", "across") > 0
    entry = stitches().get(stitch.id) if stitch is not None else None
    ends = cur.done or cur.peek().kind == "mark"
    if entry is None or not (entry.legs and entry.height is not None) or not (all_along and ends):
        cur.at = behind
        return None
    return Work(entry.id, 1, Place(which=Which.EACH), span=cur.span(start))


def _counted(cur: Cursor) -> bool | None:
    """Whether rounds are counted, or rows; None where neither is."""
    cur.take_words("more")
    rounds = cur.is_word("round")
    return rounds if cur.take_words("row", "round") else None


def _take_even(cur: Cursor) -> bool:
    if not cur.is_listed("even"):
        return False
    cur.at += 1
    return True


def _take_plain(cur: Cursor) -> bool:
    """ "In sc", "of hdc", "in rounds of sc": rows in one plain stitch are worked one in each."""
    cur.take_words("in", "row", "round", "of")
    stitch = cur.take_kind("stitch")
    entry = stitches().get(stitch.id) if stitch is not None else None
    return entry is not None and entry.legs and entry.height is not None


def _take_stitch(cur: Cursor) -> bool:
    """ "In sc", "in pattern": nothing, a stitch, or the pattern of the rows before."""
    if cur.is_word("manner") and _in_pattern().match(cur.peek().text):
        cur.at += 1
        return True
    return not cur.take_word("in") or cur.take_kind("stitch") is not None


@cache
def _in_pattern() -> re.Pattern[str]:
    return re.compile(signs("in_pattern"), re.IGNORECASE)
