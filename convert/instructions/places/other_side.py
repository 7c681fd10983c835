"""Reads that a row goes on along the other side of the chain that it began with."""

from __future__ import annotations

from convert.document.steps import Begin, Start, Step
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign
from convert.trade.patterns import listed

_LEADS = ("work", "then", "and", "go-on", "in", "the", "rotate")
_TURNED = ("turn", "work", "the", "to", "and", "go-on", "in")
_HALF = 180


def read_other_side(cur: Cursor) -> list[Step] | None:
    """ "Working on other side of foundation ch", "rotate 180° and continue in the free loops of the chain"."""
    start = cur.at
    if cur.is_word("turn"):
        cur.take_words(*_TURNED)
        _so_that(cur)
        found = cur.take_words("other-side") > 0 and _names_foundation(cur)
    else:
        cur.take_words(*_LEADS)
        _half_way_round(cur)
        if not cur.is_word("other-side", "unworked", "remaining") and cur.peek().kind == "unknown":
            cur.at += cur.peek().text.casefold() in listed("to_other_side")
            cur.take_words(*_LEADS)
        found = (
            _free_loops(cur)
            or _along_bottom(cur)
            or (cur.take_words("other-side") > 0 and (_names_foundation(cur) or _has_chain(cur)))
        )
    if not found:
        cur.at = start
        return None
    return [Begin(Start.OTHER_SIDE, span=cur.span(start))]


def _along_bottom(cur: Cursor) -> bool:
    """ "Along the bottom of the chain", in a row that has worked from the hook along it."""
    start = cur.at
    if "bottoms" in cur.begun and "hook" in cur.ids[:start] and takes_sign(cur, "bottoms") and _names_foundation(cur):
        return True
    cur.at = start
    return False


def _so_that(cur: Cursor) -> None:
    """Reads what the work is turned for, up to the other side: "turn your work so you can crochet along the ..."."""
    at = cur.at
    while at < len(cur.words) and at - cur.at < _FAR and cur.words[at].kind in ("word", "unknown"):
        if cur.words[at].id == "other-side":
            cur.at = at
            return
        at += 1


_FAR = 9
"""The most words in front of the other side that say what the work is turned for."""


def other_side_in_bracket(cur: Cursor, start: int, end: int) -> list[Step] | None:
    """ "(working along other side of ch)", "(other side)": said in passing, it holds all the same."""
    cur.at = start + 1
    found = read_other_side(cur)
    if found is None or cur.at != end:
        cur.at = start
        return None
    cur.at = end + 1
    return found


def _half_way_round(cur: Cursor) -> None:
    """ "180°", "by 180 degrees" behind "rotate", and what follows."""
    before = cur.at - 1
    if not (before >= 0 and cur.ids[before] in _LEADS):
        return
    if cur.peek().kind == "num" and cur.peek().value == _HALF:
        cur.at += 1
        cur.take_mark("°")
        if cur.peek().kind == "unknown" and cur.peek().text.casefold().startswith("deg"):
            cur.at += 1
        cur.take_mark(",")
        cur.take_words(*_LEADS)


def _free_loops(cur: Cursor) -> bool:
    """ "Free loops of foundation ch", "remaining loops on other side of chain"."""
    start = cur.at
    if cur.take_words("unworked", "remaining") and cur.take_words("loop"):
        cur.take_words("of", "in", "the")
        if cur.take_words("other-side"):
            cur.take_words("of", "the")
            _names_foundation(cur)
            return True
        if _names_foundation(cur):
            return True
    cur.at = start
    return False


def _has_chain(cur: Cursor) -> bool:
    """Whether the line has worked from the hook along a chain, which no other thing with two sides is named after."""
    if not (cur.done or cur.peek().kind in ("mark", "num", "stitch")):
        return False
    return "hook" in cur.ids[: cur.at]


def _names_foundation(cur: Cursor) -> bool:
    """ "Of foundation ch", "of the chain"."""
    cur.take_words("of", "the", "beginning")
    if cur.take_words("foundation-chain", "beginning-chain"):
        return True
    named = cur.peek().kind == "stitch" and cur.peek().id == "ch"
    cur.at += named
    return named


def other_side_behind(cur: Cursor) -> Begin | None:
    """ "A double in each of 9 stitches along other side": said behind the work that is done there."""
    start = cur.at
    if not cur.take_words("other-side"):
        return None
    behind = cur.at
    if not _names_foundation(cur):
        cur.at = behind
    if not (cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then")):
        cur.at = start
        return None
    return Begin(Start.OTHER_SIDE, span=cur.span(start))
