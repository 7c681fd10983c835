"""Reads the sections of a text as typed in the order in which they depend on one another."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from types import MappingProxyType

from msgspec.structs import replace

from convert.document.records import Remark
from convert.importers.short_labels import in_rounds
from convert.importers.typed.data import (
    find_sizes,
    take_field,
    take_gauge,
    take_materials,
    take_measurements,
    take_other,
    take_sizes,
    take_to_fit,
)
from convert.importers.typed.draft import Draft
from convert.importers.typed.parts import is_colour_sequence, read_part
from convert.importers.typed.sections import FRONT, INSTRUCTIONS, OTHER, PART, TITLE, Section
from convert.importers.typed.texts import (
    take_abbreviations,
    take_care,
    take_finishing,
    take_notes,
    take_paragraphs,
    take_specials,
    take_terms,
    take_title,
)
from convert.importers.typed.words import entries
from convert.instructions.reader import Context, with_specials

_OPENING = (FRONT, TITLE, "designer", "copyright", "date", "version", "skill", "terms", "summary")
"""Sections that may stand before the introduction."""
_SUPPLIES = ("materials", "yarn", "hook", "notions")


def draft(sections: Sequence[Section], context: Context) -> Draft:
    """Reads all sections: what the rows depend on first, then the other texts, then the parts."""
    found = Draft(context)
    for section in sections:
        if section.id == "sizes":
            take_sizes(found, section)
    find_sizes(found, sections)
    for id, take in _FIRST.items():
        for section in sections:
            if section.id == id:
                take(found, section)
    take_materials(found, [section for section in sections if section.id in _SUPPLIES])
    front = True
    for section in sections:
        front = front and section.id in _OPENING
        if section.id == FRONT:
            take_paragraphs(found, section, found.summary if front else found.notes)
        elif section.id in _THEN and not (section.id == "finishing" and section.has_rows):
            _THEN[section.id](found, section)
    _take_parts(found, [s for s in sections if s.id in (PART, INSTRUCTIONS) or (s.id == "finishing" and s.has_rows)])
    return found


def _take_parts(found: Draft, sections: Sequence[Section]) -> None:
    taken: set[str] = set()
    empty: list[Remark] = []
    for section in sections:
        if not section.units:
            if section.id == PART and section.headed is not None:
                empty.append(Remark(found.prose(section.headed.text), span=section.headed.whole))
            continue
        if section.headed is not None and is_colour_sequence(section, found.context):
            found.add_section(section.headed.text, list(entries(section.units)), section.span)
            continue
        name = section.headed if section.headed is not None and section.id != INSTRUCTIONS else None
        read = read_part(
            section,
            name if name is not None else found.title or "Instructions",
            taken,
            found.context,
            spiral=found.spiral,
            rounds=any(map(in_rounds, found.parts)),
        )
        found.context = replace(with_specials(found.context, read.specials), around=read.around)
        found.parts.append(replace(read.part, items=(*empty, *read.part.items)))
        empty = []
        found.findings += read.findings
        found.clauses += read.clauses
        found.verbatim_clauses += read.verbatim_clauses
    found.notes += [remark.words for remark in empty]


Reader = Callable[[Draft, Section], None]
_FIRST: MappingProxyType[str, Reader] = MappingProxyType(
    {
        "abbreviations": take_abbreviations,
        "special-stitches": take_specials,
    }
)
_THEN: MappingProxyType[str, Reader] = MappingProxyType(
    {
        TITLE: take_title,
        "to-fit": take_to_fit,
        "measurements": take_measurements,
        "gauge": take_gauge,
        "notes": take_notes,
        "summary": lambda found, section: take_paragraphs(found, section, found.summary),
        "designer": take_field,
        "copyright": take_field,
        "version": take_field,
        "date": take_field,
        "skill": take_field,
        "terms": take_terms,
        "finishing": take_finishing,
        "care": take_care,
        "cautions": take_other,
        OTHER: take_other,
    }
)
