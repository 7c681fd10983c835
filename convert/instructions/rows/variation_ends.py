"""Reads how rows that are worked again go on or end otherwise: "but repeating from * 6 times instead of 3", "but ending
last round with ch 4". Common practice of pattern writers, no source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct

from convert.document.prose import Prose
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import said


class TimesInstead(Struct, frozen=True):
    """A repeat that is told by its number, worked so often in place of so often."""

    times: int
    instead_of: int


class EndingInstead(Struct, frozen=True):
    """The last turn of the round ends otherwise: with so many chains and what the line tells behind them.

    `row` is the number of the row of which that is told, 0 for the last of them.
    """

    row: int
    chains: int


def read_times_instead(cur: Cursor) -> TimesInstead | None:
    """ "Repeating from * 6 times instead of 3 times"."""
    start = cur.at
    cur.take_words("repeat")
    cur.take_words("from")
    sign = cur.take_mark("*", "**") is not None
    times = cur.take_kind("num") if sign else None
    cur.take_words("times")
    other = cur.take_kind("num") if times is not None and cur.take_words("instead") else None
    cur.take_words("times")
    if times is None or other is None:
        cur.at = start
        return None
    return TimesInstead(times.value, other.value)


def read_ending_instead(cur: Cursor) -> EndingInstead | None:
    """ "Ending last round with ch 4", "ending 12th rnd with ch 2": behind it the row goes on, or the words end."""
    start = cur.at
    row = 0
    if cur.take_words("ending"):
        cur.take_words("the")
        number = cur.take_kind("ord")
        row = number.value if number is not None else 0
        named = cur.take_words("row", "round") > 0 if number is not None else cur.take_words("previous") > 0
        if named and cur.take_words("with"):
            chain = cur.peek().kind == "stitch" and cur.peek().id == "ch"
            chains = cur.peek(1).value if chain and cur.peek(1).kind == "num" else 0
            cur.at += 2 if chains else 0
            if cur.done and chains:
                return EndingInstead(row, chains)
    cur.at = start
    return None


def behind_but(words: Prose) -> tuple[Prose, Prose]:
    """The words in front of the first "but", and those from there on; none of the latter where there is none."""
    for index, word in enumerate(words):
        found = _but().search(word) if isinstance(word, str) else None
        if found is not None and isinstance(word, str):
            return (*words[:index], word[: found.start()]), (word[found.start() :], *words[index + 1 :])
    return words, ()


@cache
def _but() -> re.Pattern[str]:
    return re.compile(rf"\b{said('but')}\b", re.IGNORECASE)
