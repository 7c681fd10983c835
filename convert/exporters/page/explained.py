"""The author's own explanations of abbreviations, which the list of the edition takes in."""

from __future__ import annotations

import re

from msgspec import Struct

from convert.document.prose import Prose, Term
from convert.document.records import Document, Section
from convert.exporters.page.edition import Edition
from convert.terms.naming import term
from convert.trade.headings import section_of

_SAYS = re.compile(r"\s?(?:=|:|–|—|\s-\s)\s*")
_NAME_WORDS = 3
"""Words of the longest short form."""


class Explained(Struct, frozen=True):
    """One entry of the author's: what is explained, and the explanation."""

    what: str | Term
    meaning: Prose

    def short(self, edition: Edition) -> str:
        """What is explained, as the edition writes it."""
        what = self.what
        return what if isinstance(what, str) else term(what.id, edition.system, legs=what.legs)


def explained(document: Document) -> tuple[Explained, ...]:
    """Every entry of the author's list that explains more than the tables do, in the author's order."""
    listed = (paragraph for section in document.sections if _is_list(section) for paragraph in section.paragraphs)
    return tuple(entry for paragraph in listed if (entry := _entry(paragraph)) is not None)


def beside_entries(section: Section) -> tuple[Prose, ...]:
    """The paragraphs of a section that the edition's list of abbreviations does not take in."""
    if not _is_list(section):
        return section.paragraphs
    return tuple(paragraph for paragraph in section.paragraphs if _entry(paragraph) is None)


def _is_list(section: Section) -> bool:
    return section_of(section.heading) == "abbreviations"


def _entry(paragraph: Prose) -> Explained | None:
    first = paragraph[0] if paragraph else ""
    if isinstance(first, Term):
        says = _SAYS.match(paragraph[1]) if len(paragraph) > 1 and isinstance(paragraph[1], str) else None
        return Explained(first, _from(paragraph[1:], says.end())) if says is not None else None
    says = _SAYS.search(first)
    short = first[: says.start()].strip() if says is not None else ""
    if says is None or not short or len(short.split()) > _NAME_WORDS:
        return None
    return Explained(short, _from(paragraph, says.end()))


def _from(prose: Prose, start: int) -> Prose:
    """The text from there on, without the comma that a list puts behind an entry."""
    found = (str(prose[0])[start:], *prose[1:])
    if isinstance(found[-1], str):
        found = (*found[:-1], found[-1].rstrip(" ,;."))
    return tuple(part for part in found if part)
