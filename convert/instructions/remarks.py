"""Recognises words inside a row that change nothing about what is worked (`shared/remarks.yaml`)."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

from msgspec import Struct

from convert.document.records import TermSystem
from convert.instructions.cursor import Cursor
from convert.instructions.lexicon import lexemes
from convert.instructions.tokens import tokens
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
    """
    words = tuple(t.text for t in tokens(text) if t.text not in (",", "."))
    if not words or _phrases("tellings").at(words) is not None:
        return bool(words)
    aside = _phrases("asides").at(words)
    return aside is True or (aside is False and not _asks_for_work(text))


def _asks_for_work(text: str) -> bool:
    """Whether a number of stitches stands among the words."""
    for system in TermSystem:
        found = lexemes(text, system)
        for one, other in pairwise(found):
            if one.kind == "num" and (other.kind in ("stitch", "tog") or (other.kind, other.id) == ("word", "stitch")):
                return True
    return False


def remark_follows(cur: Cursor) -> bool:
    """Whether the words up to the end of the clause are a remark."""
    end = cur.at
    while end < len(cur.words) and not (cur.words[end].kind == "mark" and cur.words[end].id in ",;.()[]"):
        end += 1
    return end > cur.at and is_inert(cur.text(cur.at, end))
