"""Where a text came from: a file's text, positions in it, and pieces of it that keep their positions.

Positions count lines and characters from 0 inside the program; `Span.for_people` is the one place where they
become the line 1, column 1 that an editor shows.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import NamedTuple

from msgspec import Struct


class Span(NamedTuple):
    """A stretch of a source text, from its first character up to but not including the character after it."""

    line: int
    column: int
    end_line: int
    end_column: int

    def to(self, other: Span) -> Span:
        """The stretch from the start of this span to the end of `other`.

        >>> Span(0, 2, 0, 4).to(Span(0, 6, 1, 3))
        Span(line=0, column=2, end_line=1, end_column=3)
        """
        return Span(self.line, self.column, other.end_line, other.end_column)

    @property
    def for_people(self) -> tuple[int, int]:
        """Line and column counted from 1.

        >>> Span(13, 7, 13, 9).for_people
        (14, 8)
        """
        return self.line + 1, self.column + 1


NOWHERE = Span(-1, -1, -1, -1)
"""The span of what no file holds: a tree built by the program."""


class Source(Struct, frozen=True):
    """A text and the name it goes by in messages (a file name, or `<stdin>`)."""

    name: str
    text: str

    def line(self, number: int) -> str:
        """The line with this number, counted from 0, without its line end; empty outside the text."""
        lines = self.text.split("\n")
        return lines[number].rstrip("\r") if 0 <= number < len(lines) else ""


class Piece(NamedTuple):
    """Where a stretch of a `Passage` begins: its offset in the passage, and its line and column in the file."""

    offset: int
    line: int
    column: int


class Passage(Struct, frozen=True):
    """A text put together from a file, which knows where each of its characters stands there.

    A row that was typed over three lines becomes one passage with three pieces.

    >>> p = Passage("Sc in next st", (Piece(0, 4, 2), Piece(6, 5, 0)))
    >>> p.span(3, 10)
    Span(line=4, column=5, end_line=5, end_column=4)
    """

    text: str
    pieces: tuple[Piece, ...] = (Piece(0, 0, 0),)

    @classmethod
    def at(cls, text: str, line: int, column: int) -> Passage:
        """A passage that stands on one line of the file."""
        return cls(text, (Piece(0, line, column),))

    @classmethod
    def joined(cls, parts: list[tuple[str, int, int]]) -> Passage:
        """Lines `(text, line, column)` joined by single spaces."""
        pieces: list[Piece] = []
        texts: list[str] = []
        offset = 0
        for text, line, column in parts:
            pieces.append(Piece(offset, line, column))
            texts.append(text)
            offset += len(text) + 1
        return cls(" ".join(texts), tuple(pieces) or (Piece(0, 0, 0),))

    def place(self, offset: int) -> tuple[int, int]:
        """Line and column of the character at this offset."""
        pieces = self.pieces
        piece = pieces[0] if len(pieces) == 1 else pieces[max(0, bisect_right(pieces, (offset, 1 << 60, 0)) - 1)]
        return piece[1], piece[2] + offset - piece[0]

    def span(self, start: int, end: int) -> Span:
        """The stretch of the file that holds the characters from `start` up to `end`."""
        if len(self.pieces) == 1 and end > start:  # most rows stand on one line
            at, line, column = self.pieces[0]
            return Span(line, column + start - at, line, column + end - at)
        line, column = self.place(start)
        end_line, end_column = self.place(end - 1 if end > start else start)
        return Span(line, column, end_line, end_column + (1 if end > start else 0))

    def cut(self, start: int, end: int | None = None) -> Passage:
        """The part from `start` up to `end`, with its white space at both ends left off."""
        stop = len(self.text) if end is None else end
        while start < stop and self.text[start].isspace():
            start += 1
        while stop > start and self.text[stop - 1].isspace():
            stop -= 1
        line, column = self.place(start)
        first, last = bisect_right(self.pieces, (start, 1 << 60, 0)), bisect_left(self.pieces, (stop, -1, -1))
        inner = [Piece(p.offset - start, p.line, p.column) for p in self.pieces[first:last]]
        return Passage(self.text[start:stop], (Piece(0, line, column), *inner))

    @property
    def whole(self) -> Span:
        """The stretch of the file that the whole passage covers."""
        return self.span(0, len(self.text))
