"""Reads which of several places is meant, and how many: "each of next 3", "every other", "3rd", "end"."""

from __future__ import annotations

from msgspec import Struct

from convert.document.numbers import Number
from convert.document.steps import Which
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.trade.stitches import stitches

WHICH = {
    "next": Which.NEXT,
    "same": Which.SAME,
    "last": Which.LAST,
    "each": Which.EACH,
    "remaining": Which.REST,
    "centre": Which.CENTER,
    "any": Which.ANY,
}
SPACES = ("space", "loop")


class _Said(Struct):
    """Which of several, how many, the ordinal, and the step of "every other"."""

    which: Which | None = None
    number: Number | None = None
    nth: int | None = None
    every: int = 1


def read_which(cur: Cursor) -> tuple[Which | None, Number | None, int | None, int, bool]:
    """Which of several, how many, the ordinal, the step of "every other", and whether anything was said."""
    said = _Said()
    start = cur.at
    while _says_more(cur, said):
        pass
    if said.which is Which.EACH and said.number is not None and said.every == 1:
        said.which = Which.NEXT
    return said.which, said.number, said.nth, said.every, cur.at > start


def _says_more(cur: Cursor, said: _Said) -> bool:
    """Takes one more word of which places are meant; false if none stands there."""
    lexeme = cur.peek()
    if lexeme.kind == "word":
        return _which_word(cur, said, lexeme.id)
    if lexeme.kind == "ord":
        return _which_ordinal(cur, said, lexeme.value)
    if lexeme.kind in ("num", "mark") and said.number is None and _is_number_of_places(cur):
        said.number = read_number(cur)
        return said.number is not None
    return False


def _which_word(cur: Cursor, said: _Said, id: str) -> bool:
    if id in WHICH:
        found = WHICH[id]
        each_of = said.which is Which.EACH and found in (Which.NEXT, Which.REST, Which.LAST, Which.SAME)
        if each_of or said.which is None:
            said.which = found
    elif id == "end" and said.which is None and _is_end_stitch(cur):
        said.which = Which.LAST
    elif id == "beginning" and said.which is None and _begins_round(cur):
        said.which = Which.FIRST
    elif id == "other" and said.which is Which.EACH:
        said.every = 2
    elif id not in ("the", "of") or not _is_phrase_on(cur) or (id == "of" and _is_part(cur, said)):
        return False
    cur.at += 1
    return True


def _is_part(cur: Cursor, said: _Said) -> bool:
    """Whether what follows "of" is what the place is part of: "3rd of the 5 ch", "last of the 18 ch"."""
    if said.nth is not None or said.number is not None or said.which in (Which.FIRST, Which.LAST):
        return True
    return said.which is Which.CENTER and told_behind(cur)


def told_behind(cur: Cursor) -> bool:
    """Whether which one of several is told behind "of": "center of first loop", "center of the 5 ch"."""
    return number_behind(cur) or cur.is_word("same", ahead=1) or cur.peek(1).kind == "ord"


def number_behind(cur: Cursor) -> bool:
    """Whether several are named behind the "of" at the position: "middle of the next 3 ch"."""
    ahead = 1
    while cur.is_word("the", "next", "last", ahead=ahead):
        ahead += 1
    return cur.peek(ahead).kind == "num"


def _which_ordinal(cur: Cursor, said: _Said, value: int) -> bool:
    """ "3rd", "every 3rd", "first", "first 5"; a number in front of it allows only the first: "5 first"."""
    if said.nth is not None or (said.number is not None and value != 1):
        return False
    cur.at += 1
    if said.which is Which.EACH and said.number is None:
        said.every = value
        if value == 1:
            said.which = Which.FIRST
    elif value == 1 and said.which in (None, Which.EACH, Which.NEXT):
        said.which = Which.FIRST
    else:
        said.nth = value
    return True


def _is_end_stitch(cur: Cursor) -> bool:
    """ "End stitch", "end chain", "end loop", and "end" alone behind "at": the last one."""
    behind = cur.peek(1)
    alone = cur.at > 0 and cur.is_listed("before_end", -1) and (behind.kind in ("end", "mark"))
    return cur.is_word("end") and (alone or cur.is_word("stitch", *SPACES, ahead=1) or behind.kind == "stitch")


def _begins_round(cur: Cursor) -> bool:
    """ "Join to beg sc": the first stitch; a chain that begins a round is a place of its own."""
    behind = cur.peek(1)
    return (behind.kind == "stitch" and behind.id != "ch") or cur.is_word("stitch", ahead=1)


def _is_phrase_on(cur: Cursor) -> bool:
    following = cur.peek(1)
    return following.kind in ("stitch", "num", "ord", "word") and following.id not in ("and", "work")


def names_by_size(cur: Cursor) -> int:
    """How many words name a group by its size: "3-dc cluster", "5-dc shells", "3 dc group"; 0 where they do not.

    Without a dash the number may be that of the places: so it is in the plural, in front of stitches that no group is
    made of, and where the group is one to be worked.
    """
    dash = cur.is_mark("-", ahead=1)
    after = 2 if dash else 1
    one, group = cur.peek(after), cur.peek(after + 1)
    if cur.peek().kind != "num" or one.kind != "stitch" or one.id == "ch":
        return 0
    many, unit = stitches().get(one.id), stitches().get(group.id) if group.kind == "stitch" else None
    named = (unit is not None and unit.unit and not unit.decoration) or cur.is_word("group", ahead=after + 1)
    if many is None or not named or (many.unit and not many.decoration):
        return 0
    several = group.text.casefold().endswith("s") or cur.is_word("in", ahead=after + 2)
    low = not many.decoration and (many.height or 0) <= _LOW
    return after + 2 if dash or not (several or low or cur.peek().value == 1) else 0


_LOW = 1
"""The height of the lowest stitch; no group is made of it."""


def _is_number_of_places(cur: Cursor) -> bool:
    """Whether the number at the position counts places and does not belong to a "3-ch sp"."""
    if cur.peek().kind == "mark":
        return cur.is_mark("{") or (cur.is_mark("–", "-") and cur.is_mark("(", "-", ahead=1))
    after = 2 if cur.is_mark("-", ahead=1) else 1
    if cur.peek(after).kind != "stitch":
        return True
    if names_by_size(cur):
        return False
    if cur.peek(after).id == "ch":
        further = after + (2 if cur.is_mark("-", ahead=after + 1) else 1)
        return not cur.is_word(*SPACES, ahead=further)
    return True
