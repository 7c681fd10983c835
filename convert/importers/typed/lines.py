"""The physical side of a text as typed: its lines, the marks in them, and blocks of lines between blank ones.

Marks of emphasis (`_italic_`, `=bold=`), bullets and ornamental rules are taken out; every character that stays
knows its line and column.
"""

from __future__ import annotations

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterator

from msgspec import Struct

from convert.importers.tables import columns_of, is_row_of, rows_of_table
from convert.source import Passage, Piece

_ORNAMENT = re.compile(r"\A(?=\S*[-=_*~#+.•·–—]{2})[-=_*~#+.•·–—\s]{3,}\Z|\A\s*(?:[-*•·~#]\s+){2,}[-*•·~#]?\s*\Z")
_EMPHASIS = (
    re.compile(r"(?<![\w=])=(?=[^\s=])([^=]{1,400}?)(?<=[^\s=])=(?![\w=])"),
    re.compile(r"(?<![\w_])_(?=[^\s_])([^_]{1,400}?)(?<=[^\s_])_(?![\w_])"),
)
_BOLD = (
    re.compile(
        r"^\s{0,3}(?:[-•]\s)?(\*\*)(?=[^\s*])[^*\n]{1,80}?(?<=\S)(\*\*)(?=\s*[:–—]|\s*$|(?<=:\*\*))", re.MULTILINE
    ),
    re.compile(r"(?<![\w*])(\*)[(\[][^*\n]{1,120}[)\]](\*)(?=[\s.]*$|\s?:)", re.MULTILINE),
    re.compile(r"^\s{0,3}(\*\*)(?=(?:R|Row|Rnd|Round)s?\s?\d)[^*\n]{2,40}?(\*\*)(?=\s)", re.MULTILINE | re.IGNORECASE),
    re.compile(r"(?<=\s)(\*\*)[(\[<{][^*\n]{1,80}[)\]>}](\*\*)(?=[\s.]*$)", re.MULTILINE),
    re.compile(r"(?<![\w*])(\*\*)(?=[^\s*])[^*\n]{1,40}?(?<=\S)(\*\*)(?=\s?=\s)"),
)
"""Two asterisks around the words in front of a line, around a label or a count, one around a bracket at its end or in
front of a colon: bold and italics as typed.
"""
_CELLS = re.compile(r"[^|\t]{1,40}[|\t]\s*\S")
"""A sign that parts cells."""
_ESCAPED = re.compile(r"\\(?=[*_\[\]()#.!+-])")
"""A stroke that only keeps a mark from being taken for one of emphasis."""
_HEAD = re.compile(r"\A\s{0,3}#{1,6}(?=\s)")
_FRAMED = re.compile(
    r"\A\s*(?P<frame>[-=~_#•·–—+]{2,}|\*{2,}|[~*]{2,}|[«»]{1,2}|>{2,})\s+(?P<text>[^\W_][^-=~_#•*+]{1,58}?)\s+[-=~_#•·–—+*«»<]{2,}\s*\Z"
)
"""A heading between two ornaments: "--- Base ---", "*** BODY ***"."""
_FRAMED_ONCE = re.compile(r"\A\s*(?P<frame>[~•+#])\s+(?P<text>[^\W_][^-=~_#•*+]{1,58}?)\s+(?P=frame)\s*\Z")
"""The same between single ones: "~ Base ~"."""
_PICTURE = re.compile(r"\A\s*([^\w\s]+)(?=\s+\S)|(?<=\s)([^\w\s]+)\s*\Z")
_ARROWS = "\u2190"
"""The first sign that is a picture and no sign of writing, such as that of a copyright."""
_SURE_BULLET = re.compile(r"\A\s*[•▪◦‣●○■□▸►✦✿❀☐✓·]\ufe0f?(?=\s*\S)")
_COUNTER = re.compile(r"\A\s*(?P<number>\d{1,2}[.)])(?=\s)")
_COUNTED_LABEL = re.compile(rf"{_COUNTER.pattern}\s+r(?:(?:ow|nd|ound|d)s?)?\s?\d", re.IGNORECASE)
"""A number that only counts the lines of a list, since a row with a number of its own stands behind it."""
_DASH_BULLET = re.compile(r"\A\s*([-–—*+])(?=\s+\S)")
_NEARLY_FULL = 0.7
_SEVERAL = 3
_WRAP_FROM = 55
"""The shortest line width at which a line break may be one that the width made."""
_EXPLAINS = re.compile(r"\s*\S{1,12}(?:\s\S{1,12})?\s?=\s")
"""How an entry begins that tells what an abbreviation stands for."""


