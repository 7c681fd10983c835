"""Reads how the yarns follow on over many rows: "working 2 rows each of B, C and D", "in the following order: 2 rows A,
4 rows B", "work 2 rows A and 2 rows B", "work 2 rows A, 2 rows B until there are 5 stripes of each color".
"""

from __future__ import annotations

from msgspec import Struct

from convert.document.steps import Again, Step, Until, Verbatim
from convert.instructions.chains.chain import names_yarn, read_colour_name
from convert.instructions.rows.until import read_until, says_until
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.said import said_from


class Stripes(Struct, frozen=True):
    """How many rows the stripes have in all, and whether they are counted as rounds."""

    rows: int
    rounds: bool
    colours: int


def read_stripes(cur: Cursor) -> list[Step] | None:
    """The order of the yarns, which changes nothing about what is worked; or, behind "work" alone, so many rows worked
    straight on, or as many as there are to be stripes.
    """
    start = cur.at
    told = take_stripes(cur)
    if told is not None:
        return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]
    if not (cur.holds & _COUNTED) or not cur.take_word("work"):
        return None
    _take_even(cur)
    told = _list(cur) or _one_more(cur)
    if told is None:
        cur.at = start
        return None
    many = _until_so_many(cur) if told.colours > 1 else None
    until = many[1] if many is not None else read_until(cur)
    rows = told.rows * many[0] if many is not None else told.rows if until is None else None
    if says_until(cur):
        cur.at = start
        return None
    return [Again(0, 0, rows, until, rounds=told.rounds, words=said_from(cur, start), span=cur.span(start))]


def _take_even(cur: Cursor) -> None:
    """ "Working even in sc, work 2 rows A ...": how, in front of what."""
    start = cur.at
    if not cur.is_listed("even"):
        return
    cur.at += 1
    if cur.take_word("in") and cur.take_kind("stitch") is None:
        cur.at = start
        return
    cur.take_mark(",")
    cur.take_words("work")


def _one_more(cur: Cursor) -> Stripes | None:
    """ "2 more rows in Red": one stripe, behind others, up to the end of the clause."""
    start = cur.at
    number = cur.take_kind("num")
    more = cur.take_words("more") > 0
    rounds = cur.is_word("round")
    named = number is not None and more and cur.take_words("row", "round") > 0
    cur.take_words("in", "with", "of")
    if number is None or not named or not _takes_yarn(cur) or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    return Stripes(number.value, rounds, 1)


def _until_so_many(cur: Cursor) -> tuple[int, Until] | None:
    """ "... until there are 5 stripes of each color": how many, those worked before included."""
    start = cur.at
    cur.take_mark(",")
    first = cur.at
    if says_until(cur):
        cur.at += 1
        takes_sign(cur, "until_there_are")
        number = cur.take_kind("num")
        if number is not None and cur.is_listed("stripe_names"):
            cur.at += 1
            cur.take_words("of", "in")
            each = cur.take_words("each") > 0
            cur.take_words("the", "colour", "colours")
            takes_sign(cur, "are_made")
            if each and (cur.done or cur.peek().kind == "mark"):
                return number.value, Until(words=cur.text(first, cur.at))
    cur.at = start
    return None


def take_stripes(cur: Cursor) -> Stripes | None:
    """Reads the order of the yarns behind a word that leads to it ("in stripes of", "working", "throughout")."""
    if not (cur.holds & _COUNTED):
        return None
    start = cur.at
    led = False
    while cur.is_word("in", "with", "the", "colour", "colours", "next", "of", "as") or _leads(cur):
        led = led or _leads(cur)
        cur.at += 1
    cur.take_mark(":")
    told = _list(cur) if led else None
    if told is None:
        cur.at = start
    return told


_COUNTED = frozenset({"row", "round"})


def _leads(cur: Cursor) -> bool:
    return cur.is_listed("striping")


def _list(cur: Cursor) -> Stripes | None:
    """ "2 rows each of A and B", "2 rows A, 4 rows B": two yarns at least, up to the end of the clause."""
    start = cur.at
    found: list[Stripes] = []
    end = cur.at
    while (stripe := _stripe(cur)) is not None:
        found.append(stripe)
        end = cur.at
        cur.take_mark(",", ";")
        cur.take_words("and", "then")
    cur.at = end
    ends = cur.done or cur.is_mark(",", ".", ";", ")", "]") or cur.is_word("to", "and", "ending")
    if sum(stripe.colours for stripe in found) < _FEWEST or not ends:
        cur.at = start
        return None
    return Stripes(sum(s.rows for s in found), found[0].rounds, sum(s.colours for s in found))


_FEWEST = 2
"""One yarn alone is no stripe."""


def _stripe(cur: Cursor) -> Stripes | None:
    """ "2 rows each of A, B and C", "1 row with A", "2 rows of each color"."""
    start = cur.at
    number = cur.take_kind("num")
    rounds = cur.is_word("round")
    if number is None or not cur.take_words("row", "round"):
        cur.at = start
        return None
    each = False
    while cur.is_word("each", "of", "in", "with"):
        each = each or cur.is_word("each")
        cur.at += 1
    if each and not _yarn_follows(cur) and cur.take_words("the", "colour", "colours"):
        return Stripes(number.value, rounds, _FEWEST)
    many = 0
    while _takes_yarn(cur):
        many += 1
        behind = cur.at
        cur.take_mark(",")
        cur.take_words("and", "then")
        if not each or not _yarn_follows(cur):
            cur.at = behind
            break
    if not many:
        cur.at = start
        return None
    return Stripes(number.value * (many if each else 1), rounds, many)


def _yarn_follows(cur: Cursor) -> bool:
    start = cur.at
    found = _takes_yarn(cur)
    cur.at = start
    return found


def _takes_yarn(cur: Cursor) -> bool:
    """Reads what a yarn is called by: "A", "color B", "Lt. Rose"."""
    start = cur.at
    cur.take_words("colour", "colours")
    if names_yarn(cur):
        cur.at += 1
        return True
    if read_colour_name(cur) is not None:
        return True
    cur.at = start
    return False
