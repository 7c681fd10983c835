"""Reads the stitch that the row made last: "top of last sc", "last dc made", "st just worked"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.instructions.places.place_chains import read_space
from convert.instructions.words.cursor import Cursor


def just_made(cur: Cursor) -> Place | None:
    """ "last sc", "sc just made", behind "top of": the stitch that this row made last."""
    return _stitch_made(cur, told=False)


def told_as_made(cur: Cursor) -> Place | None:
    """ "last dc made", "the st just worked": said to be made, so that it is no stitch of the row below.

    Where more is said of it ("last dc made in the ring"), it may be of any row.
    """
    if "was_made" not in cur.begun and "just_made" not in cur.begun:
        return None
    start = cur.at
    cur.take_words("the")
    place = _space_made(cur) or _stitch_made(cur, told=True)
    if place is None or not (cur.done or cur.peek().kind == "mark" or cur.is_word("for", "to", "and", "turn", "work")):
        cur.at = start
        return None
    return place


def _stitch_made(cur: Cursor, *, told: bool) -> Place | None:
    start = cur.at
    last = cur.take_words("last") > 0
    stitch = cur.take_kind("stitch")
    plain = stitch is None and cur.take_words("stitch") > 0
    if stitch is None and not plain:
        cur.at = start
        return None
    cur.take_words("stitch")
    just = cur.is_listed("just_now")
    if (just or (told and last)) and cur.is_listed("was_made", 1 if just else 0):
        cur.at += 2 if just else 1
    elif told or not last or cur.is_word("of", "from"):
        cur.at = start
        return None
    else:
        cur.take_listed("was_made")
    return Place(What.STITCH, which=Which.MADE, of=stitch.id if stitch else None)


def _space_made(cur: Cursor) -> Place | None:
    """ "Loop just made", "ch-2 sp just formed": the one in which the row before closed, or the row's own."""
    if "just_now" not in cur.begun:
        return None
    start = cur.at
    space = read_space(cur)
    if space is not None and cur.is_listed("just_now") and cur.is_listed("just_made", 1):
        cur.at += 2
        return replace(space, which=Which.MADE)
    cur.at = start
    return None
