"""The letter that a pattern came in: it is no part of the pattern, and is kept beside it."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from functools import cache

from convert.document.extra import Extra
from convert.findings import Finding, Severity
from convert.importers.typed.headings import names_designer
from convert.importers.typed.units import Kind, Unit
from convert.importers.typed.words import entries
from convert.trade.patterns import signs

_MOST = 40
"""Units of the longest letter."""
_TITLE_WORDS = 8


def letter_length(found: Sequence[Unit]) -> int:
    """How many of the first units are a letter: its head, as programs for mail write it, and all down to the title.

    The title is what stands above the designer's name, or else the first short line that is no sentence.
    """
    head = 0
    while head < len(found) and _head("mail").match(found[head].passage.text):
        head += 1
    if not any(_head("mail_sure").match(unit.passage.text) for unit in found[:head]):
        return 0
    short = [index for index in range(head, min(len(found), head + _MOST)) if _may_be_title(found[index])]
    named = (index for index in short if names_designer(_below(found, index)))
    length = next(named, next(iter(short), head))
    return length if length < len(found) else 0  # a letter that no pattern follows is read for what it is


def set_aside(found: Sequence[Unit]) -> tuple[tuple[Extra, ...], tuple[Finding, ...]]:
    """The letter as a key that passes through, and the note that tells of it; nothing where there is none."""
    if not found:
        return (), ()
    lines = [line.text for unit in found for line in entries([unit])]
    finding = Finding(
        "letter-set-aside",
        Severity.NOTE,
        "The text begins with a letter; the pattern is taken to begin below it.",
        found[0].passage.whole.to(found[-1].passage.whole),
        hint="Take the letter out, or put the pattern's title on the first line.",
    )
    return (Extra("x-letter", json.dumps(lines, ensure_ascii=False)),), (finding,)


@cache
def _head(which: str) -> re.Pattern[str]:
    return re.compile(rf"{signs(which)}\s?:\s?\S", re.IGNORECASE)


def _may_be_title(unit: Unit) -> bool:
    first, *below = (line.text for line in entries([unit]))
    lines = unit.alone or any(map(names_designer, below[:1]))
    short = unit.kind is Kind.TEXT and lines and unit.fresh and len(first.split()) <= _TITLE_WORDS
    return short and first[0].isupper() and first[-1] not in ".,!?:;"


def _below(found: Sequence[Unit], index: int) -> str:
    """The line below the first one of a unit."""
    lines = [line.text for unit in found[index : index + 2] for line in entries([unit])]
    return lines[1] if len(lines) > 1 else ""
