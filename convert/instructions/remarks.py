"""Recognises words inside a row that change nothing about what is worked (`shared/remarks.yaml`)."""

from __future__ import annotations

from functools import cache

from convert.instructions.cursor import Cursor
from convert.instructions.tokens import tokens
from convert.trade.tables import table

_Words = tuple[str, ...]


@cache
def _phrases() -> tuple[frozenset[_Words], dict[str, list[_Words]], dict[str, list[_Words]]]:
    """The whole phrases, the beginnings by their first word, and the endings by their last."""
    whole: set[_Words] = set()
    starts: dict[str, list[_Words]] = {}
    ends: dict[str, list[_Words]] = {}
    for phrase in table("remarks"):
        words = tuple(t.text for t in tokens(phrase.removesuffix("...").removeprefix("...")))
        if phrase.endswith("..."):
            starts.setdefault(words[0], []).append(words)
        if phrase.startswith("..."):
            ends.setdefault(words[-1], []).append(words)
        whole.add(words)
    return frozenset(whole), starts, ends


def is_inert(text: str) -> bool:
    """Whether these words have no effect on the fabric.

    >>> is_inert("Corner made"), is_inert("skip the next")
    (True, False)
    """
    words = tuple(t.text for t in tokens(text) if t.text not in (",", "."))
    whole, starts, ends = _phrases()
    if not words or words in whole:
        return bool(words)
    return any(words[: len(start)] == start for start in starts.get(words[0], ())) or any(
        words[-len(end) :] == end for end in ends.get(words[-1], ())
    )


def remark_follows(cur: Cursor) -> bool:
    """Whether the words up to the end of the clause are a remark."""
    end = cur.at
    while end < len(cur.words) and not (cur.words[end].kind == "mark" and cur.words[end].id in ",;.()[]"):
        end += 1
    return end > cur.at and is_inert(cur.text(cur.at, end))
