"""What a Markdown text says of yarn, hooks and gauge under headings of its own, where the data at its head do not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from convert.document.located import Located
from convert.document.materials import Materials
from convert.document.records import Document
from convert.document.sizing import Gauge
from convert.importers.author import Author
from convert.importers.markdown.blocks import Block
from convert.importers.markdown.sections import OTHER, Chapter
from convert.importers.markdown.text import plain_words
from convert.importers.typed.gauge import read_gauge
from convert.importers.typed.materials import read_materials
from convert.importers.yarn_keys import yarn_keys
from convert.source import Passage
from convert.trade.headings import section_of

_MATERIALS = ("materials", "yarn", "hook", "notions")
_KEYS = ("yarn", "hooks", "notions")


class Supplies(Struct, frozen=True):
    """What the chapters tell; None where none does, or the data do already."""

    materials: Materials | None = None
    gauge: Gauge | None = None


def supplies_apart(data: Located, found: Sequence[Chapter], author: Author) -> tuple[list[Chapter], Supplies]:
    """The other chapters, and what those of materials and gauge tell. The author learns what rows call the yarns by."""
    listed = [chapter for chapter in found if _is(chapter, _MATERIALS) and not any(map(data.get, _KEYS))]
    gauges = [chapter for chapter in found if _is(chapter, ("gauge",)) and data.get("gauge") is None][:1]
    if not listed and not gauges:
        return list(found), Supplies()
    items = [(section_of(chapter.heading.text) or "", item) for chapter in listed for item in _items(chapter)]
    materials = read_materials(items, author.system)
    told = (key for id, passage in items if id != "hook" for key in yarn_keys(passage.text))
    called = (name for yarn in materials.yarns for name in (yarn.key, yarn.colour, yarn.name) if name)
    colours = tuple(dict.fromkeys((*author.context.colours, *called, *told)))
    author.context = replace(author.context, colours=colours)
    rest = [chapter for chapter in found if not any(chapter is taken for taken in (*listed, *gauges))]
    return rest, Supplies(materials if listed else None, _gauge(gauges[0], author) if gauges else None)


def with_supplies(document: Document, supplies: Supplies) -> Document:
    """The document with what the text told."""
    if supplies.materials is not None:
        document = replace(document, materials=supplies.materials)
    return document if supplies.gauge is None else replace(document, gauge=supplies.gauge)


def _is(chapter: Chapter, ids: Sequence[str]) -> bool:
    """Whether a chapter stands under such a heading, and is a list or sentences: a table has columns of its own."""
    told = chapter.id == OTHER and section_of(chapter.heading.text) in ids and bool(chapter.blocks)
    return told and not any(text.startswith("|") for block in chapter.blocks for text in _texts(block))


def _texts(block: Block) -> list[str]:
    return [raw.text.lstrip() for raw in block.raw()]


def _items(chapter: Chapter) -> Iterator[Passage]:
    for block in chapter.blocks:
        for raw in block.raw():
            passage = plain_words(raw, prose=True)
            if passage.text.strip():
                yield passage


def _gauge(chapter: Chapter, author: Author) -> Gauge:
    """The gauge in its words, if any of them is left over."""
    items = list(_items(chapter))
    gauge = read_gauge(Passage("; ".join(item.text.rstrip("; ") for item in items)), author.system)
    if gauge.words:
        gauge = replace(read_gauge(items[0], author.system), words=author.prose(" ".join(item.text for item in items)))
    return replace(gauge, span=items[0].whole.to(items[-1].whole))