class Line(Struct, frozen=True):
    """Where a line begins in the passage of its block, and how it begins there."""

    offset: int
    bullet: bool
    wrapped: bool
    """The break before this line was made by the width of the page, not by the author."""


class Block(Struct, frozen=True):
    """Lines without a blank line between them, as one passage. `strong` are the offsets where emphasis begins."""

    passage: Passage
    lines: tuple[Line, ...]
    strong: frozenset[int]


def blocks(text: str) -> Iterator[Block]:
    """The blocks of a text."""
    gathered: list[tuple[int, str]] = []
    for number, line in enumerate([*map(str.rstrip, text.split("\n")), ""]):
        if not line or _ORNAMENT.match(line):
            if gathered:
                yield from _blocks_of(gathered)
            gathered = []
        else:
            gathered.append((number, line))


def _blocks_of(lines: list[tuple[int, str]]) -> Iterator[Block]:
    """The block that lines without a blank one between them are; the rows of a table among them by themselves."""
    typed = [(line.lstrip(" "), number, len(line) - len(line.lstrip(" "))) for number, line in lines]
    begun = next((at for at, line in enumerate(typed[:-1]) if _CELLS.search(line[0]) and columns_of(line)), None)
    columns = columns_of(typed[begun]) if begun is not None else None
    if begun is None or columns is None:
        yield _block(lines)
        return
    end = next((at for at in range(begun + 1, len(typed)) if not is_row_of(typed[at], columns)), len(typed))
    if begun:
        yield _block(lines[:begun])
    yield from (
        Block(Passage.joined(list(row)), (Line(0, False, False),), frozenset())
        for row in rows_of_table(typed[begun:end])
    )
    if end < len(lines):
        yield from _blocks_of(lines[end:])


def _block(lines: list[tuple[int, str]]) -> Block:
    texts = [line for _, line in lines]
    marks, strong = _marks(texts)
    bullets = _bullets(texts)
    counters = _counters(texts)
    wrapped = _wrapped(texts)
    builder = _Builder()
    starts: list[Line] = []
    for index, (number, line) in enumerate(lines):
        bullet = set() if wrapped[index] and line[0].isspace() else bullets[index]  # a plus at a break of the line
        starts.append(Line(builder.begin_line(), bool(bullet), wrapped[index]))
        builder.add_line(number, line, marks[index] | bullet | counters[index], strong[index])
    return Block(builder.passage(), tuple(starts), frozenset(builder.strong))


class _Builder:
    """Puts a passage together character by character, a new piece wherever the file and the passage part ways."""

    def __init__(self) -> None:
        self.text: list[str] = []
        self.pieces: list[Piece] = []
        self.strong: set[int] = set()
        self.length = 0

    def begin_line(self) -> int:
        if self.length:
            self.text.append(" ")
            self.length += 1
        return self.length

    def add_line(self, number: int, line: str, hidden: set[int], strong: set[int]) -> None:
        """Adds the characters of a line that are not hidden, without the white space in front."""
        first = next((i for i, char in enumerate(line) if i not in hidden and not char.isspace()), len(line))
        start = first
        if strong & set(range(first + 1)):
            self.strong.add(self.length)
        for end in (*sorted(i for i in hidden if i >= first), len(line)):
            if end > start:
                self.pieces.append(Piece(self.length, number, start))
                self.text.append(line[start:end])
                self.length += end - start
            if end in strong:
                self.strong.add(self.length)
            start = end + 1

    def passage(self) -> Passage:
        return Passage("".join(self.text), tuple(self.pieces) or (Piece(0, 0, 0),))


def _marks(lines: list[str]) -> tuple[list[set[int]], list[set[int]]]:
    """For each line the columns of marks of emphasis, and of those that open one. Emphasis may run over lines."""
    hidden: list[set[int]] = [set() for _ in lines]
    opening: list[set[int]] = [set() for _ in lines]
    whole = "\n".join(lines)
    offsets = [0]
    for line in lines:
        offsets.append(offsets[-1] + len(line) + 1)

    def mark(at: int, into: list[set[int]]) -> None:
        row = bisect_right(offsets, at) - 1
        into[row].add(at - offsets[row])

    if "=" in whole or "_" in whole:
        for pattern in _EMPHASIS:
            for match in pattern.finditer(whole):
                mark(match.start(), hidden)
                mark(match.start(), opening)
                mark(match.end() - 1, hidden)
    for first, last in _bold(whole):
        mark(first.start, opening)
        for at in (*first, *last):
            mark(at, hidden)
    for index, line in enumerate(lines):
        head = _HEAD.match(line)
        framed = _FRAMED.match(line) or _FRAMED_ONCE.match(line)
        if head:
            hidden[index] |= set(range(head.end()))
            opening[index].add(head.end() - 1)
        elif framed:
            hidden[index] |= {*range(framed.start("text")), *range(framed.end("text"), len(line))}
            opening[index].add(framed.start("text") - 1)
        hidden[index] |= _beside(line)
    return hidden, opening


