"""Recognises words inside a row that change nothing about what is worked (`shared/remarks.yaml`)."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from msgspec import Struct

from convert.document.records import TermSystem
from convert.instructions.stitches.wraps import wraps_told
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme, lexemes
from convert.instructions.words.tokens import tokens
from convert.trade.tables import table

_Words = tuple[str, ...]


class _Phrases(Struct, frozen=True):
    """Whole phrases, beginnings by their first word, endings by their last."""

    whole: frozenset[_Words]
    starts: dict[str, list[_Words]]
    ends: dict[str, list[_Words]]

    def at(self, words: _Words) -> bool | None:
        """Whether the words are a phrase: True for a whole one, False for one with words of its own, None for none."""
        if words in self.whole:
            return True
        begins = any(words[: len(start)] == start for start in self.starts.get(words[0], ()))
        return False if begins or any(words[-len(end) :] == end for end in self.ends.get(words[-1], ())) else None


@cache
def _phrases(kind: str) -> _Phrases:
    whole: set[_Words] = set()
    starts: dict[str, list[_Words]] = {}
    ends: dict[str, list[_Words]] = {}
    for phrase in table("remarks")[kind]:
        words = tuple(t.text for t in tokens(phrase.removesuffix("...").removeprefix("...")))
        if phrase.endswith("..."):
            starts.setdefault(words[0], []).append(words)
        if phrase.startswith("..."):
            ends.setdefault(words[-1], []).append(words)
        whole.add(words)
    return _Phrases(frozenset(whole), starts, ends)


def is_inert(text: str) -> bool:
    """Whether these words have no effect on the fabric.

    >>> is_inert("Corner made"), is_inert("skip the next")
    (True, False)
    >>> is_inert("taking care of the edge"), is_inert("taking care to work 3 sc in the edge")
    (True, False)
    >>> is_inert("see that it is not twisted (you will thank me)"), is_inert("corner made (skip 2 dc)")
    (True, False)
    >>> is_inert("[ corner made)")
    False
    """
    words = tuple(t.text for t in tokens(text) if t.text not in (",", "."))
    if not words or _tells(words):
        return bool(words)
    if wraps_told(" ".join(words)):
        return True
    aside = _phrases("asides").at(words)
    return aside is True or (aside is False and not asks_for_work(text)) or _with_chat(words, text)


def is_fastened(text: str) -> bool:
    """Whether a sentence only tells where something is sewn or laid.

    >>> is_fastened("Lay both stars on the flap and sew in place"), is_fastened("make 3 sc and sew in place")
    (True, False)
    """
    words = tuple(t.text for t in tokens(text) if t.text not in (",", "."))
    return bool(words) and _phrases("fastened").at(words) is not None and not asks_for_work(text)


def _with_chat(words: _Words, text: str) -> bool:
    """Whether a remark goes on in a bracket that asks for nothing: "see that it is not twisted (trust me)"."""
    if words[-1] != ")" or words[0] == "(" or any(map(str.isdecimal, words)):
        return False
    front, opened, chat = text.partition("(")
    return bool(opened) and is_inert(front) and not asks_for_work(chat)


def _tells(words: _Words) -> bool:
    """Whether the words tell what the work came to, or how the yarns follow on."""
    return any(_phrases(kind).at(words) is not None for kind in ("tellings", "schedules"))


def telling_follows(cur: Cursor) -> bool:
    """Whether the words up to the end of the clause tell only what the work before them comes to."""
    if cur.done:
        return False
    words = tuple(t.text for t in tokens(cur.text(cur.at, _clause_end(cur))) if t.text not in (",", "."))
    return bool(words) and _tells(words)


_ORDERS = ("skip", "repeat", "join", "attach", "change")
"""Words that ask for something where they begin a clause."""
_NAMING = ("the", "each", "of", "next", "last", "same", "more", "between", "no")
"""Words behind which a stitch is a thing and not something to do: "of each tr in the hem"."""
_HERE = ("each", "next", "skip", "same", "last", "remaining", "other", "around", "across", "ring", "both-loops")


def asks_for_work(text: str) -> bool:
    """Whether the words begin with an order, or a number of stitches or a stitch and its place stand among them."""
    for system in TermSystem:
        found = lexemes(text, system)
        explained = len(found) > 1 and found[1].id == ":"  # "to join: ..."
        if found[0].kind == "word" and found[0].id in _ORDERS and not explained:
            return True
        for before, (one, other) in zip(["", *(word.id for word in found)], pairwise(found), strict=False):
            stitch = other.kind in ("stitch", "tog") or (other.kind, other.id) == ("word", "stitch")
            if one.kind == "num" and stitch and before != "last":
                return True
        if any(_is_worked(found, at) for at, word in enumerate(found) if word.kind in ("stitch", "tog")):
            return True
    return False


def _is_worked(found: list[Lexeme], at: int) -> bool:
    """Whether the stitch there is told to be worked somewhere: "sc around", "dc in each st"."""
    if at and found[at - 1].id in _NAMING:
        return False
    inside = at + 1 < len(found) and found[at + 1].kind == "word" and found[at + 1].id == "in"
    behind = at + 2 if inside else at + 1
    if behind >= len(found):
        return False
    there = found[behind]
    return (inside and there.kind in ("ord", "num", "stitch")) or (there.kind == "word" and there.id in _HERE)


def remark_follows(cur: Cursor) -> bool:
    """Whether the words up to the end of the clause are a remark."""
    end = _clause_end(cur)
    return end > cur.at and is_inert(cur.text(cur.at, end))


def _clause_end(cur: Cursor) -> int:
    end = cur.at
    while end < len(cur.words) and not (cur.words[end].kind == "mark" and cur.words[end].id in ",;.()[]"):
        end += 1
    return end
