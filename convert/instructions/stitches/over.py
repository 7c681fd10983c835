"""Tells how so many stitches lie over so many places: one in each, all in one loop, or the same number in each."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import Place, What, Which
from convert.instructions.places.place import as_space
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import listed
from convert.trade.stitches import stitches


def one_by_one(place: Place) -> bool:
    """Whether so many stitches in so many places may be one in each: "3 tr in next 3 sts", "3 tr in first 3 ch"."""
    first_or_last = place.what is What.CHAIN and place.which in (Which.FIRST, Which.LAST)
    return place.which is Which.NEXT or first_or_last


_SPREAD = "over"
"""Stitches worked over others are one to each, or so many over all of them."""


def is_spread(cur: Cursor, start: int, each: Number | None, place: Place) -> bool:
    """Whether the stitches are told as so many over so many, as in "18 dc over next 6 sts": not eighteen in each."""
    several = isinstance(each, int) and isinstance(place.number, int) and place.number > 1
    if not several or each == place.number or place.which is not Which.NEXT or said_each(cur, start):
        return False
    over = any(word.text.lower() == _SPREAD for word in cur.words[start : cur.at])
    return (over and each != 1) or _names_loop(cur, start, place)


def _names_loop(cur: Cursor, start: int, place: Place) -> bool:
    """Whether the loop of so many chains is meant: "1 dc into the 3 chain of last round", where the chains are told as
    one thing. "In next 3 chain" and "in the 3 chains" are one after the other.
    """
    if place.what is not What.CHAIN or place.nth is not None or place.within is not None:
        return False
    words = cur.words[start : cur.at]
    return any(
        the.text.lower() in listed("one_thing")
        and number.kind == "num"
        and chain.id == "ch"
        and not _several(chain.text)
        for the, number, chain in zip(words, words[1:], words[2:], strict=False)
    )


def _several(name: str) -> bool:
    """Whether the name of a chain is one for several of them, or for its stitches."""
    ch = stitches()["ch"].us
    return name.lower() not in (ch.abbreviation, ch.name)


def spread_over(cur: Cursor, each: Number | None, place: Place) -> tuple[Number | None, tuple[Place, ...]] | None:
    """ "7 dc over the next 5 chain" go into the loop of five, "18 dc over 6 sts" are three in each; None where the
    numbers do not go into each other. "12 over next 2" is over two of what the row spoke of before.
    """
    if place.what is What.CHAIN:
        return each, (as_space(place),)
    places = place.number
    if not isinstance(each, int) or not isinstance(places, int) or each % places:
        return None
    if place.what is What.STITCH and place.of is None and cur.peek(-1).id != "stitch":
        place = replace(place, of=_unit_before(cur))
    return each // places, (place,)


def _unit_before(cur: Cursor) -> str | None:
    """The group stitch that the row named last."""
    known = {special.id for special in cur.context.specials}
    for word in reversed(cur.words[: cur.at]):
        entry = stitches().get(word.id) if word.kind == "stitch" else None
        if word.kind == "stitch" and (word.id in known or (entry is not None and entry.unit)):
            return word.id
    return None


def said_each(cur: Cursor, start: int) -> bool:
    """Whether the words since `start` say "each"."""
    return any(w.kind == "word" and w.id == "each" for w in cur.words[start : cur.at])
