"""How wide text stands on a terminal, and how to show a line safely there."""

from __future__ import annotations

import unicodedata
from bisect import bisect_left
from itertools import accumulate

_TAB = 4
_UNSEEN = {"\u200b", "\u2028", "\u2029", "\u2060", "\ufeff"}
_JOINER = "\u200d"


def shown(character: str) -> str:
    """The character as a terminal may safely show it: what would steer the terminal or hide is written as an escape.

    >>> shown("\\x1b"), shown("\\u202e"), shown("é"), shown("\\t")
    ('\\\\x1b', '\\\\u202e', 'é', '    ')
    """
    if character == "\t":
        return " " * _TAB
    kind = unicodedata.category(character)
    hidden = kind in {"Cc", "Cs"} or (kind == "Cf" and character not in {_JOINER, "\u00ad"}) or character in _UNSEEN
    if not hidden:
        return character
    code = ord(character)
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}" if code < 0x10000 else f"\\U{code:08x}"


def safe(text: str) -> str:
    """A text of one or more lines with every character as `shown`; line ends stay."""
    if text.isascii() and text.isprintable():
        return text
    return "\n".join("".join(map(shown, line)) for line in text.split("\n"))


def width(text: str) -> int:
    """Columns that the text takes: two for wide letters, none for marks that stand on another letter.

    >>> width("sc"), width("編み"), width("e\\u0301")
    (2, 4, 1)
    """
    if text.isascii():
        return len(text)
    return sum(map(_width, text))


def _width(character: str) -> int:
    if character in {_JOINER, "\u00ad"} or unicodedata.combining(character):
        return 0
    if unicodedata.category(character) in {"Mn", "Me"}:
        return 0
    return 2 if unicodedata.east_asian_width(character) in {"W", "F"} else 1


class Line:
    """A line of a source as it is shown: each of its characters has a column to stand in."""

    __slots__ = ("_columns", "_shown", "text")

    def __init__(self, text: str) -> None:
        self.text = text
        self._shown = [shown(character) for character in text]
        self._columns = [0, *accumulate(map(width, self._shown))]

    def column(self, offset: int) -> int:
        """The display column at which the character with this offset begins."""
        return self._columns[max(0, min(offset, len(self.text)))]

    def window(self, around: int, room: int) -> tuple[int, int]:
        """The offsets of a stretch that fits into `room` columns and holds the character at `around`."""
        if self._columns[-1] <= room:
            return 0, len(self.text)
        start = bisect_left(self._columns, self.column(around) - room // 4)
        end = bisect_left(self._columns, self._columns[start] + room)
        return start, min(end, len(self.text))

    def cut(self, start: int, end: int) -> str:
        """The shown text from one offset to another."""
        return "".join(self._shown[start:end])
