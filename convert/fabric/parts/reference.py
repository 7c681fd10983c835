"""Rows told by another part: "work first 2 rounds as for first motif", "same as 3rd round of lower ruffle"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from convert.document.prose import Prose, Term
from convert.document.records import Part, Row
from convert.document.steps import Again
from convert.trade.patterns import number_words, said, signs
from convert.trade.stitches import stitches
from convert.trade.words import words as trade_words

_ASIDE = 4
"""Words beside the part's name that only refer ("same as ... of"); more of them say how the work differs."""


def part_named(words: Prose, parts: Sequence[Part]) -> Part | None:
    """The one part whose name the words give, in whole or by two words of it; None where there is no such one."""
    if any(isinstance(word, Term) and word.id in stitches() for word in words):
        return None  # a stitch in the words tells how the work differs
    told = " ".join(word if isinstance(word, str) else _plain(word) for word in words)
    spoken = _tokens(_like().sub(lambda match: match[0].split()[-1], _numbered_row().sub(" ", told)))
    shared = {part.id: _shared(spoken, _tokens(part.name)) for part in parts}
    most = max(shared.values(), default=0)
    best = [part for part in parts if shared[part.id] == most]
    return best[0] if most and len(best) == 1 and len(spoken) - most <= _ASIDE else None


def piece_meant(words: Prose, parts: Sequence[Part], here: Part) -> Part | None:
    """The other part that the words name, or point to by counting back from this one."""
    return part_named(words, [part for part in parts if part is not here]) or part_before(words, parts, here)


def part_before(words: Prose, parts: Sequence[Part], here: Part) -> Part | None:
    """The part in front of this one, where the words count one back: in "2nd flower" it is the "1st flower", whatever
    its own heading; anywhere it is the "previous motif", if that is what both are called.
    """
    at = next((index for index, part in enumerate(parts) if part is here), 0)
    spoken = _tokens("".join(word for word in words if isinstance(word, str)))
    number, noun = _counted(_tokens(here.name))
    if not at or len(spoken) < 2 or spoken[-1] != noun:
        return None
    back = _counted(spoken[-2:])[0] == number - 1 > 0
    return parts[at - 1] if back or re.fullmatch(said("previous"), spoken[-2]) else None


def _counted(name: list[str]) -> tuple[int, str]:
    """The number and the noun in the name of one of several pieces, such as "second motif"; 0 where it has none."""
    ordinals = number_words("ordinals")
    found = next((n for n, word in enumerate(name) if word in ordinals or _ordinal().fullmatch(word)), None)
    if found is None or found + 1 >= len(name):
        return 0, name[-1] if name else ""
    word = name[found]
    return ordinals[word] if word in ordinals else int(word[:-2]), name[-1]


@cache
def _like() -> re.Pattern[str]:
    """How a part is referred to ("in the same manner as"): one word to count, however many it has."""
    return re.compile(rf"\b{signs('like')}\b", re.IGNORECASE)


@cache
def _ordinal() -> re.Pattern[str]:
    return re.compile(r"\d{1,3}(?:st|nd|rd|th)")


def _plain(term: Term) -> str:
    """A word of the trade as the United States spell it."""
    known = trade_words().get(term.id)
    return known.us if known is not None else ""


@cache
def _numbered_row() -> re.Pattern[str]:
    """The row referred to, told once more: "same as 1st row of first wing"."""
    return re.compile(rf"\b\d+(?:st|nd|rd|th)\s{said('round', 'row')}\b", re.IGNORECASE)


def _tokens(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text.casefold())


def _shared(said: list[str], name: list[str]) -> int:
    """How many words in a row the two have in common; 0 for one word alone, unless it is the whole name."""
    length = min(len(said), len(name))
    for size in range(length, 0, -1):
        if size < 2 and len(name) > 1:
            return 0
        runs = {tuple(name[i : i + size]) for i in range(len(name) - size + 1)}
        if any(tuple(said[i : i + size]) in runs for i in range(len(said) - size + 1)):
            return size
    return 0


def rows_of(history: Sequence[tuple[int | None, Row]], first: int, last: int) -> list[tuple[int | None, Row]]:
    """Rows `first` to `last` of a part as it was worked, with the foundation where they begin with the first. Where the
    numbers begin anew in the part, those that were worked latest.
    """
    for rows in reversed(_counted_on(numbered(history))):
        meant = [(number, row) for number, row in rows if first <= number <= last or (first == 1 and number < 1)]
        if meant and meant[-1][0] == last:
            return list(meant)
    return []


def _counted_on(rows: list[tuple[int, Row]]) -> list[list[tuple[int, Row]]]:
    """The rows, cut where the numbers begin anew."""
    stretches: list[list[tuple[int, Row]]] = []
    for number, row in rows:
        if not stretches or number < stretches[-1][-1][0]:
            stretches.append([])
        stretches[-1].append((number, row))
    return stretches


def numbered(history: Sequence[tuple[int | None, Row]]) -> list[tuple[int, Row]]:
    """The rows with their numbers. A row without a label is the one before the next number, or goes on counting behind
    the last.
    """
    found: list[tuple[int, Row]] = []
    start = next((number for number, _ in history if number is not None), 1)
    unlabelled = next((i for i, (number, _) in enumerate(history) if number is not None), len(history))
    for index, (number, row) in enumerate(history):
        counted = start - unlabelled + index if index < unlabelled or not found else found[-1][0] + 1
        found.append((counted if number is None else number, row))
    return found


def rows_meant(
    history: Sequence[tuple[int | None, Row]], again: Again, period: int = 0
) -> list[tuple[int | None, Row]]:
    """The rows that "Rows 2 and 3" or "last 2 rows" mean, the latest with that number.

    `period` rows at the end of the history stand for any number of them, where it is open how often they were worked.
    """
    if again.first < 0:
        meant = history[again.first : len(history) + again.last + 1] if history else ()
        many = again.last - again.first + 1
        if len(meant) == many:
            return list(meant)
        whole = period and again.last == -1 and many % period == 0
        return list(history[-period:]) * (many // period) if whole else []
    found: list[tuple[int | None, Row]] = []
    for number in range(again.first, again.last + 1):
        hit = next((entry for entry in reversed(history) if entry[0] == number), None)
        if hit is None:
            return []
        found.append(hit)
    return found
