"""What stands on every page of a printed pattern and was copied with it: page numbers, and heads that come again."""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterator, Sequence
from functools import cache

from convert.document.extra import Extra
from convert.findings import Finding, Severity
from convert.source import Span
from convert.trade.patterns import signs

_FEW = 2
"""How many pages have to be numbered, one number behind the other, before such lines are taken for page numbers."""
_NEAR = 2
"""How many lines from a page's number its head may stand."""


def page_lines(lines: Sequence[str]) -> tuple[int, ...]:
    """The indexes of lines that belong to the pages and not to the pattern. A head stays where it stands first: it is
    the pattern's title, or the like.

    >>> page_lines(["Owl", "Page 1 of 2", "Rnd 1: 6 sc in ring.", "Owl", "Page 2 of 2", "Rnd 2: 2 sc in each st."])
    (1, 3, 4)
    """
    numbered = [(index, int(match["number"])) for index, line in enumerate(lines) if (match := _number().match(line))]
    numbers = [number for _, number in numbered]
    if len(numbered) < _FEW or numbers != list(range(numbers[0], numbers[0] + len(numbers))):
        return ()
    pages = [index for index, _ in numbered]
    beside = [{lines[at].strip() for at in _beside(lines, index)} for index in pages]
    again = {text for text, times in Counter(text for texts in beside for text in texts).items() if times >= _FEW}
    heads = {at for index in pages for at in _beside(lines, index) if lines[at].strip() in again}
    first = {text: next(at for at, line in enumerate(lines) if line.strip() == text) for text in again}
    return tuple(sorted({*pages, *(at for at in heads if at != first[lines[at].strip()])}))


def without_pages(text: str) -> tuple[str, tuple[Extra, ...], tuple[Finding, ...]]:
    """The text with such lines emptied, so that line numbers stay; the lines as a key that passes through, and the note
    that tells of them.
    """
    lines = text.split("\n")
    taken = page_lines(lines)
    if not taken:
        return text, (), ()
    finding = Finding(
        "pages-set-aside",
        Severity.NOTE,
        "The text was copied from printed pages: their numbers, and heads that come again, are no part of the pattern.",
        Span(taken[0], 0, taken[0], len(lines[taken[0]])),
        hint="Take these lines out, if the note is not wanted.",
    )
    said = json.dumps([lines[at].strip() for at in taken], ensure_ascii=False)
    kept = ["" if at in taken else line for at, line in enumerate(lines)]
    return "\n".join(kept), (Extra("x-pages", said),), (finding,)


def _beside(lines: Sequence[str], index: int) -> Iterator[int]:
    """The closest lines around one that have anything in them."""
    for step in (-1, 1):
        near = (index + step * distance for distance in range(1, _NEAR + 1))
        at = next((at for at in near if 0 <= at < len(lines) and lines[at].strip()), None)
        if at is not None:
            yield at


@cache
def _number() -> re.Pattern[str]:
    """ "Page 2 of 4", "- 3 -": the number of a page on a line by itself."""
    named = rf"\W{{0,4}}{signs('pages')}\s?(?P<number>\d{{1,3}})(?:\s?(?:/|{signs('pages_of')})\s?\d{{1,3}})?\W{{0,4}}"
    return re.compile(rf"{named}\Z", re.IGNORECASE)
