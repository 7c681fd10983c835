"""Turns the sections of a text as typed, one after the other, into the fields of a document."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace

from convert.document.prose import Prose
from convert.document.records import BeginningChain, Gauge, Materials, Part, Remark, Section, Size, Special
from convert.findings import Finding
from convert.importers.typed_conventions import is_spiral, read_convention, sentences
from convert.importers.typed_gauge import read_gauge
from convert.importers.typed_materials import read_materials
from convert.importers.typed_parts import read_part
from convert.importers.typed_sections import FRONT, INSTRUCTIONS, OTHER, PART, TITLE
from convert.importers.typed_sections import Section as Raw
from convert.importers.typed_sizes import read_sizes, with_target, with_to_fit
from convert.importers.typed_stitches import define_named, read_abbreviations, read_specials
from convert.importers.typed_words import entries, spaced
from convert.instructions.reader import Context
from convert.source import Passage, Span
from convert.terms.prose import read_prose
from convert.terms.statement import stated_system

_SKILLS = ("basic", "easy", "intermediate", "complex")
_DATE = re.compile(r"\d{4}-\d{2}-\d{2}")
_OPENING = (FRONT, TITLE, "designer", "copyright", "date", "version", "skill", "terms", "summary")
"""Sections that may stand before the introduction."""
_SUPPLIES = ("materials", "yarn", "hook", "notions")


@dataclass(slots=True)
class Draft:
    """The fields of the document while they are gathered. `context` grows with the sizes, colours and stitches."""

    context: Context
    title: str = ""
    designer: str = ""
    copyright: str = ""
    date: str = ""
    version: str = ""
    skill: str = ""
    gauge: Gauge | None = None
    materials: Materials = field(default_factory=Materials)
    sizes: tuple[Size, ...] = ()
    summary: list[Prose] = field(default_factory=list)
    notes: list[Prose] = field(default_factory=list)
    finishing: list[Prose] = field(default_factory=list)
    care: list[Prose] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    chains: list[BeginningChain] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    spans: dict[str, Span] = field(default_factory=dict)
    known_abbreviations: list[Passage] = field(default_factory=list)
    spiral: bool = False
    clauses: int = 0
    verbatim_clauses: int = 0

    def prose(self, text: str) -> Prose:
        """A text with its stitch terms."""
        return read_prose(spaced(text), self.context.system, self.context.specials)

    def define(self, specials: Iterable[Special]) -> None:
        """Takes up stitches that the author defines, so that rows and further definitions may use them."""
        self.context = replace(self.context, specials=(*self.context.specials, *specials))

    def add_section(self, heading: str, passages: Iterable[Passage], span: Span) -> None:
        """A headed text that has no place of its own in the document."""
        paragraphs = tuple(self.prose(passage.text) for passage in passages)
        if paragraphs:
            self.sections.append(Section(spaced(heading).rstrip(":.… "), paragraphs, span))


def draft(sections: Sequence[Raw], context: Context) -> Draft:
    """Reads all sections: what the rows depend on first, then the other texts, then the parts."""
    found = Draft(context)
    for ids in (("sizes",), ("abbreviations",), ("special-stitches",)):
        for section in sections:
            if section.id in ids:
                _READERS[section.id](found, section)
    _read_materials(found, [section for section in sections if section.id in _SUPPLIES])
    front = True
    for section in sections:
        front = front and section.id in _OPENING
        if section.id == FRONT:
            _read_paragraphs(found, section, found.summary if front else found.notes)
        elif section.id in _TEXTS and not (section.id == "finishing" and section.has_rows):
            _TEXTS[section.id](found, section)
    _read_parts(found, [s for s in sections if s.id in (PART, INSTRUCTIONS) or (s.id == "finishing" and s.has_rows)])
    return found


# Sizes, gauge, materials


def _read_sizes(found: Draft, section: Raw) -> None:
    for passage in entries(section.units):
        sizes = () if found.sizes else read_sizes(passage)
        if sizes:
            found.sizes = sizes
            found.context = replace(found.context, sizes=tuple((size.id, size.name) for size in sizes))
        else:
            _add_measures(found, section, passage)


def _read_to_fit(found: Draft, section: Raw) -> None:
    heading = spaced(section.headed.text).rstrip(": ") if section.headed else ""
    whom = re.sub(r"\A(?:to\sfit|fits)\s?", "", heading, flags=re.IGNORECASE)
    for passage in entries(section.units):
        sizes = with_to_fit(found.sizes, whom, passage)
        if sizes is None:
            found.add_section(heading, [passage], passage.whole)
        else:
            found.sizes = sizes


def _read_measurements(found: Draft, section: Raw) -> None:
    for passage in entries(section.units):
        _add_measures(found, section, passage)


def _add_measures(found: Draft, section: Raw, passage: Passage) -> None:
    """A measurement in every size or, failing that, a line of its section."""
    sizes = with_target(found.sizes, passage)
    if sizes is not None:
        found.sizes = sizes
        return
    heading = section.headed.text if section.headed else "Measurements"
    same = next((s for s in found.sections if s.heading == spaced(heading).rstrip(":.… ")), None)
    if same is None:
        found.add_section(heading, [passage], passage.whole)
    else:
        found.sections[found.sections.index(same)] = replace(same, paragraphs=(*same.paragraphs, found.prose(passage.text)))


def _read_gauge(found: Draft, section: Raw) -> None:
    passages = list(entries(section.units))
    if not passages:
        return
    if found.gauge is not None:
        _read_other(found, section)
        return
    gauge = read_gauge(Passage("; ".join(p.text.rstrip("; ") for p in passages)), found.context.system)
    if gauge.words:
        first = read_gauge(passages[0], found.context.system)
        gauge = replace(first, words=found.prose(" ".join(passage.text for passage in passages)))
    span = passages[0].whole.to(passages[-1].whole)
    found.gauge = replace(gauge, span=span)
    found.spans["gauge"] = span


def _read_materials(found: Draft, sections: Sequence[Raw]) -> None:
    items = [(section.id, passage) for section in sections for passage in entries(section.units)]
    found.materials = read_materials(items, found.context.system)
    yarns = found.materials.yarns
    colours = dict.fromkeys(name for yarn in yarns for name in (yarn.key, yarn.colour, yarn.name) if name)
    found.context = replace(found.context, colours=tuple(colours))


# Stitches


def _read_abbreviations(found: Draft, section: Raw) -> None:
    explained = read_abbreviations(section.units, found.context)
    found.define(explained.specials)
    found.known_abbreviations += explained.known
    heading = section.headed.text if section.headed else "Abbreviations"
    found.add_section(heading, [p for p in explained.rest if not _states_terms(p)], explained.rest[0].whole if explained.rest else section.span)


def _read_specials(found: Draft, section: Raw) -> None:
    specials, rest = read_specials(section.units, found.context)
    found.define(specials)
    for passage in rest:
        _add_paragraph(found, passage, found.notes)


# Texts


def _read_notes(found: Draft, section: Raw) -> None:
    _read_paragraphs(found, section, found.notes)


def _read_paragraphs(found: Draft, section: Raw, into: list[Prose]) -> None:
    for passage in entries(section.units):
        _add_paragraph(found, passage, into)


def _add_paragraph(found: Draft, passage: Passage, into: list[Prose]) -> None:
    """A paragraph without the sentences that became data: the terms used, and what beginning chains stand for."""
    if _states_terms(passage):
        return
    special = define_named(passage, found.context)
    if special is not None:
        found.define([special])
        return
    found.spiral = found.spiral or is_spiral(passage.text)
    kept = [sentence.text for sentence in sentences(passage) if not _is_data(found, sentence)]
    if kept:
        into.append(found.prose(" ".join(kept)))


def _is_data(found: Draft, sentence: Passage) -> bool:
    if _states_terms(sentence):
        return True
    convention = read_convention(sentence, found.context.system)
    if convention is None or any(chain.chains == convention.chain.chains for chain in found.chains):
        return False
    found.chains.append(convention.chain)
    return convention.whole


def _states_terms(passage: Passage) -> bool:
    statement = stated_system(passage)
    return statement is not None and statement.whole


def _read_title(found: Draft, section: Raw) -> None:
    lines = list(entries(section.units))
    if lines and not found.title:
        found.title = spaced(lines[0].text)
        found.spans["title"] = lines[0].whole
        lines = lines[1:]
    for passage in lines:
        _add_paragraph(found, passage, found.summary)


def _read_field(found: Draft, section: Raw) -> None:
    """One of the short fields; what does not fit it is kept under its heading."""
    passages = list(entries(section.units))
    text = spaced(" ".join(passage.text for passage in passages))
    fits = {
        "designer": bool(text),
        "copyright": bool(text),
        "version": bool(text),
        "date": bool(_DATE.fullmatch(text)),
        "skill": text.casefold().rstrip(".") in _SKILLS,
    }[section.id]
    if fits and not getattr(found, section.id):
        setattr(found, section.id, text.casefold().rstrip(".") if section.id == "skill" else text)
    elif text:
        found.add_section(section.headed.text if section.headed else section.id.title(), passages, section.span)


def _read_terms(found: Draft, section: Raw) -> None:
    """The terms used were settled before; anything more that the section says is a note."""
    for passage in entries(section.units):
        if stated_system(Passage(f"Terms: {passage.text}")) is None:
            _add_paragraph(found, passage, found.notes)


def _read_finishing(found: Draft, section: Raw) -> None:
    found.finishing += [found.prose(passage.text) for passage in entries(section.units)]


def _read_care(found: Draft, section: Raw) -> None:
    found.care += [found.prose(passage.text) for passage in entries(section.units)]


def _read_other(found: Draft, section: Raw) -> None:
    found.add_section(section.headed.text if section.headed else "", entries(section.units), section.span)


# Parts


def _read_parts(found: Draft, sections: Sequence[Raw]) -> None:
    taken: set[str] = set()
    empty: list[Remark] = []
    for section in sections:
        if not section.units:
            if section.id == PART and section.headed is not None:
                empty.append(Remark(found.prose(section.headed.text), span=section.headed.whole))
            continue
        name = section.headed if section.headed is not None and section.id != INSTRUCTIONS else None
        read = read_part(section, name if name is not None else found.title or "Instructions", taken, found.context, spiral=found.spiral)
        found.parts.append(replace(read.part, items=(*empty, *read.part.items)))
        empty = []
        found.findings += read.findings
        found.clauses += read.clauses
        found.verbatim_clauses += read.verbatim_clauses
    found.notes += [remark.words for remark in empty]


Reader = Callable[[Draft, Raw], None]
_READERS: dict[str, Reader] = {
    "sizes": _read_sizes,
    "abbreviations": _read_abbreviations,
    "special-stitches": _read_specials,
}
_TEXTS: dict[str, Reader] = {
    TITLE: _read_title,
    "to-fit": _read_to_fit,
    "measurements": _read_measurements,
    "gauge": _read_gauge,
    "notes": _read_notes,
    "summary": lambda found, section: _read_paragraphs(found, section, found.summary),
    "designer": _read_field,
    "copyright": _read_field,
    "version": _read_field,
    "date": _read_field,
    "skill": _read_field,
    "terms": _read_terms,
    "finishing": _read_finishing,
    "care": _read_care,
    "cautions": _read_other,
    OTHER: _read_other,
}
