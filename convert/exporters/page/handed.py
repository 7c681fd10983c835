"""Whether left-handed makers need a word of their own."""

from __future__ import annotations

import re
from collections.abc import Iterator

from convert.document.prose import Prose
from convert.document.records import Document, Row
from convert.document.steps import Verbatim
from convert.exporters.page.edition import Edition

_HANDED = re.compile(
    r"\b(left|clockwise|anti-?clockwise|counter-?clockwise|right(?![ -]side\b| way\b| size\b))\b", re.IGNORECASE
)
_LEFT_OVER = re.compile(
    r"\bleft (over|unworked|on|in|out|to|for)\b|\bright (?:before|after|away|up|through|sides?)\b", re.IGNORECASE
)


def left_handed(edition: Edition) -> str:
    """The note where a text of the pattern speaks of a left or a right hand side; empty elsewhere."""
    said = any(_speaks(part) for prose in _texts(edition.document) for part in prose if isinstance(part, str))
    return edition.say("left-handed") if said else ""


def _speaks(text: str) -> bool:
    return bool(_HANDED.search(_LEFT_OVER.sub("", text)))


def _texts(document: Document) -> Iterator[Prose]:
    yield from (*document.notes, *document.finishing)
    for section in document.sections:
        yield from section.paragraphs
    for special in document.specials:
        yield special.words
    for part in document.parts:
        yield (part.name,)
        for item in part.items:
            if isinstance(item, Row):
                yield item.before
                yield from (step.words for step in item.steps if isinstance(step, Verbatim))
            else:
                yield item.words
