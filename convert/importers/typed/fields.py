"""Takes apart facts that one line tells one behind the other: "Yarn: 4ply. Hook: 3 mm.", "Level: easy // Terms: US"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec.structs import replace

from convert.importers.typed.conventions import sentences
from convert.importers.typed.order import is_sentence
from convert.importers.typed.units import Kind, Unit, heading_prefix
from convert.trade.headings import section_of

_FIELDS = frozenset({"yarn", "hook", "notions", "skill", "terms", "gauge", "sizes", "measurements", "designer"})
"""Sections that may be told in one line with others."""
_NEXT = re.compile(r"(?:(?<=[.;])\s+|\s+(?://|\||•|·)\s+)(?=(?P<name>[A-Z][A-Za-z ]{1,24}):\s)")
"""The heading of a further fact behind a full stop, a semicolon or a stroke."""
_TIES = " ;/|•·"


def fields_apart(unit: Unit) -> Iterator[Unit]:
    """The facts of a line as units of their own, and a sentence behind the last one; the unit as it is where it tells
    only one.
    """
    text = unit.passage.text
    begun = heading_prefix(text) if unit.kind is Kind.TEXT and ":" in text else None
    section = section_of(begun[0]) if begun is not None else None
    if section not in _FIELDS:
        yield unit
        return
    edges = [0]
    for match in _NEXT.finditer(text):
        following = section_of(match["name"])
        if following in _FIELDS and following != section:
            edges.append(match.end())
            section = following
    if len(edges) == 1:
        yield unit
        return
    end = _sentence_behind(unit, edges[-1], section or "")
    for start, stop in zip(edges, [*edges[1:], end], strict=True):
        passage = unit.passage.cut(start, start + len(text[start:stop].rstrip(_TIES)))
        breaks = tuple(at - start for at in unit.breaks if start < at < stop)
        yield replace(unit, passage=passage, breaks=breaks, alone=False, fresh=unit.fresh and not start)
    if end < len(text):
        yield replace(unit, passage=unit.passage.cut(end), breaks=(), alone=False, fresh=True)


def _sentence_behind(unit: Unit, begun: int, section: str) -> int:
    """Where sentences begin behind the last fact that belong to none: "Hook: 3 mm. Gauge is not vital."."""
    text = unit.passage.text
    at, behind = begun, len(text)
    for sentence in sentences(unit.passage.cut(begun)):
        start = text.index(sentence.text, at)
        at = start + len(sentence.text)
        apart = start > begun and is_sentence(sentence.text, section) and not re.search(r"\d", sentence.text)
        behind = min(behind, start) if apart else len(text)
    return behind
