"""Headings of a Markdown text that are set in bold and not marked as headings: "**BODY**", "**Strap.** Ch 9."."""

from __future__ import annotations

import re
from collections.abc import Sequence

from convert.importers.markdown.blocks import Block, BlockKind, Lines
from convert.importers.markdown.text import plain_words
from convert.importers.typed.order import number_in_front
from convert.importers.typed.signs import begins_with_chain
from convert.instructions.reader import row_label_length
from convert.instructions.rows.foundations import name_length
from convert.source import Passage
from convert.trade.headings import section_of

_BOLD = r"(?P<sign>\*\*\*?|__)(?=[^\s*_])(?P<name>[^*_]{1,80}?)(?P=sign)"
_ALONE = re.compile(rf"{_BOLD}\s?:?\Z")
_IN_FRONT = re.compile(rf"{_BOLD}(?P<stop>\s?[:.–—]?)\s+(?=\S)")
_STOPPED = re.compile(r"[:.–—]\s*\Z")
_WORDS = 7
"""The most words of such a heading."""
_DEEP = 6
"""The level of a heading that stands under any other."""
_SHALLOW = 2
"""That of one which ends the instructions."""


def with_bold_headings(blocks: Sequence[Block]) -> list[Block]:
    """The blocks, with a bold line or the bold words in front of a paragraph as a heading where they head something.

    They do where the table of headings has them, or where a first row or a foundation stands behind them and no heading
    is waiting for it: rows stand under the last one, or it is that of the pattern or of its instructions.
    """
    found: list[Block] = []
    for index, block in enumerate(blocks):
        apart = _apart(block) if block.kind is BlockKind.PARAGRAPH and len(block.paragraphs) == 1 else None
        if apart is None:
            found.append(block)
            continue
        name, rest = apart
        level = _level(name, rest, [*rest, *blocks[index + 1 :]], found)
        found += [Block(BlockKind.HEADING, level, [(name,)]), *rest] if level else [block]
    return found


def _apart(block: Block) -> tuple[tuple[str, int, int], list[Block]] | None:
    """The bold words at the start of a paragraph, and what stands behind them."""
    (text, line, column), *more = block.paragraphs[0]
    alone = _ALONE.match(text)
    match = alone or _IN_FRONT.match(text)
    if match is None or not (alone or _STOPPED.search(match["name"] + match["stop"])):
        return None
    name = match["name"].strip()
    bare = name.rstrip(":. –—")
    if not bare or len(bare.split()) > _WORDS or row_label_length(f"{bare}:") or row_label_length(name):
        return None
    first: Lines = () if alone else ((text[match.end() :], line, column + match.end()),)
    rest = [Block(BlockKind.PARAGRAPH, paragraphs=[(*first, *more)])] if first or more else []
    return (bare, line, column + match.start("name")), rest


def _level(
    name: tuple[str, int, int], rest: Sequence[Block], following: Sequence[Block], before: Sequence[Block]
) -> int:
    """The level of the heading that bold words are; 0 where they are none."""
    if name_length(f"{name[0]}: {_first_line(rest)}"):
        return 0
    first = _first_number(following)
    section = section_of(name[0])
    if section is not None and section != "instructions":
        return _SHALLOW if first is None and _has_level(before) and not (rest and section in _SHORT) else 0
    begun = (bool(rest) and begins_with_chain(_first_line(rest))) or (not rest and first == 1)
    return _DEEP if begun and first in (None, 1) and not _waits(before) else 0


_SHORT = (
    "skill",
    "terms",
    "designer",
    "date",
    "version",
    "copyright",
    "notes",
    "sizes",
    "to-fit",
    "gauge",
    "yarn",
    "hook",
)
"""Sections whose words may stand behind their name in the same line: the lines below belong to no section."""


def _has_level(before: Sequence[Block]) -> bool:
    """Whether a heading stands above: a text without any has its title in bold."""
    return any(block.kind is BlockKind.HEADING for block in before)


def _waits(before: Sequence[Block]) -> bool:
    """Whether the last heading is the name of a part that has no rows yet."""
    headings = [index for index, block in enumerate(before) if block.kind is BlockKind.HEADING]
    if len(headings) < 2:
        return False
    last = headings[-1]
    if section_of(plain_words(before[last].raw()[0], prose=True).text) is not None:
        return False
    return not any(_numbers(block) for block in before[last + 1 :]) and not any(
        begins_with_chain(raw.text) for block in before[last + 1 :] for raw in block.raw()
    )


def _first_line(blocks: Sequence[Block]) -> str:
    return plain_words(Passage(blocks[0].paragraphs[0][0][0])).text if blocks else ""


def _first_number(following: Sequence[Block]) -> int | None:
    """The number of the first row below, up to the next heading."""
    for block in following:
        if block.kind is BlockKind.HEADING:
            return None
        numbers = _numbers(block)
        if numbers:
            return numbers[0]
    return None


def _numbers(block: Block) -> list[int]:
    """The numbers of the rows that lines of a block begin with."""
    lines = [plain_words(Passage(line[0])).text for lines in block.paragraphs for line in lines]
    return [number_in_front(line) for line in lines if row_label_length(line)]
