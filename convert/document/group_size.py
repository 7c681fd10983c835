"""How a place keeps the size by which a group is told ("3-dc cluster"): in its words, as number and stitch."""

from __future__ import annotations

import re

_SIZE = re.compile(r"(\d+)-\{([\w-]+)\}")


def size_words(number: int, stitch: str) -> str:
    """The words of a place that is told by so many stitches.

    >>> size_words(3, "dc")
    '3-{dc}'
    """
    return f"{number}-{{{stitch}}}"


def said_size(words: str) -> tuple[int, str] | None:
    """The number and the stitch, if the words of a place are nothing else.

    >>> said_size("3-{dc}"), said_size("of first motif")
    ((3, 'dc'), None)
    """
    match = _SIZE.fullmatch(words) if words[:1].isdigit() else None
    return (int(match[1]), match[2]) if match is not None else None
