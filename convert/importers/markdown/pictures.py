"""Pictures in the body of a Markdown text: a paragraph that is nothing but `![what it shows](file "a caption")`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from urllib.parse import unquote

from convert.document.records import Picture
from convert.importers.author import Author
from convert.importers.making import split_make
from convert.importers.markdown.blocks import Block, BlockKind
from convert.importers.markdown.sections import OTHER, PART, Chapter
from convert.importers.markdown.text import plain_words
from convert.source import Passage

_PICTURE = re.compile(
    r"!\[(?P<alt>(?:\\.|[^\\\]]){0,2000})\]\("
    r"(?:<(?P<spaced>[^<>]{1,200})>|(?P<file>[^\s<>()\"]{1,200}))"
    r"(?:\s+\"(?P<caption>(?:\\.|[^\\\"]){0,2000})\")?\s*\)\s*\Z"
)
_OURS = re.compile(r"(?![a-z][a-z0-9+.-]*:|/|\\).*\.(?:jpe?g|png|webp)\Z", re.IGNORECASE)
"""A file beside the pattern. A picture elsewhere stays as it was typed: nothing is ever fetched."""


def pictures_apart(found: Sequence[Chapter], author: Author) -> tuple[list[Chapter], tuple[Picture, ...]]:
    """The chapters without their pictures, and the pictures, each with the part that it stands in."""
    kept: list[Chapter] = []
    pictures: list[Picture] = []
    for chapter in found:
        part = split_make(chapter.heading.text)[0] if chapter.id == PART else ""
        blocks = []
        for block in chapter.blocks:
            picture = _picture(block, part, author)
            if picture is None:
                blocks.append(block)
            else:
                pictures.append(picture)
        if blocks or not chapter.blocks or chapter.id != OTHER:
            kept.append(Chapter(chapter.id, chapter.heading, blocks))
    return kept, tuple(pictures)


def _picture(block: Block, part: str, author: Author) -> Picture | None:
    raw = block.raw()
    match = _PICTURE.match(raw[0].text) if block.kind is BlockKind.PARAGRAPH and len(raw) == 1 else None
    file = unquote(match["spaced"] or match["file"]) if match is not None else ""
    if match is None or not _OURS.match(file):
        return None
    alt, caption = (author.prose(_words(match[group])) for group in ("alt", "caption"))
    return Picture(file, alt, caption, part=part, span=raw[0].whole)


def _words(raw: str | None) -> str:
    return plain_words(Passage(raw or ""), prose=True).text
