"""Tells which word of the trade a mistyped one is meant to be, by `shared/misspellings.yaml`."""

from __future__ import annotations

from functools import cache, lru_cache

from convert.trade.tables import table

_SHORTEST = 5
"""Shorter words come too near to each other to be told by their form."""
_ENDINGS = ("e",)
"""A letter too many at the end is only one of these, or the last one twice: others make another word ("chained")."""


@lru_cache(maxsize=4096)
def meant(word: str) -> str:
    """The word of the trade that a word in small letters is meant to be; empty where it is none, or may be another.

    >>> meant("arround"), meant("stich"), meant("frist"), meant("though")
    ('around', 'stitch', 'first', '')
    """
    told = _spelt().get(word)
    if told is not None or len(word) < _SHORTEST or word in _others() or word in _words():
        return told or ""
    found = {near for near in _near(word) if len(near) >= _SHORTEST and near in _words()}
    found |= _shortened().get(word, frozenset())
    return found.pop() if len(found) == 1 else ""


def _near(word: str) -> list[str]:
    """The word with two neighbours changed back, and without each of its letters; its first letter stays."""
    inner = range(1, len(word))
    swapped = [word[:at] + word[at + 1] + word[at] + word[at + 2 :] for at in inner[:-1]]
    last = word[-1] in (*_ENDINGS, word[-2])
    return swapped + [word[:at] + word[at + 1 :] for at in (inner if last else inner[:-1])]


@cache
def _words() -> frozenset[str]:
    return frozenset(map(str, table("misspellings")["words"]))


@cache
def _others() -> frozenset[str]:
    return frozenset(map(str, table("misspellings")["others"]))


@cache
def _spelt() -> dict[str, str]:
    return {str(slip): str(word) for word, slips in table("misspellings")["spelt"].items() for slip in slips}


@cache
def _shortened() -> dict[str, frozenset[str]]:
    """The words with one letter left out, not the first."""
    found: dict[str, frozenset[str]] = {}
    for word in _words():
        if len(word) > _SHORTEST:
            for at in range(1, len(word)):
                short = word[:at] + word[at + 1 :]
                found[short] = found.get(short, frozenset()) | {word}
    return found
