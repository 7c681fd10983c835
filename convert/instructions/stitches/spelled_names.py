"""Stitches of the author's own that a row tells motion by motion and names once they are made: "yo, insert hook in
ring, draw up a loop, ... draw through all 6 loops; repeat to make 5 more thistle-stitches".
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from msgspec.structs import replace

from convert.document.records import Special
from convert.document.steps import Chain, Extent, Work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import HowOften, Item, Mark, RepeatFrom
from convert.instructions.words.numbers import read_number
from convert.instructions.words.phrases import take_phrase, takes_sign
from convert.instructions.words.said import said_from
from convert.trade.patterns import listed, said, signs


def named_further_on(cur: Cursor) -> Special | None:
    """The stitch that the row names behind a number further on, and nobody has explained but by these motions."""
    known = {special.id: special for special in cur.defined if not special.steps}
    if not known:
        return None
    for before, word in zip(cur.words[cur.at :], cur.words[cur.at + 1 :], strict=False):
        counted = before.kind == "num" or before.id == "more"
        if word.kind == "stitch" and word.id in known and counted:
            return known[word.id]
    return None


def told_by_motions(cur: Cursor) -> Special | None:
    """The one stitch of the author's own that an earlier row told motion by motion, and that this row names too."""
    named = {word.id for word in cur.words[cur.at :] if word.kind == "stitch"}
    found = [s for s in cur.context.specials if s.words and not s.steps and s.id in named and _is_motions(s)]
    return found[0] if len(found) == 1 else None


def _is_motions(own: Special) -> bool:
    first = own.words[0]
    return isinstance(first, str) and _motion().match(first) is not None


@cache
def _motion() -> re.Pattern[str]:
    return re.compile(rf"{said('draw-up', 'yarn-over', 'insert')}\b", re.IGNORECASE)


def explain(cur: Cursor, own: Special, start: int) -> None:
    """Keeps the words from `start` up to the position as the explanation of the stitch. The last telling of the row
    counts: the first one may be that of the beginning of a round.
    """
    if own not in cur.defined:
        return
    stitches = [
        w for w in cur.words[start : cur.at] if w.kind == "stitch" and w.text.lower() not in listed("long_loop")
    ]
    told = said_from(cur, start) if stitches else (" ".join(cur.text(start, cur.at).split()),)
    cur.defined = [replace(s, words=told) if s is own else s for s in cur.defined]


def takes_lengthened(cur: Cursor) -> bool:
    """Reads "draw up loop half an inch long", "draw loop up long over 1st sc": the loop on the hook, drawn up."""
    return take_phrase(cur, _lengthened()) is not None


@cache
def _lengthened() -> re.Pattern[str]:
    return re.compile(rf"{said('draw-up')}\s[^,;.:()*]*?\b{signs('long_loop')}\b[^,;.:()*]*(?=,)", re.IGNORECASE)


def made_more(cur: Cursor, items: Sequence[Item]) -> list[Item] | None:
    """ "Repeat to make 7 more thistle-stitches, with 2 chain between, 8 in all": so many workings more of what stands
    behind the last mark, if that makes one of them and the number in all, where it is told, agrees.
    """
    start = cur.at
    at = next((index for index in range(len(items) - 1, -1, -1) if isinstance(items[index], Mark)), None)
    mark = items[at] if at is not None else None
    if not isinstance(mark, Mark) or at is None or not takes_sign(cur, "repeat_to_make"):
        cur.at = start
        return None
    number = read_number(cur) if cur.peek().kind == "num" else None
    more = cur.take_words("more") > 0
    stitch = cur.take_kind("stitch") if more and isinstance(number, int) else None
    body = items[at + 1 :]
    once = [item for item in body if isinstance(item, Work) and stitch is not None and item.stitch == stitch.id]
    if stitch is None or not isinstance(number, int) or len(once) != 1 or once[0].each != 1:
        cur.at = start
        return None
    before = sum(isinstance(item, Work) and item.stitch == stitch.id for item in items[:at])
    _take_in_all(cur, before + 1 + number)
    _take_between(cur, body)
    return [RepeatFrom(mark.sign, HowOften(Extent.TIMES, number + 1), span=cur.span(start))]


def _take_in_all(cur: Cursor, number: int) -> None:
    start = cur.at
    cur.take_mark(",")
    told = cur.take_kind("num")
    if told is None or told.value != number or not cur.take_words("in-all"):
        cur.at = start


def _take_between(cur: Cursor, body: Sequence[Item]) -> None:
    start = cur.at
    cur.take_mark(",")
    cur.take_words("with")
    told = cur.take_kind("num")
    chain = cur.take_kind("stitch")
    chains = [item.number for item in body if isinstance(item, Chain)]
    named = told is not None and chain is not None and chain.id == "ch" and told.value in chains
    if not named or not cur.take_words("between"):
        cur.at = start
