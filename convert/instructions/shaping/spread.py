"""Reads shaping spread over a row whose stitch is named in front: "working in sc, increase in every 4th st", "work in
sc, decreasing 3 sts evenly spaced".
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, Step, Verbatim, What, Which, Work
from convert.instructions.shaping.shaping_words import SHAPING
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.numbers import read_number
from convert.trade.stitches import stitches


def read_spread(cur: Cursor) -> list[Step] | None:
    """One increase or decrease into so many places, with a plain stitch of the kind named in every other one."""
    start = cur.at
    if not (cur.is_word("work") and cur.is_word("in", ahead=1)):
        return None
    said = _stitch_named(cur)
    steps = _every(cur, said) or _evenly(cur, said) if said is not None else None
    if steps is None:
        cur.at = start
        return None
    return [replace(steps[0], span=cur.span(start)), *steps[1:]]


def _stitch_named(cur: Cursor) -> Lexeme | None:
    """ "Working in sc,": the stitch of the row."""
    cur.at += 2
    said = cur.take_kind("stitch")
    cur.take_mark(",")
    entry = stitches().get(said.id) if said is not None else None
    return said if entry is not None and not entry.prevailing and not entry.unit else None


def _every(cur: Cursor, said: Lexeme) -> list[Work | Verbatim] | None:
    """ "Increase in every 4th st"."""
    start, before = cur.at, cur.stitch
    steps = read_work(cur)
    one = steps[0] if steps is not None and len(steps) == 1 else None
    place = one.place if isinstance(one, Work) else None
    shaping = isinstance(one, Work) and _is_shaping(one.stitch)
    if shaping and isinstance(one, Work) and place is not None and _is_every(place, said.id):
        return [replace(one, place=replace(place, of=said.id))]
    cur.at, cur.stitch = start, before
    return None


def _is_every(place: Place, of: str) -> bool:
    return place.what is What.STITCH and place.which is Which.EACH and place.every > 1 and place.of in (None, of)


def _is_shaping(stitch: str) -> bool:
    entry = stitches().get(stitch)
    return entry is not None and entry.prevailing


def _evenly(cur: Cursor, said: Lexeme) -> list[Work | Verbatim] | None:
    """ "Decreasing 3 sts evenly spaced", "dec 2 sts at the heel": how many is told, and where at most in words."""
    start = cur.at
    shaping = SHAPING.get(cur.peek().id)
    if shaping is None:
        return None
    cur.at += 1
    number = read_number(cur) if cur.peek().kind in ("num", "mark") else None
    unit = cur.take_kind("stitch")
    cur.take_words("stitch")
    if number is None or (unit is not None and unit.id != said.id) or not _told_where(cur):
        cur.at = start
        return None
    work = Work(shaping, 1, Place(which=Which.ANY, number=number, of=said.id))
    return [work, _where(cur)]


def _told_where(cur: Cursor) -> bool:
    """Whether "evenly" stands there, or "at the heel"."""
    return cur.is_word("evenly") or cur.is_listed("at_spot")


def _where(cur: Cursor) -> Verbatim:
    """ "Evenly spaced across the back": the words up to the next mark, or up to what else is worked."""
    start = cur.at
    while not (cur.done or cur.peek().kind not in ("word", "unknown") or cur.is_word("and", "skip", "join", "turn")):
        cur.at += 1
    return Verbatim((cur.text(start, cur.at),), True, cur.span(start))
