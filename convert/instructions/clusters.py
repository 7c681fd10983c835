"""Reads what makes a cluster or a group of plain stitches: chains in between, last loops held back on the hook."""

from __future__ import annotations

from convert.document.numbers import Number
from convert.document.steps import Chain, Decrease, Extent, Group, Repeat, Step, Work
from convert.instructions.cursor import Cursor
from convert.instructions.places import read_place


def with_chains_between(cur: Cursor, stitch: str, each: Number | None, start: int) -> list[Step] | None:
    """ "7 tr with ch 1 between each tr in next loop": a group of seven, chains in between."""
    at = cur.at
    if not isinstance(each, int) or each < 2 or not cur.take_words("with"):
        return None
    chains = _chains_between(cur)
    if chains is None or not cur.take_words("between"):
        cur.at = at
        return None
    cur.take_words("each", "the")
    cur.take_kind("stitch")
    cur.take_words("stitch")
    place = read_place(cur)
    if place is None:
        cur.at = at
        return None
    return [
        Group((Repeat((Work(stitch), Chain(chains)), Extent.TIMES, each - 1), Work(stitch)), place, cur.span(start))
    ]


def _chains_between(cur: Cursor) -> int | None:
    number = cur.take_kind("num")
    if cur.peek().kind != "stitch" or cur.peek().id != "ch":
        return None
    cur.at += 1
    cur.take_mark("-")
    number = number or cur.take_kind("num")
    return number.value if number is not None else 1


def held_back(cur: Cursor, steps: list[Step], start: int) -> list[Step]:
    """ "3 tr in same sp keeping last loop of each tr on hook" is a cluster: one stitch drawn from three."""
    only = steps[0]
    if len(steps) != 1 or not isinstance(only, Work) or only.place is None or not takes_held(cur):
        return steps
    number = only.each if only.each != 1 else only.place.number
    if not isinstance(number, int) or number < 2:
        return steps
    return [Decrease(only.stitch, number, (only.place,), cur.span(start))]


def takes_held(cur: Cursor) -> bool:
    """Reads "keeping (leaving, holding back) the last loop of each tr on hook"."""
    start = cur.at
    cur.take_mark(",")
    if not cur.take_words("holding-back"):
        cur.at = start
        return False
    while (
        cur.is_word("on-hook", "the", "last", "loop", "of", "each", "stitch", "in", "hook")
        or cur.peek().kind == "stitch"
    ):
        cur.at += 1
    return True
