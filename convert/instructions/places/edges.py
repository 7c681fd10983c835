"""Reads work along an edge that only words tell: "working down side of point", "work a row of sc around the mat"."""

from __future__ import annotations

from itertools import takewhile

from convert.document.steps import Begin, Place, Start, Step, Verbatim, What, Which, Work
from convert.instructions.places.place_words import said_of_place, words_of_place
from convert.instructions.words.cursor import Cursor
from convert.trade.stitches import stitches

_WAYS = ("in", "around", "across", "up-down")


def read_along(cur: Cursor) -> list[Step] | None:
    """ "Working down side of point", "on the other side of the flap": the row goes on along another edge."""
    start = cur.at
    aside = cur.is_word("up-down", "across", ahead=2) or cur.is_listed("along", 2)
    if start and aside and cur.is_word("turn", ahead=-1) and cur.is_word("to") and cur.is_word("work", ahead=1):
        cur.at += 1
    ahead = bool(cur.at) and cur.is_listed("toward", -1)  # "rotate to work along the side"
    works = cur.is_word("work") and (cur.peek().text.lower().endswith("ing") or ahead)
    if not works and not cur.is_word("other-side"):
        return None
    cur.at += works
    first = cur.at
    if works and not cur.take_words(*_WAYS):
        cur.at = start
        return None
    words = words_of_place(cur, whatever=works and _names_foundation(cur))
    if not words or any(word.id in ("below", "both", "back-loop", "front-loop") for word in cur.words[first : cur.at]):
        cur.at = start
        return None
    along = said_of_place(cur, first)
    span = cur.span(start)
    if cur.is_mark(":", ",") and any(word.id == "hook" for word in cur.words[cur.at : cur.at + _NEAR]):
        return [Verbatim((cur.text(start, cur.at),), True, span)]  # "along one side: sl st in 2nd ch from hook"
    return [Begin(Start.ALONG, place=Place(What.PIECE, words=along, span=span), span=span)]


_NEAR = 9
"""How far behind such words the chain from the hook is named, along which the work goes back."""
_AHEAD = 6
"""How far behind "working along" the chain is named ("the bottom edge of the foundation chain")."""


def _names_foundation(cur: Cursor) -> bool:
    """Whether the chain at the other end of the piece is named in this clause: "working along foundation ch"."""
    clause = takewhile(lambda word: word.kind != "mark", cur.words[cur.at : cur.at + _AHEAD])
    along = cur.is_listed("along", -1)
    return along and any(word.id in ("foundation-chain", "beginning-chain") for word in clause)


def read_edging(cur: Cursor) -> list[Step] | None:
    """ "Work a row of sc around entire mat", "sc closely around": as many stitches as the edge takes."""
    start = cur.at
    cur.take_words("work", "the")
    one = cur.peek().kind == "num" and cur.peek().value == 1 and cur.is_word("row", "round", ahead=1)
    cur.at += one
    whole = cur.take_words("row", "round") > 0
    if whole and not cur.take_words("of") and not one:
        cur.at = start
        return None
    stitch = cur.take_kind("stitch")
    post = stitch is not None and not whole and stitch.id in stitches() and stitches()[stitch.id].post
    edged = stitch is not None and stitch.id != "ch" and not post  # a post stitch goes around a post
    place = read_edge_in_words(cur, loose=whole) if edged else None
    if stitch is None or place is None:
        cur.at = start
        return None
    return [Work(stitch.id, 1, place, span=cur.span(start))]


def read_edge_in_words(cur: Cursor, *, loose: bool = False) -> Place | None:
    """ "Closely around", "evenly around outer edge", "around entire section"; `loose`: words that no table knows may
    name the edge.
    """
    start = cur.at
    closely = cur.take_words("closely", "evenly") > 0
    along = cur.is_listed("along")
    cur.at += along
    other = cur.is_word("other-side")
    if (other and not closely) or not (along or other or cur.take_words("around", "across", "up-down")):
        cur.at = start
        return None
    if cur.is_word("post") or (cur.is_word("the") and cur.is_word("post", ahead=1)):
        cur.at = start
        return None
    words = words_of_place(cur, loose=closely or loose)
    ends = cur.done or cur.peek().kind == "mark" or cur.is_word("to", "with")
    further_down = bool(words) and any(word.id == "below" for word in cur.words[start : cur.at])
    if further_down or (not words and not (closely and ends)):
        cur.at = start
        return None
    said = said_of_place(cur, start)
    return Place(What.PIECE, Which.EACH, words=said, span=cur.span(start))
