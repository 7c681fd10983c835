"""The blocks of a Markdown text: headings, paragraphs, list items, quotations, each with its place in the file."""

from __future__ import annotations

import re
from collections.abc import Sequence
from enum import StrEnum
from functools import cache
from typing import Any

from msgspec import Struct, field

from convert.importers.tables import rows_of_table
from convert.source import Passage

_FRONT = re.compile(r"---[ \t]*\r?\n(?P<data>.*?)^(?:---|\.\.\.)[ \t]*\r?$\n?", re.DOTALL | re.MULTILINE)
_NUMBERED = re.compile(r"[0-9]{1,9}[.)][ \t]+\Z")
_BROKEN = re.compile(r"(?<!\\)((?:\\\\)*)\\\Z")

Lines = tuple[tuple[str, int, int], ...]
"""The lines of a paragraph: text, line and column in the file."""


class BlockKind(StrEnum):
    """What a block is."""

    HEADING = "heading"
    PARAGRAPH = "paragraph"
    ITEM = "item"
    QUOTE = "quote"


class Block(Struct):
    """A block and its paragraphs as typed. `number` is an ordered item's own number with its mark."""

    kind: BlockKind
    level: int = 0
    paragraphs: list[Lines] = field(default_factory=list)
    number: tuple[str, int, int] | None = None

    def raw(self) -> tuple[Passage, ...]:
        """Each paragraph with its lines joined by spaces."""
        return tuple(Passage.joined(list(lines)) for lines in self.paragraphs)


def front_matter(text: str) -> tuple[str, str, int]:
    """The data at the head of a text, the rest, and the line on which the rest begins.

    >>> front_matter("---\\ntitle: Hat\\n---\\n# Hat\\n")
    ('title: Hat\\n', '# Hat\\n', 3)
    >>> front_matter("# Hat\\n")
    ('', '# Hat\\n', 0)
    """
    found = _FRONT.match(text)
    if found is None:
        return "", text, 0
    return found["data"], text[found.end() :], text.count("\n", 0, found.end())


def blocks(text: str, first_line: int) -> list[Block]:
    """The blocks of a text that begins on this line of its file."""
    return _Reading(text.split("\n"), first_line).blocks(_parser().parse(text))


@cache
def _parser() -> Any:
    from markdown_it import MarkdownIt  # noqa: PLC0415 - only this form needs it

    parser = MarkdownIt("js-default", {"html": False, "linkify": False, "typographer": False})
    # Reference definitions would swallow lines, and what stands inside a line is read by ourselves.
    return parser.disable(
        ["reference", "image", "link", "autolink", "emphasis", "strikethrough", "backticks", "entity"]
    )


class _Reading:
    def __init__(self, lines: Sequence[str], first_line: int) -> None:
        self.lines = lines
        self.first_line = first_line
        self.found: list[Block] = []
        self._inside: list[Block] = []

    def blocks(self, tokens: Sequence[Any]) -> list[Block]:
        for index, token in enumerate(tokens):
            kind = token.type
            if kind == "heading_open":
                block = Block(BlockKind.HEADING, int(token.tag[1:]))
                block.paragraphs.append(self._content(tokens[index + 1]))
                self.found.append(block)
            elif kind in ("list_item_open", "blockquote_open"):
                self._inside.append(self._new(BlockKind.ITEM if kind == "list_item_open" else BlockKind.QUOTE))
            elif kind in ("list_item_close", "blockquote_close"):
                self._inside.pop()
            elif kind == "paragraph_open":
                self._paragraph(self._content(tokens[index + 1]))
            elif kind == "table_open" and not self._inside and (rows := rows_of_table(self._typed(token))):
                for row in rows:
                    self._paragraph(row)
            elif kind in ("fence", "code_block", "table_open"):
                for typed in self._typed(token):
                    self._paragraph((typed,))
        return [block for block in self.found if block.paragraphs]

    def _new(self, kind: BlockKind) -> Block:
        block = Block(kind)
        self.found.append(block)
        return block

    def _paragraph(self, lines: Lines) -> None:
        block = self._inside[-1] if self._inside else self._new(BlockKind.PARAGRAPH)
        if block.kind is BlockKind.ITEM and not block.paragraphs and lines:
            block.number = self._number(lines[0])
        block.paragraphs.append(lines)

    def _number(self, first: tuple[str, int, int]) -> tuple[str, int, int] | None:
        _, line, column = first
        found = _NUMBERED.search(self.lines[line - self.first_line][:column])
        return (found.group().rstrip(), line, found.start()) if found else None

    def _content(self, token: Any) -> Lines:
        """The lines of a token, found again at the end of the file's own lines, whatever marks stand before them."""
        start = token.map[0]
        return tuple(self._line(start + index, content) for index, content in enumerate(token.content.split("\n")))

    def _line(self, number: int, content: str) -> tuple[str, int, int]:
        content = _BROKEN.sub(r"\1", content.strip()).rstrip()
        column = self.lines[number].rfind(content) if number < len(self.lines) else 0
        return content, self.first_line + number, max(0, column)

    def _typed(self, token: Any) -> list[tuple[str, int, int]]:
        """Code and tables: every line for itself, as it was typed."""
        return [
            (line.strip(), self.first_line + number, len(line) - len(line.lstrip()))
            for number in range(*token.map)
            if (line := self.lines[number]).strip() and not line.strip().startswith(("```", "~~~"))
        ]
