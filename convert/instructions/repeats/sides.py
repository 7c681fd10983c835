"""Reads repeats told by the sides of a piece: "rep from * for remaining 3 sides", "rep from * on each side"."""

from __future__ import annotations

from convert.document.numbers import Number
from convert.document.steps import Extent
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import HowOften
from convert.instructions.words.numbers import read_number

_WAYS = ("for", "in", "across", "around")
_OTHERS = ("remaining", "other", "more", "next")


def read_for_sides(cur: Cursor, *, total: bool) -> HowOften | None:
    """How often a repeat is worked that goes over sides: once for each of the others besides the first, which is worked
    already unless `total` says that nothing was; all around where no number is told.
    """
    if "side-word" not in cur.holds:
        return None
    start = cur.at
    if not cur.take_words(*_WAYS):
        return None
    cur.take_words("the")
    number = _number(cur)
    others = cur.take_words(*_OTHERS) > 0
    each = not others and cur.take_words("each") > 0
    number = _number(cur) if number is None else number
    several = cur.peek().text.lower().endswith("s") or each
    named = cur.take_words("side-word") > 0 and not cur.is_word("of", "to", "in")
    how = _how(number, others=others, each=each, total=total) if named and several else None
    if how is None:
        cur.at = start
    return how


def _number(cur: Cursor) -> Number | None:
    return read_number(cur) if cur.peek().kind == "num" else None


def _how(number: Number | None, *, others: bool, each: bool, total: bool) -> HowOften | None:
    if isinstance(number, int) and (others or each):
        return HowOften(Extent.TIMES, number + (others and not total))
    return HowOften(Extent.END) if number is None and (each or (others and not total)) else None


def passes_side(cur: Cursor) -> bool:
    """Reads "across side", "down the side" in front of "to": the side is the one up to there."""
    start = cur.at
    if "side-word" not in cur.holds or not (cur.take_words("across", "up-down", "around") or cur.take_listed("along")):
        return False
    cur.take_words("the", "each")
    if cur.take_words("side-word") and cur.is_word("to"):
        return True
    cur.at = start
    return False