def _beside(line: str) -> set[int]:
    """The columns of what adorns a line, and of strokes that keep a mark from being one of emphasis."""
    strokes = {match.start() for match in _ESCAPED.finditer(line)} if "\\" in line else set()
    return strokes if line.isascii() else strokes | _pictures(line)


def _pictures(line: str) -> set[int]:
    """The columns of pictures at either end of a line, which adorn it: "🌿 LEAVES 🌿"."""
    found: set[int] = set()
    for match in _PICTURE.finditer(line):
        start, end = match.span(1 if match[1] else 2)
        pictured = any(char >= _ARROWS and unicodedata.category(char) == "So" for char in line[start:end])
        if pictured and not _SURE_BULLET.match(line[start:]):
            found |= {column for column in range(start, end) if line[column] not in "()[]"}
    return found


def _bold(whole: str) -> Iterator[tuple[range, range]]:
    """Where the asterisks of bold and of italics stand, the opening and the closing ones."""
    if "*" in whole:
        for pattern in _BOLD:
            for match in pattern.finditer(whole):
                yield range(*match.span(1)), range(*match.span(2))


def _counters(lines: list[str]) -> list[set[int]]:
    """For each line the columns of a number that only counts the lines, where rows have numbers of their own."""
    if not any(map(_COUNTED_LABEL.match, lines)):
        return [set() for _ in lines]
    found = (_COUNTER.match(line) for line in lines)
    return [set(range(*match.span("number"))) if match else set() for match in found]


def _bullets(lines: list[str]) -> list[set[int]]:
    """For each line the column of its bullet, if it has one.

    An asterisk that a repeat refers to is none: there are more asterisks than lines that begin with one. A dash is a
    bullet where several lines begin with one, or the block does, or below a line that ends with a colon.
    """
    asterisks = sum(line.count("*") for line in lines)
    starred = sum(line.lstrip().startswith("* ") for line in lines)
    found: list[set[int]] = []
    dashed = sum(match is not None and match.group(1) != "*" for match in map(_DASH_BULLET.match, lines)) > 1
    for index, line in enumerate(lines):
        sure, dash = _SURE_BULLET.match(line), _DASH_BULLET.match(line)
        columns: set[int] = set()
        if sure:
            columns |= set(range(len(line) - len(line.lstrip()), sure.end()))
        elif dash and dash.group(1) == "*":
            columns |= {dash.end() - 1} if asterisks == starred else set()
        elif dash:
            dashed = dashed or index == 0 or lines[index - 1].endswith(":")
            columns |= {dash.end() - 1} if dashed else set()
        found.append(columns)
    return found


def _wrapped(lines: list[str]) -> list[bool]:
    """For each line whether the width of the page broke the text before it.

    It did if the beginning of the line would not have fitted on the line before, and the block shows elsewhere that it
    was broken so: lines begin in the middle of a sentence, or most breaks of several are of that kind. Two words are
    taken for one, since "ch 5" and "4 times" are often kept together; where most breaks are of that kind, any line that
    is nearly full counts. A line that begins an entry of a list ("dc3tog = ...", where several lines do) is none. Lines
    that are set in, each below one that is nearly full, go on with it, and no others do.
    """
    width = max(map(len, lines))
    breaks = len(lines) - 1
    hanging = [index > 0 and line[0].isspace() for index, line in enumerate(lines)]
    if (
        any(hanging)
        and not lines[0][0].isspace()
        and all(len(lines[index - 1]) >= _NEARLY_FULL * width for index, hangs in enumerate(hanging) if hangs)
    ):
        return hanging
    if width < _WRAP_FROM:
        return [False] * len(lines)
    beginnings = [" ".join(line.split(maxsplit=2)[:2]) for line in lines]
    full = [False, *(len(a) + 1 + len(b) > width for a, b in zip(lines, beginnings[1:], strict=False))]
    most = 3 * sum(full) >= 2 * breaks
    if not any(line.lstrip()[:1].islower() for line in lines[1:]) and not (most and breaks >= _SEVERAL):
        return [False] * len(lines)
    explains = [_EXPLAINS.match(line) is not None for line in lines]
    listed = sum(explains) > 1
    return [
        (full[i] or (most and i > 0 and len(lines[i - 1]) >= _NEARLY_FULL * width)) and not (listed and explains[i])
        for i in range(len(lines))
    ]
