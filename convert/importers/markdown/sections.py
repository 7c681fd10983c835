"""Which section of a pattern each block of a Markdown text belongs to."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from convert.importers.making import split_make
from convert.importers.markdown.blocks import Block, BlockKind, Lines
from convert.importers.markdown.text import plain_words
from convert.importers.typed.signs import begins_with_chain
from convert.instructions.reader import row_label_length
from convert.instructions.rows.foundations import name_length
from convert.source import Passage
from convert.trade.headings import section_of
from convert.trade.patterns import chain, said, signs

PART = "part"
OTHER = "other"
TEXTS = ("summary", "notes", "special-stitches", "finishing", "care")
"""The sections that a Markdown text may hold beside parts; what else the table of headings has stands in the data."""


class Chapter(Struct):
    """A heading with the blocks under it. `id` is a section of the table, `PART` or `OTHER`."""

    id: str
    heading: Passage
    blocks: list[Block] = field(default_factory=list)


def chapters(
    blocks: Sequence[Block], parts: Sequence[str], generated: Sequence[str]
) -> tuple[Passage | None, list[Chapter]]:
    """The title and the chapters. What stands before the second heading is the summary.

    `parts` are the names of the parts that the data know, `generated` the headings whose text is made from the data and
    not read.
    """
    title: Passage | None = None
    found = [Chapter("summary", Passage(""))]
    within: int | None = None
    for block in blocks:
        if block.kind is not BlockKind.HEADING:
            found[-1].blocks.append(block)
            continue
        heading = plain_words(block.raw()[0], prose=True).cut(0)
        if block.level == 1 and title is None and len(found) == 1 and not found[0].blocks:
            title = heading
            continue
        inside = within is not None and block.level > within
        id = PART if inside else _section(heading.text, parts)
        if not inside:
            within = block.level if id == "instructions" else None
        found.append(Chapter(id, heading))
    hidden = {name.casefold() for name in generated}
    kept = [chapter for chapter in found if chapter.id == PART or chapter.heading.text.casefold() not in hidden]
    settled = [_settled(chapter) for chapter in kept if chapter.blocks or chapter.id in (PART, OTHER)]
    return title, _with_rows_in_front(settled, title or Passage(""))


def with_title_first(blocks: Sequence[Block], parts: Sequence[str]) -> list[Block]:
    """The blocks with a title at the first level where a text without one begins with a heading of another level.

    The heading of a section or part is no title; nor is one with rows under it, if other headings have rows as well.
    """
    found = list(blocks)
    headings = [index for index, block in enumerate(found) if block.kind is BlockKind.HEADING]
    if headings[:1] != [0] or any(found[index].level == 1 for index in headings):
        return found
    first = plain_words(found[0].raw()[0], prose=True).text
    end = headings[1] if len(headings) > 1 else len(found)
    if section_of(first) is not None or _section(first, parts) == PART:
        return found
    if any(map(_has_row, found[1:end])) and any(map(_has_row, found[end:])):
        return found
    return [replace(found[0], level=1), *found[1:]]


def _with_rows_in_front(found: list[Chapter], title: Passage) -> list[Chapter]:
    """Where no heading has rows under it, those that stand under the title are a part of that name."""
    front = found[0] if found and found[0].id == "summary" and not found[0].heading.text else None
    if front is None or any(chapter.id == PART for chapter in found):
        return found
    at = next((index for index, block in enumerate(front.blocks) if _has_row(block)), None)
    if at is None:
        return found
    while at and _founds(front.blocks[at - 1]):
        at -= 1
    summary = [Chapter(front.id, front.heading, front.blocks[:at])] if at else []
    return [*summary, Chapter(PART, title, front.blocks[at:]), *found[1:]]


def _founds(block: Block) -> bool:
    """Whether a paragraph above the first row is the foundation that it is worked on."""
    text = plain_words(block.raw()[0]).text.lstrip() if block.kind is BlockKind.PARAGRAPH else ""
    begun = _FOUNDED.match(text) is not None or name_length(text) > 0
    return begun and (begins_with_chain(text) or _RING.match(text) is not None)


def _makes_piece(block: Block) -> bool:
    """Whether a paragraph begins a piece with its foundation and works on it."""
    return _founds(block) and bool(_WORKED_ON.search(block.raw()[0].text))


_WORKED_ON = re.compile(rf"\b{said('hook', 'adjustable-ring')}\b", re.IGNORECASE)
_RING = re.compile(
    rf"(?:{said('in')}\s|{signs('begin')}\s)?(?:{said('the')}\s|an?\s)?{said('adjustable-ring')}\b", re.IGNORECASE
)
_FOUNDED = re.compile(
    rf"(?:{signs('begin')}\s)?(?:{said('the')}\s|an?\s)?(?:{chain()}\s?\d|\d{{1,4}}\s?{chain()})\b|{_RING.pattern}",
    re.IGNORECASE,
)


def _section(heading: str, parts: Sequence[str]) -> str:
    id = section_of(heading)
    if id == "instructions":
        return id
    if any(name.casefold() in (heading.casefold(), split_make(heading)[0].casefold()) for name in parts):
        return PART
    return id if id in TEXTS else OTHER


def _settled(chapter: Chapter) -> Chapter:
    """A heading that the table does not know is a part's if there is a row under it; so is "Instructions" itself."""
    if chapter.id in ("instructions", OTHER, PART) and _numbers_rows(chapter.blocks):
        return Chapter(PART, chapter.heading, [_with_label(block) for block in chapter.blocks])
    worked = chapter.id == OTHER and (any(map(_has_row, chapter.blocks)) or any(map(_makes_piece, chapter.blocks[:1])))
    if chapter.id == "instructions" or worked:
        return Chapter(PART, chapter.heading, chapter.blocks)
    return chapter


_COUNTED = re.compile(r"[(\[]=?\s?\d[^()\[\]]{0,80}[)\]][\s.*_]{0,6}\Z")


def _numbers_rows(blocks: Sequence[Block]) -> bool:
    """Whether the numbers of an ordered list are those of rows: they run on from one, no row has a label of its own,
    and most of them end with a stated count.
    """
    items = [block for block in blocks if block.number is not None]
    numbers = [int(block.number[0][:-1]) for block in items if block.number is not None]
    if len(items) < 2 or numbers != list(range(1, len(items) + 1)) or any(map(_has_row, blocks)):
        return False
    return sum(bool(_COUNTED.search(block.raw()[0].text)) for block in items) * 2 > len(items)


def _with_label(block: Block) -> Block:
    if block.number is None:
        return block
    number, line, column = block.number
    return replace(block, number=(f"R{number[:-1]}:", line, column))


def _has_row(block: Block) -> bool:
    return any(begins_row(line) for lines in block.paragraphs for line in lines)


def begins_row(line: tuple[str, int, int]) -> bool:
    """Whether a line begins with the label of a row, or is one to which the line below belongs."""
    text = plain_words(Passage(line[0])).text
    return bool(row_label_length(text)) or (len(text) < _LABEL and row_label_length(f"{text}:") == len(text) + 1)


_LABEL = 30
"""Characters of the longest label on a line by itself."""


def rows_apart(lines: Lines) -> list[Lines]:
    """A paragraph whose lines begin with labels of rows, taken apart before each of them."""
    found: list[list[tuple[str, int, int]]] = []
    for line in lines:
        if not found or begins_row(line):
            found.append([line])
        else:
            found[-1].append(line)
    return [tuple(group) for group in found]
