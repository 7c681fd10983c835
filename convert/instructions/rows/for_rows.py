"""Reads how long a row goes on that was just told: "sc in each st around for 4 rounds", "..., turn, until piece
measures 20 cm".
"""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.numbers import Number
from convert.document.steps import (
    Again,
    Extent,
    Join,
    Loops,
    Repeat,
    Step,
    Turn,
    Until,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.instructions.repeats.repeat import plus
from convert.instructions.rows.until import read_until, says_until
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, Item, RepeatFrom
from convert.instructions.words.numbers import read_number
from convert.instructions.words.said import said_from


def read_for_rows(cur: Cursor, items: Sequence[Item]) -> list[Step] | None:
    """The row once more, as many rows as that makes, or until the length is reached.

    Where the label has so many rows already, the words only say it again.
    """
    start = cur.at
    crossed = _crossed(cur)
    if not (cur.is_word("for") or crossed or says_until(cur)) or not _is_whole(items):
        return None
    lasting = _read_lasting(cur)
    if lasting is None or cur.rows not in (1, lasting[0]):
        cur.at = start
        return None
    number, until, rounds = lasting
    span = cur.span(start)
    if cur.rows > 1:
        return [Verbatim((cur.text(start, cur.at),), True, span)]
    if until is not None:
        return [Again(-1, -1, None, Until(until.length, until.target, until.words), span=span)]
    return [Again(-1, -1, plus(number, -1), rounds=rounds, span=span)] if number is not None else None


def read_further_rows(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """ "..., 2 sc in each sc. Sc in each st around for 6 rounds": a row told in a sentence of its own behind the first
    one, and worked so often. It takes the place of its stitches.
    """
    start = cur.at
    if cur.rows != 1 or not (cur.is_word("for") or _crossed(cur) or says_until(cur)) or not _is_further(items):
        return None
    lasting = _read_lasting(cur)
    if lasting is None:
        return None
    number, until, rounds = lasting
    first = next(at for at in reversed(range(start)) if cur.words[at].id == ".") + 1
    items.pop()
    return [Again(0, 0, number, until, rounds=rounds, words=said_from(cur, first), span=cur.span(first))]


def _is_further(items: Sequence[Item]) -> bool:
    """Whether a plain stitch in each stitch is a sentence of its own so far, with a whole row in front of it."""
    work, before = (items[-1], items[-2]) if len(items) > 2 else (None, None)
    if not isinstance(work, Work) or not isinstance(before, Ends) or work.each != 1 or work.place is None:
        return False
    place = work.place
    plain = place.what is What.STITCH and place.loops is Loops.BOTH and place.every == 1 and not place.also
    return plain and _goes_to_end(work) and any(map(_goes_to_end, items[:-2]))


def _read_lasting(cur: Cursor) -> tuple[Number | None, Until | None, bool | None] | None:
    """How many rows, or until when, and whether the text calls them rounds."""
    start, crossed, number = cur.at, _crossed(cur), None
    rounds: bool | None = None
    if cur.take_word("for") or (crossed and cur.take_word("times")):  # "sc around x3 rnds"
        cur.take_words("the", "next")
        number = read_number(cur) if cur.peek().kind in ("num", "mark") else None
        cur.take_words("more")
        rounds = cur.is_word("round")
        if number is None or not cur.take_words("row", "round"):
            cur.at, number = start, None
    until = read_until(cur) if number is None else None
    ends = cur.done or (cur.peek().kind == "mark" and cur.at > start)
    if (number is None and until is None) or not ends:
        cur.at = start
        return None
    return number, until, rounds


def _crossed(cur: Cursor) -> bool:
    """ "Sc around x3 rnds": the sign in place of "for"."""
    return cur.is_word("times") and cur.peek(1).kind == "num" and cur.is_word("row", "round", ahead=2)


def lasts(cur: Cursor, steps: Sequence[Item]) -> bool:
    """Whether such words follow the steps just read."""
    if not cur.is_word("for", "times", "to"):
        return False
    start = cur.at
    found = (cur.is_word("for") or _crossed(cur) or says_until(cur)) and read_for_rows(cur, steps) is not None
    cur.at = start
    return found


def _is_whole(items: Sequence[Item]) -> bool:
    """Whether one whole row was told: work that goes to its end, perhaps with what closes it, and no other such work
    before.
    """
    behind = next((i for i, item in enumerate(reversed(items)) if not _closes(item)), len(items))
    told = items[: len(items) - behind]
    return bool(told) and _goes_to_end(told[-1]) and not any(map(_goes_to_end, told[:-1]))


def _closes(item: Item) -> bool:
    return isinstance(item, Join | Turn) or (isinstance(item, Verbatim) and item.inert)


def _goes_to_end(item: Item) -> bool:
    if isinstance(item, Repeat):
        return item.extent is not Extent.TIMES
    if isinstance(item, RepeatFrom):
        return item.how.extent is not Extent.TIMES
    return isinstance(item, Work) and item.place is not None and item.place.which in (Which.EACH, Which.REST)
