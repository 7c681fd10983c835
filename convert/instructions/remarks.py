"""Recognises words inside a row that change nothing about what is worked (`shared/remarks.yaml`)."""

from __future__ import annotations

from functools import cache

from convert.instructions.tokens import tokens
from convert.trade.tables import table


@cache
def _phrases() -> tuple[frozenset[tuple[str, ...]], tuple[tuple[str, ...], ...]]:
    whole: set[tuple[str, ...]] = set()
    starts: list[tuple[str, ...]] = []
    for phrase in table("remarks"):
        open_ended = phrase.endswith("...")
        words = tuple(t.text for t in tokens(phrase.removesuffix("...")))
        if open_ended:
            starts.append(words)
        whole.add(words)
    return frozenset(whole), tuple(starts)


def is_inert(text: str) -> bool:
    """Whether these words have no effect on the fabric.

    >>> is_inert("Corner made"), is_inert("skip the next")
    (True, False)
    """
    words = tuple(t.text for t in tokens(text) if t.text not in (",", "."))
    whole, starts = _phrases()
    return words in whole or any(words[: len(start)] == start for start in starts)
