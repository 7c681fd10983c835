"""A piece that seems to call for a caution which the pattern does not carry."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.document.prose import Prose
from convert.document.records import Document
from convert.findings import Finding, Severity
from convert.source import NOWHERE
from convert.terms.naming import write_prose
from convert.trade.cautions import table_of_cautions

CHECK = Check(
    "caution-unsaid",
    Severity.NOTE,
    "the piece seems to call for a caution that the pattern does not carry",
    """
Toys, baby blankets, pot holders and some clothes for children can hurt if they are made or used without care. The words of the title, the
summary, the materials and the parts' names are held against `shared/cautions.yaml`. What your own notes already warn of is not asked for. The
note is a reminder: you know what the piece is, and which rules hold where you sell it.
""",
    """
format: "1"
title: Bramble the Toy Hedgehog
terms: us
parts: [{name: Body, rows: ["Rnd 1: 6 sc in adjustable ring. (6 sc)"]}]
""",
    """
format: "1"
title: Bramble the Toy Hedgehog
terms: us
cautions: [small-parts]
parts: [{name: Body, rows: ["Rnd 1: 6 sc in adjustable ring. (6 sc)"]}]
""",
    "yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """One note for each caution that is called for and neither named nor said in the author's own words."""
    document = facts.document
    about, said = _about(document), _said(document)
    for caution in table_of_cautions().values():
        words = caution.called(about)
        if not words or caution.id in document.cautions or caution.said_by.search(said):
            continue
        named = " and ".join(f"“{word}”" for word in words)
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"The pattern speaks of {named} and carries no caution {caution.id}.",
            document.spans.get("title", NOWHERE),
            hint=f"Name it (cautions: [{caution.id}]), or warn of it in a section of your own headed Safety.",
        )


def _about(document: Document) -> str:
    """What tells which kind of piece it is."""
    parts = [part.name for part in document.parts]
    return _written(document, (*document.summary, *document.materials.notions), document.title, *parts)


def _said(document: Document) -> str:
    """Where an author warns."""
    sections = [paragraph for section in document.sections for paragraph in section.paragraphs]
    return _written(document, (*document.summary, *document.notes, *document.finishing, *document.care, *sections))


def _written(document: Document, paragraphs: tuple[Prose, ...], *words: str) -> str:
    texts = [write_prose(paragraph, document.written, document.specials) for paragraph in paragraphs]
    return "\n".join((*words, *texts))
