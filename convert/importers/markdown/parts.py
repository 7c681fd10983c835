"""The parts of a Markdown text: list items and labelled paragraphs are rows, quotations and other texts remarks."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.document.extra import Extra
from convert.document.located import Located
from convert.document.records import Part, Remark, Row
from convert.document.resolving import with_all_sizes
from convert.importers.author import Author
from convert.importers.making import split_make
from convert.importers.markdown.blocks import Block, BlockKind
from convert.importers.markdown.sections import Chapter, begins_row, rows_apart
from convert.importers.markdown.text import plain_words
from convert.importers.measures import words
from convert.importers.short_labels import in_rounds, with_rounds
from convert.importers.typed.for_sizes import ForSizes
from convert.importers.yaml.form import part_without_rows, shaped_row
from convert.instructions.reader import read_steps, row_label_length
from convert.instructions.rows.foundations import name_length
from convert.source import Passage

_STRESS = r"(?:\\.|[^*\\])+"
_FOR_SIZES = re.compile(rf"\*Sizes (?P<sizes>{_STRESS}):\*\s*")
_IN_FRONT = re.compile(rf"(?:\*Sizes (?P<sizes>{_STRESS}):\*\s*)?(?:\*(?!\*)(?P<before>{_STRESS})\*)?\Z")
"""What may stand in front of a row in a paragraph of its own: its sizes, and a remark."""


class Typed(Struct, frozen=True):
    """One entry of a part before it is read: a row (perhaps with a remark in front of it) or a remark.

    `words` are in plain words, `raw` as typed.
    """

    words: Passage
    raw: Passage
    kind: BlockKind
    before: str = ""
    sizes: str = ""
    label: bool = False


def row_passages(chapter: Chapter) -> Iterator[Passage]:
    """The lines of instructions under a heading."""
    for typed in _typed(chapter):
        if typed.kind is not BlockKind.QUOTE:
            yield typed.words


def parts_of(found: Sequence[Chapter], data: Located, author: Author) -> tuple[Part, ...]:
    """Every part, with what the data at the head say of it."""
    known = data.get("parts") or Located(())
    left = list(known.items)
    taken = {words(part.get("id")) for part in known.items if part.get("id") is not None}
    parts: list[Part] = []
    for chapter in found:
        part = _part(chapter, _entry(chapter.heading.text, left), taken, author)
        parts.append(replace(part, items=with_rounds(part.items, part.worked, before=any(map(in_rounds, parts)))))
    return tuple(parts)


def _entry(heading: str, left: list[Located]) -> Located | None:
    """The data of the part with this heading, each once, in the order of the text."""
    for wanted in (heading, split_make(heading)[0]):
        for entry in left:
            if words(entry.get("name")).casefold() == wanted.casefold():
                left.remove(entry)
                return entry
    return None


def _part(chapter: Chapter, entry: Located | None, taken: set[str], author: Author) -> Part:
    heading = chapter.heading
    if entry is None:
        name, make = split_make(heading.text)
        entry = Located({"name": Located(name, heading.whole)}, heading.whole)
        part = replace(part_without_rows(entry, taken), make=make or 1)
    else:
        part = part_without_rows(entry, taken)
    items = _items(chapter, author)
    shapes = (entry.get("shapes") or Located({})).mapping.items()
    for key, shape in sorted(shapes, key=lambda entry: int(entry[0])):
        items.insert(max(0, int(key) - 1), shaped_row(shape, author))
    given = entry.get("extras") or Located({})
    for key, extra in given.mapping.items():
        _add_extra(items, int(key) - 1, tuple(Extra(name, text) for name, text in extra.extras()), extra, author)
    return replace(part, items=tuple(items))


def _items(chapter: Chapter, author: Author) -> list[Row | Remark]:
    """The rows and remarks of a part; a line that only names sizes ("Size L only:") says whose the rows below are."""
    sized = ForSizes(author.context)
    ids = [id for id, _ in author.context.sizes]
    items: list[Row | Remark] = []
    for typed in _typed(chapter):
        if typed.kind is BlockKind.PARAGRAPH and not typed.label and sized.takes(typed.words.text):
            continue
        item = _item(typed, author)
        items.append(with_all_sizes(sized.applied(item), ids) if isinstance(item, Row) else item)
    return items


def _add_extra(items: list[Row | Remark], index: int, extra: tuple[Extra, ...], data: Located, author: Author) -> None:
    row = items[index] if 0 <= index < len(items) else None
    if isinstance(row, Row):
        items[index] = replace(row, extra=extra)
    else:
        author.error(
            "value-not-allowed", f"There is no row at place {index + 1} of this part.", data.span, found=str(index + 1)
        )


def _typed(chapter: Chapter) -> Iterator[Typed]:
    for block in chapter.blocks:
        if block.kind is BlockKind.QUOTE:
            yield from (Typed(plain_words(raw), raw, BlockKind.QUOTE) for raw in block.raw())
        elif block.kind is BlockKind.ITEM and len(block.paragraphs) > 1 and _IN_FRONT.match(block.raw()[0].text):
            yield from _row_with_remark(block)
        else:
            yield from _rows(block)


def _row_with_remark(block: Block) -> Iterator[Typed]:
    first, row, *rest = block.raw()
    front = _IN_FRONT.match(first.text)
    before, sizes = (front["before"], front["sizes"]) if front is not None else ("", "")
    yield Typed(_row_words(row, block), row, BlockKind.ITEM, _plain(before), _plain(sizes))
    yield from (Typed(plain_words(raw), raw, BlockKind.PARAGRAPH) for raw in rest)


def _plain(typed: str | None) -> str:
    return plain_words(Passage(typed)).text if typed else ""


def _rows(block: Block) -> Iterator[Typed]:
    for number, lines in enumerate(block.paragraphs):
        kind = block.kind if number == 0 else BlockKind.PARAGRAPH
        for group in rows_apart(lines):
            raw = Passage.joined(list(group))
            row = _row_words(raw, block) if kind is BlockKind.ITEM else plain_words(raw)
            yield Typed(row, raw, kind, label=begins_row(group[0]))
            kind = BlockKind.PARAGRAPH


def _row_words(raw: Passage, block: Block) -> Passage:
    """The words of an item; the number of an ordered item stays where it may be the number of a row."""
    row = plain_words(raw)
    if block.number is None or row_label_length(row.text):
        return row
    number, line, column = block.number
    return Passage(f"{number} {row.text}", (Passage.at(number, line, column).pieces[0], *_moved(row, len(number) + 1)))


def _moved(passage: Passage, by: int) -> tuple[Any, ...]:
    return tuple(piece._replace(offset=piece.offset + by) for piece in passage.pieces)


def _item(typed: Typed, author: Author) -> Row | Remark:
    if typed.kind is BlockKind.QUOTE:
        return _remark(typed.raw, author)
    if typed.kind is BlockKind.PARAGRAPH and not typed.label and not _reads_as_steps(typed.words, author):
        return _remark(typed.raw, author)
    row = author.row(typed.words.cut(0), _sizes(typed.sizes, author))
    before = author.prose(typed.before) if typed.before else row.before
    return replace(row, before=before)


def _reads_as_steps(passage: Passage, author: Author) -> bool:
    """Whether a paragraph without a label is instructions: every clause of it is understood."""
    passage = passage.cut(name_length(passage.text))
    read = read_steps(passage, author.context)
    return read.clauses > 0 and read.verbatim_clauses == 0 and bool(read.row.steps)


def _remark(raw: Passage, author: Author) -> Remark:
    sized = _FOR_SIZES.match(raw.text)
    sizes = _sizes(_plain(sized["sizes"]), author) if sized else ()
    inner = raw.cut(sized.end()) if sized and sizes else raw
    return Remark(author.prose(plain_words(inner, prose=True).text), sizes, raw.whole)


def _sizes(said: str, author: Author) -> tuple[str, ...]:
    """Ids of the sizes named; empty if one of them is none, since then the words mean something else."""
    known = {name.casefold(): id for id, called in author.context.sizes for name in (called, id)}
    wanted = [name.strip().casefold() for name in said.split(",")]
    return tuple(known[name] for name in wanted) if all(name in known for name in wanted) else ()
