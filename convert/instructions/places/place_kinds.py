"""Tells what kind of place the words read so far name."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.instructions.words.cursor import Cursor
from convert.trade.stitches import stitches


def settled(which: Which | None, nth: int | None, place: Place) -> Which:
    """Which of several, where an ordinal alone may tell it; the beginning chain has its chains by their ordinals."""
    if place.what is What.BEGINNING_CHAIN and (which is None or which is Which.NTH) and nth != 1:
        return Which.NEXT
    if which is None and nth is not None:
        return Which.FIRST if nth == 1 else Which.NTH
    return which or Which.NEXT


def is_cluster(cur: Cursor) -> bool:
    """Whether the word after a stitch names a group of them: "in next tr cluster"."""
    group, one = stitches().get(cur.peek().id), stitches().get(cur.peek(-1).id)
    named = bool(group and one and group.unit and not group.decoration and (one.decoration or not one.unit))
    return named and cur.peek().kind == "stitch"


def is_group(place: Place, inner: Place) -> bool:
    """Whether the place is a group of stitches, or a space of which only the middle is meant."""
    entry = stitches().get(place.of) if place.of else None
    return place.what is What.GROUP or bool(entry and entry.unit) or inner.which is Which.CENTER


def is_in_next(cur: Cursor, start: int, places: tuple[Place, ...]) -> bool:
    """Whether the words since `start` name a part of the next thing: "sl st in first dc of next shell" closes no
    round.
    """
    inside = any(place.within is not None or place.words for place in places)
    return inside and any(id in ("next", "same") for id in cur.ids[start : cur.at])


def is_behind_turning_chain(cur: Cursor, start: int) -> bool:
    """Whether nothing but a turning chain stands before: "ch 1, sl st in first st, skip 1 st" closes no round."""
    first = cur.words[:start]
    one = any(word.kind == "num" and word.value == 1 for word in first)
    return one and all(word.id in ("ch", "turn", "and", "then") or word.kind in ("num", "mark") for word in first)


def part_of_chain(place: Place, chain: Place, nth: int | None) -> Place:
    """ "3rd st of starting ch" is one chain of it; "next 9 sts of ch" and "each st of ch" are chains one by one."""
    if nth is None and (place.number != 1 or place.which in (Which.EACH, Which.REST)):
        return replace(place, what=What.CHAIN, of=None)
    return replace(chain, which=Which.NEXT, nth=nth)


def at_back_of_work(cur: Cursor) -> bool:
    """Takes "back of work" where a place between others stands behind it."""
    start = cur.at
    cur.take_words("the")
    if cur.is_listed("back") and cur.is_word("of", ahead=1):
        cur.at += 2
        cur.take_words("the")
        if cur.take_words("work") and cur.is_word("between"):
            return True
    cur.at = start
    return False
