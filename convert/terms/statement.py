"""What a text itself says about its terms: "US terms used throughout", "written in British crochet terms"."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from msgspec import Struct

from convert.document.records import TermSystem
from convert.source import Passage, Span
from convert.trade.patterns import either
from convert.trade.tables import table


class Statement(Struct, frozen=True):
    """A statement of the system. `whole` tells that the passage says nothing else."""

    system: TermSystem
    span: Span
    whole: bool


def stated_system(passage: Passage) -> Statement | None:
    """What the passage says about its terms; None if nothing, or both systems with equal right.

    >>> stated_system(Passage("This pattern uses US terms throughout.")).whole
    True
    >>> stated_system(Passage("Written in UK terms (US terms in brackets)")).system
    <TermSystem.UK: 'uk'>
    >>> stated_system(Passage("Solid square (US)")).system, stated_system(Passage("4 mm hook (US)"))
    (<TermSystem.US: 'us'>, None)
    """
    found = list(_statements(passage.text))
    systems = {system for system, _, _ in found}
    if len(systems) > 1:
        found = [entry for entry in found if _ends_with("saying").search(passage.text[: entry[1]])][:1]
    if not found:
        return None
    system, start, end = found[0]
    rest = passage.text[:start] + " " + passage.text[end:]
    whole = len(systems) == 1 and set(re.findall(r"[^\W_]+", rest.casefold())) <= _frame()
    return Statement(system, passage.span(start, end), whole)


def _statements(text: str) -> Iterator[tuple[TermSystem, int, int]]:
    for pattern in _patterns():
        for match in pattern.finditer(text):
            if not _ends_with("denying").search(text[: match.start()]):
                yield TermSystem.US if match["us"] else TermSystem.UK, match.start(), match.end()


def names_system(text: str) -> bool:
    """Whether a text names a term system, whatever it says of it.

    >>> names_system("UK tr"), names_system("worked loosely")
    (True, False)
    """
    return _names().search(text) is not None


@cache
def _names() -> re.Pattern[str]:
    data = table("systems")["statements"]
    return re.compile(rf"(?<![^\W_]){either([*data['us'], *data['uk']])}(?![^\W_])", re.IGNORECASE)


@cache
def _frame() -> frozenset[str]:
    """The words that a statement is framed in."""
    return frozenset(map(str, table("systems")["statements"]["frame"]))


@cache
def _ends_with(list_: str) -> re.Pattern[str]:
    """One of the words of a list at the end of a text, perhaps with words that fill."""
    data = table("systems")["statements"]
    return re.compile(rf"\b{either(data[list_])}\s(?:{either(data['filling'])}\s)*\Z", re.IGNORECASE)


@cache
def _patterns() -> tuple[re.Pattern[str], ...]:
    """The name of a system before one of the nouns, behind a label ("Terms: US"), and in a bracket at the end of a line
    without figures, as of a title ("Solid square (double crochet, US)").
    """
    data = table("systems")["statements"]
    us, uk, nouns, between = (either(data[name]) for name in ("us", "uk", "nouns", "between"))
    labels = either([*data["nouns"], *data["labels"]])
    system = rf"(?:(?P<us>{us})|(?P<uk>{uk}))"
    return (
        re.compile(rf"(?<![^\W_])(?<![/&]){system}\s(?:{between}\s)?{nouns}(?![^\W_])", re.IGNORECASE),
        re.compile(rf"\A{labels}\s?[:=-]\s?{system}(?=\s*[.]?\Z)", re.IGNORECASE),
        re.compile(rf"\A[^\d()]{{1,60}}\((?:[^\d()]{{1,40}}[,;]\s)?{system}\)(?=\s*[.]?\Z)", re.IGNORECASE),
    )
