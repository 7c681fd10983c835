"""Which stitches and words of the trade an edition prints: what its list of abbreviations has to explain."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from convert.document.prose import Form, Prose, Term
from convert.document.records import Document, Row, TermSystem
from convert.instructions.writing.rows import RowText, opening_colour, row_text
from convert.instructions.writing.wording import Wording
from convert.instructions.writing.writer import definition
from convert.trade.words import words

_TOKEN = re.compile(r"[A-Za-z]+")


RowTexts = Mapping[int, RowText]
"""The wording of every row of a document, by the identity of the row."""


def row_texts(document: Document, wording: Wording) -> RowTexts:
    """Every row, worded once for all who need it."""
    return {
        id(row): row_text(row, wording, opening)
        for part in document.parts
        for opening in (opening_colour(part.rows),)
        for row in part.rows
    }


def used_terms(document: Document, wording: Wording, texts: RowTexts) -> tuple[str, ...]:
    """Ids of the stitches and words printed, in the order of their first use; decreases as "sc:2".

    The rows are written out and looked through, so the list holds what the reader meets and nothing else. Words that
    explain themselves (without a meaning in `shared/words.yaml`) are left out; full names too.
    """
    known = _explained(wording.system)
    found: dict[str, None] = {}
    for prose in _printed(document, wording, texts):
        for part in prose:
            if isinstance(part, Term):
                if part.form is Form.ABBREVIATION:
                    found[f"{part.id}:{part.legs}" if part.legs else part.id] = None
            else:
                found.update(dict.fromkeys(known[token] for token in _TOKEN.findall(part) if token in known))
    return tuple(found)


def _explained(system: TermSystem) -> dict[str, str]:
    """Every form in which a word with an explanation is printed, with the word's id."""
    forms: dict[str, str] = {}
    for id, word in words().items():
        if word.meaning(system):
            written = word.written(system)
            for form in {written, written.capitalize() if written.islower() else written, word.plural} - {""}:
                forms[form] = id
    return forms


def _printed(document: Document, wording: Wording, texts: RowTexts) -> Iterator[Prose]:
    """Every text of the edition in which abbreviations may stand."""
    gauge = document.gauge
    if gauge and gauge.stitch:
        yield (Term(gauge.stitch),)
    if gauge and gauge.stitches is not None:
        yield (words()["stitch"].plural,)
    for chain in document.beginning_chains:
        yield (Term("ch"), *((Term(chain.counts.stitch),) if chain.counts.stitch else ()))
    yield from (*document.summary, *document.notes, *document.finishing, *document.care)
    yield from (*document.errata, *document.credits)
    for special in document.specials:
        yield definition(special.steps, wording)
        yield special.words
    for part in document.parts:
        for item in part.items:
            if isinstance(item, Row):
                text = texts[id(item)]
                yield from ((text.label, " ", text.side), item.before, text.body, text.stated)
            else:
                yield item.words
    for section in document.sections:
        yield from section.paragraphs
    for picture in document.pictures:
        yield picture.caption
