"""Reads a pattern in Markdown: data at its head, headings for parts, list items or paragraphs for rows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from msgspec.structs import replace

from convert.document.located import Located
from convert.document.prose import Prose
from convert.document.read import Read, ReadOptions
from convert.document.records import Document, Section
from convert.document.sizing import Size
from convert.errors import LimitExceeded
from convert.findings import Finding, Severity
from convert.importers.author import Author
from convert.importers.blocks import document_fields
from convert.importers.entrance import admit
from convert.importers.identities import find_same_names
from convert.importers.markdown.blocks import Block, blocks, front_matter
from convert.importers.markdown.bold import with_bold_headings
from convert.importers.markdown.parts import parts_of, row_passages
from convert.importers.markdown.pictures import pictures_apart
from convert.importers.markdown.said import is_ours, of_a_page, said_conventions, with_said, with_terms_in_small
from convert.importers.markdown.sections import OTHER, PART, Chapter, chapters, with_title_first
from convert.importers.markdown.specials import specials_of, with_definitions_apart
from convert.importers.markdown.supplies import supplies_apart, with_supplies
from convert.importers.markdown.text import plain_words
from convert.importers.measures import words
from convert.importers.opening import open_author
from convert.importers.typed.conventions import with_said_in_rows
from convert.importers.validation import sound_part
from convert.importers.yaml.data import load_yaml
from convert.limits import LIMITS
from convert.source import Passage, Source, Span

_LINES = 4 * LIMITS.rows
"""Lines of one text: the rows that a pattern may have, and room between and around them."""


def read_markdown(source: Source, options: ReadOptions) -> Read:
    """The document in a Markdown text. Data of the wrong shape are reported and left out; the rest is read.

    Raises `LimitExceeded` and `UnreadableInput`.
    """
    head, body, first_line = front_matter(admit(source, pages=True))
    if body.count("\n") > _LINES:
        raise LimitExceeded(f"the text has more than {_LINES:,} lines", hint="Make each part a pattern of its own.")
    loaded, findings = load_yaml(head, 1) if head.strip() else (Located({}), ())
    data, wrong = sound_part(with_terms_in_small(loaded or Located({})), "authored")
    typed = blocks(body, first_line)
    if data.get("parts") is None:
        typed = with_bold_headings(typed)
    if data.get("title") is None:
        typed = with_title_first(typed, _names(data, "parts"))
    titled, found = chapters(typed, _names(data, "parts"), _texts(data, "generated"))
    wrong = wrong if is_ours(data) else of_a_page(wrong)
    data = with_said(_with_title(data, titled), titled, found)
    lacking = _lacking(data, found)
    if lacking and not data.mapping:
        return Read(source, None, (*findings, *wrong, *lacking))
    found = with_definitions_apart(found)
    specials, texts = specials_of(_of(found, "special-stitches"))
    author, sizes = open_author(data, [p for c in _of(found, PART) for p in row_passages(c)], options, specials)
    found, pictures = pictures_apart(found, author)
    found, supplies = supplies_apart(data, found, author)
    document = with_supplies(_document(data, found, author, sizes, source.name), supplies)
    if not document.beginning_chains:
        document = replace(document, beginning_chains=said_conventions(found, document.written))
        document = with_said_in_rows(document)
    document = replace(document, pictures=(*document.pictures, *pictures))
    document = replace(document, notes=(*document.notes, *(author.prose(text.text) for text in texts)))
    findings += wrong + lacking + tuple(author.findings) + find_same_names(document)
    return Read(source, document, findings, author.clauses, author.verbatim_clauses)


def _names(data: Located, key: str) -> list[str]:
    found = data.get(key)
    return [words(item.get("name")) for item in found.items] if found is not None else []


def _texts(data: Located, key: str) -> list[str]:
    found = data.get(key)
    return [words(item) for item in found.items] if found is not None else []


def _with_title(data: Located, title: Passage | None) -> Located:
    if title is None or data.get("title") is not None:
        return data
    return Located(
        {"title": Located(title.text, title.whole, passage=title), **data.mapping}, data.span, keys=data.keys
    )


def _lacking(data: Located, found: Sequence[Chapter]) -> tuple[Finding, ...]:
    place = Span(0, 0, 0, 1)
    title = Finding(
        "missing-key",
        Severity.ERROR,
        "A pattern needs a title.",
        place,
        expected="title",
        hint="Write it as the first heading: `# Title`.",
    )
    rows = Finding(
        "no-rows",
        Severity.ERROR,
        "There are no rows in this text.",
        place,
        expected="a row",
        hint='A part is a heading with rows under it, such as "- Rnd 1: …".',
    )
    return (*((title,) if data.get("title") is None else ()), *(() if _of(found, PART) else (rows,)))


def _of(found: Sequence[Chapter], id: str) -> list[Chapter]:
    return [chapter for chapter in found if chapter.id == id]


def _document(data: Located, found: Sequence[Chapter], author: Author, sizes: tuple[Size, ...], name: str) -> Document:
    fields: dict[str, Any] = document_fields(data, author, name)
    for key in ("summary", "notes", "finishing", "care"):
        fields[key] = (*fields[key], *(p for chapter in _of(found, key) for p in _paragraphs(chapter, author)))
    others = tuple(
        Section(chapter.heading.text, _paragraphs(chapter, author), chapter.heading.whole)
        for chapter in _of(found, OTHER)
    )
    fields["sections"] = (*fields["sections"], *others)
    parts = parts_of(_of(found, PART), data, author)
    fields["specials"] = author.specials  # rows may explain further ones
    return Document(**fields, sizes=sizes, parts=parts)


def _paragraphs(chapter: Chapter, author: Author) -> tuple[Prose, ...]:
    return tuple(author.prose(text) for block in chapter.blocks for text in _block_texts(block))


def _block_texts(block: Block) -> list[str]:
    """The paragraphs of a block; the number of an ordered item stays in front of its text."""
    texts = [plain_words(raw, prose=True).text for raw in block.raw()]
    if block.number is not None and texts:
        texts[0] = f"{block.number[0]} {texts[0]}"
    return texts
