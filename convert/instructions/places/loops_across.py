"""Reads so many loops told by their chains: "work 3 ch-6 loops across fan"."""

from __future__ import annotations

from convert.document.steps import Chain, Extent, Place, Repeat, Step, Verbatim, What, Work
from convert.instructions.words.cursor import Cursor

_BEHIND = ("each", "the", "of", "piece")


def read_loops_across(cur: Cursor) -> list[Step] | None:
    """Loops of chains across what has loops: each fastened in the next loop, with the stitch of the clause before.

    Common practice of lace patterns, no source. Where no clause before has a stitch, how the loops are fastened is not
    told.
    """
    if "across" not in cur.holds or cur.peek().kind == "stitch":
        return None
    start = cur.at
    cur.take_words("then", "work", "the")
    number = cur.take_kind("num")
    cur.take_mark("-")
    chain = cur.take_kind("stitch") if number is not None else None
    cur.take_mark("-")
    chains = cur.take_kind("num") if chain is not None and chain.id == "ch" else None
    across = cur.at + 1
    if number is None or chains is None or not cur.take_words("loop", "space") or not cur.take_words("across"):
        cur.at = start
        return None
    while cur.is_word(*_BEHIND) or cur.peek().kind == "unknown":
        cur.at += 1
    cur.take_kind("stitch")
    if not cur.stitch or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    span = cur.span(start)
    body = (Chain(chains.value, span=span), Work(cur.stitch, place=Place(What.SPACE, span=span), span=span))
    loops = Repeat(body, Extent.TIMES, number.value, span=span)
    return [loops, Verbatim((cur.text(across, cur.at),), True, cur.span(across))] if cur.at > across + 1 else [loops]
