"""Every running text of a pattern, as its author worded it."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.prose import Prose
from convert.document.records import Document, Remark, Row
from convert.source import NOWHERE, Span
from convert.terms.naming import write_prose


def texts(document: Document) -> Iterator[tuple[str, Span]]:
    """Texts with their place, as near as it is known."""
    for prose, span in _prose(document):
        yield write_prose(prose, document.written, document.specials), span
    for size in document.sizes:
        yield size.to_fit, size.span
    for yarn in document.materials.yarns:
        yield from ((yarn.name, yarn.span), (yarn.fibre, yarn.span), (yarn.colour, yarn.span))


def _prose(document: Document) -> Iterator[tuple[Prose, Span]]:
    for texts_ in (document.summary, document.notes, document.finishing, document.care, document.materials.notions):
        yield from ((prose, NOWHERE) for prose in texts_)
    yield from ((prose, NOWHERE) for prose in (*document.errata, *document.credits))
    for section in document.sections:
        yield from ((prose, section.span) for prose in section.paragraphs)
    if document.gauge is not None:
        yield document.gauge.words, document.gauge.span
    yield from ((yarn.note, yarn.span) for yarn in document.materials.yarns)
    yield from ((hook.use, hook.span) for hook in document.materials.hooks)
    yield from ((special.words, special.span) for special in document.specials)
    for part in document.parts:
        for item in part.items:
            if isinstance(item, Remark):
                yield item.words, item.span
            elif isinstance(item, Row):
                yield item.before, item.span
