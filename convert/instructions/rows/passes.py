"""Reads rows worked in two passes (Tunisian or afghan crochet): loops are picked up along the row, each of them a
stitch, and worked off from its end. The way back makes nothing new. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from convert.document.steps import Place, Step, Verbatim, Work
from convert.instructions.places.place import read_place
from convert.instructions.places.work_places import read_places
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import take_phrase
from convert.trade.patterns import said, signs

SIMPLE = "tss"
"""The stitch of which a loop picked up under a bar is one."""


def speaks_of_passes(texts: Iterable[str]) -> bool:
    """Whether a text is about rows in two passes, so that a loop picked up is a stitch of its own.

    >>> speaks_of_passes(["Ch 12.", "Skip first vertical bar."]), speaks_of_passes(["Pull up a loop in next st."])
    (True, False)
    """
    return any(_speaks().search(text) for text in texts)


@cache
def _speaks() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('passes')}\b", re.IGNORECASE)


@cache
def _named(which: str) -> re.Pattern[str]:
    return re.compile(rf"(?:{said('work')}\s)?(?:{said('the')}\s)?{signs(which)}\b\.?", re.IGNORECASE)


def is_way_back(said_of_row: str) -> bool:
    """Whether the words, in a label or alone, name the second pass: "Return Pass"."""
    return _named("back_again").fullmatch(said_of_row.strip()) is not None


def is_only_back(steps: tuple[Step, ...]) -> bool:
    """Whether a row tells of nothing but the way back: "Row 1 Return: ..."."""
    only = steps[0] if len(steps) == 1 else None
    return isinstance(only, Verbatim) and only.inert and _named("back_again").match(str(only.words[0])) is not None


def read_pass(cur: Cursor) -> list[Step] | None:
    """A loop picked up ("insert hook under next vertical bar, yo, pull up a loop"), the name of the first pass, or the
    whole way back; nothing in texts that do not speak of passes.
    """
    if not cur.context.passes or cur.done:
        return None
    return _way_back(cur) or _forward(cur) or read_pick_up(cur) or _left_on_hook(cur)


def _forward(cur: Cursor) -> list[Step] | None:
    """ "Forward:" in front of the row."""
    start = cur.at
    if not _takes(cur, "forward") or not cur.take_mark(":", "-", "–"):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at - 1),), True, cur.span(start))]


def _way_back(cur: Cursor) -> list[Step] | None:
    """ "Return", "return: ch 1, *yo, pull through 2 loops; rep from * across": up to the full stop, or to a count."""
    start = cur.at
    end = _stop(cur)
    named = _takes(cur, "back_again")
    cur.at = start
    if not named and not (_draws_off(cur) and not any(word.id == "insert" for word in cur.words[start:end])):
        return None
    cur.at = end
    return [Verbatim((cur.text(start, end),), True, cur.span(start))]


def _stop(cur: Cursor) -> int:
    """Where the sentence ends, or a bracket with a number that is a count."""
    at = cur.at
    while at < len(cur.words):
        word = cur.words[at]
        counts = word.id in ("(", "[") and at + 1 < len(cur.words) and cur.words[at + 1].kind == "num"
        if word.id == "." or (counts and at > cur.at):
            break
        at += 1
    return at


def _draws_off(cur: Cursor) -> bool:
    """Whether loops on the hook are drawn off there: "ch 1, *yo, pull through 2 loops"."""
    ahead = 0
    if cur.peek().id == "ch" and cur.peek(1).kind == "num" and cur.peek(1).value == 1:
        ahead = 3 if cur.is_mark(",", ahead=2) else 2
        ahead += cur.is_word("and", "then", ahead=ahead)
    ahead += cur.is_mark("*", "(", "[", ahead=ahead)
    if not cur.is_word("yarn-over", ahead=ahead):
        return False
    ahead += 1
    while cur.is_mark(",", ahead=ahead) or cur.is_word("and", "then", ahead=ahead):
        ahead += 1
    if not cur.is_word("draw-up", "work-off", ahead=ahead):
        return False
    ahead += 1
    while cur.peek(ahead).kind in ("num", "ord") or cur.is_word("the", "each", "first", "last", ahead=ahead):
        ahead += 1
    return cur.is_word("loop", "both-loops", ahead=ahead)


def read_pick_up(cur: Cursor) -> list[Step] | None:
    """ "Pull up a loop in each ch across", "insert hook in next ch, yo, pull up a loop"; nothing in texts that do not
    speak of passes.
    """
    start = cur.at
    draws = cur.is_word("draw-up")
    if not cur.context.passes or not cur.take_word("draw-up", "take-up", "insert"):
        return None
    cur.take_words("and")
    draws = cur.take_word("draw-up") or draws
    places = read_places(cur) or _bare(cur)
    take_phrase(cur, _with_edge())
    if not places or not (draws or _drawn(cur) or _back_next(cur)):
        cur.at = start
        return None
    span = cur.span(start)
    return [Work(SIMPLE, 1, place, span=span) for place in places]


def _bare(cur: Cursor) -> tuple[Place, ...]:
    place = read_place(cur, preposition=False)
    return () if place is None else (place,)


def _drawn(cur: Cursor) -> bool:
    """Reads ", yo, pull up a loop" behind the place."""
    start = cur.at
    while cur.take_mark(",", ";") or cur.take_words("and", "then", "yarn-over"):
        pass
    if cur.take_word("draw-up") and not (cur.is_word("loop", "each") or cur.peek().kind == "num"):
        return True
    cur.at = start
    return False


def _back_next(cur: Cursor) -> bool:
    """Whether the way back follows, so that the loop just picked up is the last of the row."""
    start = cur.at
    while cur.take_mark(",", ";", ".") or cur.take_words("and", "then", "do-not-turn"):
        pass
    follows = _draws_off(cur)
    cur.at = start
    return follows


@cache
def _with_edge() -> re.Pattern[str]:
    """ "Last vertical bar and the edge": two strands, which make the edge firm."""
    return re.compile(signs("with_edge") + r"\b", re.IGNORECASE)


def _left_on_hook(cur: Cursor) -> list[Step] | None:
    """ "Leaving all loops on hook": what this way of working is."""
    start = cur.at
    while cur.is_word("holding-back", "leave", ahead=start - cur.at) and not (
        cur.done or cur.peek().kind in ("mark", "stitch", "tog")
    ):
        if cur.is_word("on-hook"):
            cur.at += 1
            return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]
        cur.at += 1
    cur.at = start
    return None


def _takes(cur: Cursor, which: str) -> bool:
    """Reads the name of a pass, if one stands next."""
    return take_phrase(cur, _named(which)) is not None
