"""Reads so many stitches in all, along as far as they come: "48 sc across to next corner"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, Step, Verbatim, What, Work
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor

SO_MANY = 9
"""From so many stitches on "12 dc across" is twelve in all: nobody works as many into each stitch (common practice, no
source).
"""


def read_so_many(cur: Cursor, stitch: str, number: object, start: int) -> list[Step] | None:
    """So many stitches one by one, and behind them how far they come, where the stitch has just been read."""
    behind = cur.at
    one_by_one = _in_successive(cur, stitch, number, start)
    if one_by_one is not None:
        return [one_by_one]
    if not isinstance(number, int) or number < SO_MANY or not cur.take_words("across", "around"):
        return None
    work = Work(stitch, 1, Place(number=number), span=cur.span(start, behind))
    ends = cur.done or (cur.peek().kind == "mark" and not cur.is_mark("("))
    if ends:
        return [replace(work, span=cur.span(start))]
    if not cur.take_words("to") or read_place(cur, preposition=False) is None or not _ends(cur):
        cur.at = behind
        return None
    return [work, Verbatim((cur.text(behind, cur.at),), True, cur.span(behind))]


def _in_successive(cur: Cursor, stitch: str, number: object, start: int) -> Work | None:
    """ "2 dc in successive sts": as many places as stitches, one after the other."""
    begun = cur.at
    if cur.take_words("in") and cur.take_listed("successive") and isinstance(number, int):
        what = What.SPACE if cur.is_word("loop", "space") else What.STITCH
        if cur.take_words("loop", "space", "stitch") and _ends(cur):
            place = Place(what, number=number, span=cur.span(begun))
            return Work(stitch, 1, place, span=cur.span(start))
    cur.at = begun
    return None


def _ends(cur: Cursor) -> bool:
    return cur.done or cur.peek().kind == "mark"
