"""Reads what stands in a count beside its figures: "now", "at end of rnd", groups told by their stitches, and whether
the beginning chain is among the stitches.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.records import CountItem, CountKind
from convert.document.steps import Counts
from convert.instructions.repeats.repeat import plus
from convert.instructions.words.cursor import ChainsBetween, Counting, Cursor
from convert.instructions.words.phrases import take_phrase, takes_sign
from convert.trade.patterns import articles, chain, chain_length, listed, said, signs


def take_aside(cur: Cursor) -> None:
    """ "(now 18 sts)", "(18 sts at end of rnd)": words of no weight."""
    if "count_asides" in cur.begun:
        take_phrase(cur, _aside())


@cache
def _aside() -> re.Pattern[str]:
    return re.compile(signs("count_asides") + r"\b", re.IGNORECASE)


def leads_to_count(cur: Cursor) -> bool:
    """Reads "at the end of Row 7 you have", "Rnd 7 has" in front of a number."""
    start = cur.at
    if not cur.begun.isdisjoint(_TOLD_OF_ROW) and not cur.holds.isdisjoint(_ROWS):
        at_end = take_end_of_row(cur)
        cur.take_mark(*((",", ":") if at_end else ()))
        if (at_end or take_row_holds(cur)) and (cur.is_word("total-of") or cur.peek().kind == "num"):
            return True
    cur.at = start
    return False


_TOLD_OF_ROW = frozenset({"at_end_of", "row_holds"})
_ROWS = frozenset({"row", "round", "row-end"})


def take_end_of_row(cur: Cursor) -> bool:
    """Reads "at the end of Row 7", "after this rnd", of the last row that the line tells and of no other."""
    start = cur.at
    if cur.peek().text.lower() in _first_words("at_end_of") and _take_end(cur):
        number = cur.take_kind("num")
        if number is None or number.value == cur.last_row:
            return True
    cur.at = start
    return False


def _take_end(cur: Cursor) -> bool:
    """Reads "at the end of Row", "after this rnd", up to the number."""
    if cur.is_word("row-end", ahead=1):
        cur.at += 2
        return True
    if not takes_sign(cur, "at_end_of"):
        return False
    cur.take_words("the")
    return cur.take_words("row", "round") > 0


def take_row_holds(cur: Cursor) -> bool:
    """Reads "Rnd 7 has", of the last row that the line tells."""
    start = cur.at
    if cur.last_row and cur.take_words("row", "round"):
        number = cur.take_kind("num")
        if number is not None and number.value == cur.last_row and takes_sign(cur, "row_holds"):
            return True
    cur.at = start
    return False


@cache
def _first_words(name: str) -> frozenset[str]:
    return frozenset(form.split(" ", 1)[0] for form in listed(name))


def refers_behind(cur: Cursor) -> bool:
    """Whether a reference to an earlier row stands in front of the comma: "as 3rd row", "rep Row 3"."""
    by_order = cur.at > 2 and cur.is_word("row", "round", ahead=-2) and cur.peek(-3).kind == "ord"
    by_number = cur.at > 2 and cur.peek(-2).kind == "num" and cur.is_word("row", "round", ahead=-3)
    return by_order or by_number


def read_among(cur: Cursor) -> Counts | None:
    """ "(12 dc including ch-3)", "(24 hdc, not counting ch 2)": what the beginning chain counts as, at the end of a
    count; None where nothing is said of it.
    """
    for which, counts in (("counting", Counts("st")), ("not_counting", Counts())):
        if which in cur.begun and take_phrase(cur, _counted(which)):
            return counts
    for which, counts in (("not_counted", Counts()), ("counted", Counts("st"))):
        if which in cur.begun and take_phrase(cur, _counted_behind(which)):
            return counts
    return None


@cache
def _counted(which: str) -> re.Pattern[str]:
    return re.compile(rf"{signs(which)}\s{articles()}{_chain_named()}(?=\s?[,)\]}}])", re.IGNORECASE)


@cache
def _counted_behind(which: str) -> re.Pattern[str]:
    return re.compile(rf"{articles()}{_chain_named()}\s{signs(which)}(?=\s?[,)\]}}])", re.IGNORECASE)


def _chain_named() -> str:
    """The beginning chain, or the chains skipped at the hook: "ch-3", "turning ch", "skipped chs"."""
    begins = rf"(?:{said('beginning')}|{said('turning-chain')}|{said('beginning-chain')})"
    length = rf"(?:{chain_length()}|{chain()})"
    return rf"(?:{said('skip')}\s)?(?:{begins}(?:\s{length})?|{length})"


def take_groups_of(cur: Cursor) -> bool:
    """Reads "3-dc groups": groups told by their stitches."""
    behind = 2 if cur.is_mark("-", ahead=1) else 1
    stitch = cur.peek(behind)
    if cur.peek().kind != "num" or stitch.kind != "stitch" or stitch.id == "ch":
        return False
    behind += 1 + cur.is_mark("-", ahead=behind + 1)
    if not cur.is_word("group", ahead=behind):
        return False
    cur.at += behind + 1
    return True


def take_bare_size(cur: Cursor) -> bool:
    """Reads "of 3 dc" behind "6 groups". Says whether it is "of 3" alone: of stitches that are not told, some of which
    may stand in one place.
    """
    if not cur.is_word("of") or cur.peek(1).kind != "num":
        return False
    behind = cur.peek(2)
    cur.at += 3 if behind.kind == "stitch" else 0
    bare = behind.kind in ("mark", "end") and behind.id != "-"
    cur.at += 2 if bare else 0
    return bare


def take_counting_chain(cur: Cursor) -> bool:
    """ "(10 dc, counting ch 3 as 1 dc)": what the beginning chain stands for, told with the count; whether
    it is told here.
    """
    start = cur.at
    cur.take_mark(",", ";", "-", "–")
    first = cur.at
    among = read_among(cur)
    if among is not None:
        cur.counting = Counting(among, cur.text(first, cur.at), cur.span(first))
        return True
    if cur.take_words("counting"):
        cur.take_words("the", "beginning")
        named = cur.take_words("beginning-chain", "turning-chain") > 0
        if not named and cur.peek().id == "ch":
            cur.at += 1
            cur.take_mark("-")
            named = cur.take_kind("num") is not None
        as_one = named and cur.take_words("as") > 0
        cur.take_words("the")
        cur.take_kind("num")
        stitch = cur.take_kind("stitch") if as_one else None
        plain = as_one and stitch is None and cur.take_words("stitch") > 0
        if stitch is not None or plain:
            counts = Counts(stitch.id if stitch is not None else "st")
            cur.counting = Counting(counts, cur.text(first, cur.at), cur.span(first))
            return True
    cur.at = start
    return False


def with_chains_between(cur: Cursor, found: list[CountItem]) -> list[CountItem]:
    """ "(17 tr with ch 1 between every tr)": the stitches, and as many spaces as the row's form tells."""
    start = cur.at
    if found and cur.take_words("with") and cur.peek().id == "ch":
        cur.at += 1
        cur.take_mark("-")
        length = cur.take_kind("num")
        if length and cur.take_words("between"):
            cur.take_words("each", "the")
            cur.take_kind("stitch")
            cur.take_words("stitch")
            cur.between.append(ChainsBetween(found[-1].number, length.value, cur.text(start, cur.at), cur.span(start)))
            return found
    cur.at = start
    return found


def spaces_between(between: ChainsBetween, *, flat: bool) -> CountItem:
    """The spaces of "17 tr with ch 1 between every tr": in a round as many as stitches, in a row one fewer."""
    number = plus(between.number, -1) if flat else between.number
    return CountItem(number, CountKind.SPACE, None, between.chains, span=between.span)
