"""Reads shaping spread over a row that is otherwise plain: "sc around, increasing 6 sts evenly", "inc 6 evenly"."""

from __future__ import annotations

from convert.document.steps import Place, Step, Verbatim, Which, Work
from convert.instructions.shaping.shaping_words import SHAPING
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.numbers import read_number
from convert.trade.stitches import stitches

_SPREAD = frozenset({"evenly", "increasing", "decreasing"})
"""Without one of these words no row is read so."""


def read_spread_over(cur: Cursor) -> list[Step] | None:
    """So many increases or decreases anywhere in the row, or one in every so many stitches; the others are worked plain
    in the stitch named in front, or in that of the row below.
    """
    if _SPREAD.isdisjoint(cur.holds):
        return None
    start, before = cur.at, cur.stitch
    plain = _plain(cur)
    steps = _evenly(cur, plain) or (_every(cur, plain) if plain is not None else None)
    if steps is None:
        cur.at, cur.stitch = start, before
        return None
    return [_spanning(steps[0], cur, start), *steps[1:]]


def _spanning(work: Work | Verbatim, cur: Cursor, start: int) -> Step:
    return Work(work.stitch, work.each, work.place, span=cur.span(start)) if isinstance(work, Work) else work


def _plain(cur: Cursor) -> Lexeme | None:
    """ "Sc around,", "sc in each st across and": the stitch of the row; nothing is read where it is not told so."""
    start = cur.at
    cur.take_words("work")
    said = cur.take_kind("stitch")
    entry = stitches().get(said.id) if said is not None else None
    plain = entry is not None and not entry.prevailing and not entry.unit and entry.height
    placed = cur.take_words("in", "each", "stitch", "around", "across", "throughout")
    told = {cur.ids[at] for at in range(cur.at - placed, cur.at)} & {"each", "around", "across"}
    joined = cur.take_mark(",", ";") or cur.is_word("and", "increasing", "decreasing")
    cur.take_words("and")
    if said is None or not plain or not told or not joined:
        cur.at = start
        return None
    return said


def _every(cur: Cursor, plain: Lexeme) -> list[Work | Verbatim] | None:
    """ "Increasing in every 4th st"."""
    shaping = SHAPING.get(cur.peek().id)
    behind = cur.at
    if shaping is None:
        return None
    cur.at += 1
    cur.take_words("in")
    every = cur.take_words("each") > 0
    ordinal = cur.take_kind("ord") if every else None
    if ordinal is None or not cur.take_words("stitch") or ordinal.value < 2:
        cur.at = behind
        return None
    cur.take_words("around", "across")
    return [Work(shaping, 1, Place(which=Which.EACH, every=ordinal.value, of=plain.id))]


def _evenly(cur: Cursor, plain: Lexeme | None) -> list[Work | Verbatim] | None:
    """ "Increasing 6 sts evenly", "6 increases evenly spaced", "inc 6 times evenly around"."""
    start = cur.at
    number = read_number(cur) if cur.peek().kind == "num" else None
    shaping = SHAPING.get(cur.peek().id)
    if shaping is None:
        cur.at = start
        return None
    cur.at += 1
    number = number if number is not None else read_number(cur) if cur.peek().kind == "num" else None
    cur.take_words("stitch", "times")
    told = cur.at
    if number is None or not cur.take_words("evenly"):
        cur.at = start
        return None
    cur.take_words("around", "across", "in", "the", "row", "round")
    of = plain.id if plain is not None else None
    place = Place(which=Which.ANY, number=number, of=of)
    return [Work(shaping, 1, place), Verbatim((cur.text(told, cur.at),), True, cur.span(told))]
