"""Where each character of a YAML text value stands in its file, whatever the style it was written in."""

from __future__ import annotations

import re

from convert.source import Passage, Piece

_BREAK = re.compile(r"\r\n|[\n\r]")
_ESCAPED = {"x": 2, "u": 4, "U": 8}


class YamlLines:
    """The lines of a file as YAML counts them, and their place as editors count them.

    YAML also ends a line at a lone carriage return; messages do not.
    """

    def __init__(self, text: str, first_line: int = 0) -> None:
        """`first_line` is the line of the file that the text begins on."""
        self.lines: list[str] = []
        self._places: list[tuple[int, int]] = []
        start, line, column = 0, first_line, 0
        for end in _BREAK.finditer(text):
            self._add(text[start : end.start()], line, column)
            if end.group().endswith("\n"):
                line, column = line + 1, 0
            else:
                column += end.end() - start
            start = end.end()
        self._add(text[start:], line, column)

    def _add(self, content: str, line: int, column: int) -> None:
        self.lines.append(content)
        self._places.append((line, column))

    def place(self, line: int, column: int) -> tuple[int, int]:
        """Line and column in the file of a place that YAML counted."""
        line = min(line, len(self._places) - 1)
        return self._places[line][0], self._places[line][1] + column

    def passage(self, value: str, style: str | None, start: tuple[int, int]) -> Passage:
        """The value of a scalar with the place of every character; `start` is where its quote or block sign stands."""
        line, column = start
        if style in ("|", ">"):
            return self._passage(value, _block_pieces(value, self.lines, line))
        first = column + (1 if style else 0)
        if self.lines[line].startswith(value, first) and (style != '"' or "\\" not in value):
            return Passage.at(value, *self.place(line, first))
        return self._passage(value, _flow_pieces(value, self.lines, line, first, style))

    def _passage(self, value: str, pieces: list[Piece]) -> Passage:
        return Passage(value, tuple(Piece(p.offset, *self.place(p.line, p.column)) for p in pieces))


def _block_pieces(value: str, lines: list[str], header: int) -> list[Piece]:
    """Each line of a block stands in the value as it is, after white space that folding may have put there."""
    pieces: list[Piece] = []
    offset = 0
    for number in range(header + 1, len(lines)):
        content = lines[number].lstrip(" ")
        if not content:
            continue
        found = value.find(content, offset)
        if found < 0 or value[offset:found].strip(" \n"):
            break
        pieces.append(Piece(found, number, len(lines[number]) - len(content)))
        offset = found + len(content)
    return _from_zero(pieces, header)


def _from_zero(pieces: list[Piece], line: int) -> list[Piece]:
    """The first piece also covers the white space before it."""
    if not pieces:
        return [Piece(0, line, 0)]
    offset, number, column = pieces[0]
    return [Piece(0, number, max(0, column - offset)), *pieces[1:]]


def _flow_pieces(value: str, lines: list[str], line: int, column: int, style: str | None) -> list[Piece]:
    """Walks along value and file together; where they part (which no known text does), the last piece goes on."""
    pieces = [Piece(0, line, column)]
    offset = 0
    while offset < len(value):
        rest = lines[line][column:]
        if not rest.strip(" \t") and value[offset] in " \n":
            line, column, blank = _next_content(lines, line)
            offset += max(1, blank)
            pieces.append(Piece(offset, line, column))
        elif style == '"' and rest == "\\":
            line, column, blank = _next_content(lines, line)
            offset += blank
            pieces.append(Piece(offset, line, column))
        elif style == '"' and rest.startswith("\\"):
            column += 2 + _ESCAPED.get(rest[1], 0)
            offset += 1
            pieces.append(Piece(offset, line, column))
        elif style == "'" and rest.startswith("''"):
            column += 2
            offset += 1
            pieces.append(Piece(offset, line, column))
        elif rest[:1] == value[offset]:
            column += 1
            offset += 1
        else:
            break
    return pieces


def _next_content(lines: list[str], line: int) -> tuple[int, int, int]:
    """Line and column of the next character that is no white space, and how many empty lines were passed."""
    blank = 0
    for number in range(line + 1, len(lines)):
        content = lines[number].lstrip(" \t")
        if content:
            return number, len(lines[number]) - len(content), blank
        blank += 1
    return len(lines) - 1, len(lines[-1]), blank
