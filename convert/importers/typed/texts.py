"""The texts of a pattern as typed: title, notes, stitches explained, finishing. Sentences that are data become data."""

from __future__ import annotations

from convert.document.prose import Prose
from convert.importers.typed.conventions import is_spiral, read_convention, sentences
from convert.importers.typed.draft import Draft
from convert.importers.typed.sections import Section
from convert.importers.typed.stitches import define_named, read_abbreviations, read_specials
from convert.importers.typed.words import entries, spaced
from convert.source import Passage
from convert.terms.statement import stated_system


def take_abbreviations(found: Draft, section: Section) -> None:
    """A list of abbreviations: definitions in it become stitches, what the tables know is left to them."""
    explained = read_abbreviations(section.units, found.context)
    found.define(explained.specials)
    found.known_abbreviations += explained.known
    heading = section.headed.text if section.headed else "Abbreviations"
    found.add_section(
        heading,
        [p for p in explained.rest if not _states_terms(p)],
        explained.rest[0].whole if explained.rest else section.span,
    )


def take_specials(found: Draft, section: Section) -> None:
    """The special stitches, with paragraphs among them as notes."""
    read = read_specials(section.units, found.context)
    found.define(read.specials)
    heading = section.headed.text if section.headed else "Special stitches"
    found.add_section(heading, read.known, section.span)
    for passage in read.rest:
        _add_paragraph(found, passage, found.notes)


def take_notes(found: Draft, section: Section) -> None:
    """Notes."""
    take_paragraphs(found, section, found.notes)


def take_paragraphs(found: Draft, section: Section, into: list[Prose]) -> None:
    """Paragraphs into one of the texts."""
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


def take_title(found: Draft, section: Section) -> None:
    """The title; further lines introduce the pattern."""
    lines = list(entries(section.units))
    if lines and not found.title:
        found.title = spaced(lines[0].text)
        found.spans["title"] = lines[0].whole
        lines = lines[1:]
    for passage in lines:
        _add_paragraph(found, passage, found.summary)


def take_terms(found: Draft, section: Section) -> None:
    """The terms used were settled before; anything more that the section says is a note."""
    for passage in entries(section.units):
        if stated_system(Passage(f"Terms: {passage.text}")) is None:
            _add_paragraph(found, passage, found.notes)


def take_finishing(found: Draft, section: Section) -> None:
    """The finishing."""
    found.finishing += [found.prose(passage.text) for passage in entries(section.units)]


def take_care(found: Draft, section: Section) -> None:
    """How the piece is cared for."""
    found.care += [found.prose(passage.text) for passage in entries(section.units)]
