"""What a stretch of Markdown says in plain words, every character with its place in the file.

Pattern language is full of asterisks and brackets that are no markup. So emphasis is not taken from a Markdown reader:
bold pairs are taken off, escapes and entities are resolved, and everything else stays as it was typed.
"""

from __future__ import annotations

import html
import re
from bisect import bisect_left

from convert.source import Passage, Piece

_INNER = r"(?:\\.|[^*\\])"
_SURE = (
    r"\\(?P<escaped>[!-/:-@\[-`{-~])"
    r"|(?P<entity>&(?:[A-Za-z][A-Za-z0-9]{1,31}|#[0-9]{1,7}|#[xX][0-9a-fA-F]{1,6});)"
    r"|`(?P<code>[^`]+)`(?!`)"
    rf"|(?<![\w*\\])\*\*(?=[^\s*])(?P<bold>{_INNER}{{1,400}}?)(?<=[^\s*])\*\*(?![\w*])"
    r"|(?<![\w_\\])(?P<line>__?)(?=[^\s_])(?P<lined>(?:\\.|[^_\\]){1,400}?)(?<=[^\s_])(?P=line)(?![\w_])"
)
_SLANTED = rf"(?<![\w*\\])\*(?=[^\s*])(?P<slanted>{_INNER}{{1,400}}?)(?<=[^\s*])\*(?![\w*])"
_COUNT = r"(?<![\w*\\])\*(?P<count>\((?:[^()*]|\([^()*]{1,60}\)){1,120}\)|\[(?:[^\[\]*]){1,120}\])\*(?=[\s.]{0,4}\Z)"
"""A bracket alone in italics at the end: a stated count set apart, and no repeat."""
_COUNT_WITHIN = r"(?<=[.!:] )\*(?P<within>[(\[]\d(?:[^()\[\]*]|\([^()*]{1,60}\)){1,120}[)\]])\*(?=\s+(?!(?i:rep))[A-Z])"
"""One between two sentences: "… join. *(18 sc)* Fasten off."; behind a repeat would stand how often."""
_MARKS = re.compile(rf"{_SURE}|{_COUNT}|{_COUNT_WITHIN}")
_MARKS_BESIDE_ESCAPED = re.compile(rf"{_SURE}|{_SLANTED}")
"""Where the asterisks of repeats are escaped, those that are not are markup."""
_ESCAPED = "\\*"
_PARAGRAPH = rf"\A\*(?=[^\s*a-z])(?P<paragraph>{_INNER}{{1,600}}?)(?<=[.!?])\*\Z"
"""A paragraph of sentences in italics, of any length."""
_MARKS_IN_PROSE = re.compile(
    rf"{_SURE}|{_PARAGRAPH}|(?<![\w*\\])\*(?=[^\s*])(?P<stress>{_INNER}{{1,60}}?)(?<=[^\s*])\*(?![\w*])"
)
_WORK = re.compile(r"[0-9;,\[\](){}]")
"""Signs of instructions: what stands between two asterisks with one of them is a repeat, not a stressed word."""
_STRESSED_WORDS = 4


def plain_words(raw: Passage, *, prose: bool = False) -> Passage:
    """The text without its markup; in `prose`, a few words between single asterisks are taken for stressed words.

    >>> plain_words(Passage(r"**Rnd 1:** *Sc in next st; rep from \\* around.")).text
    'Rnd 1: *Sc in next st; rep from * around.'
    >>> plain_words(Passage("Do *not* turn."), prose=True).text
    'Do not turn.'
    """
    builder = _Builder(raw)
    marks = _MARKS_IN_PROSE if prose else _MARKS_BESIDE_ESCAPED if _ESCAPED in raw.text else _MARKS
    _walk(builder, 0, len(raw.text), marks)
    return builder.passage()


class _Builder:
    """Puts a passage together out of stretches of another."""

    def __init__(self, raw: Passage) -> None:
        self.raw = raw
        self._texts: list[str] = []
        self._pieces: list[Piece] = []
        self._length = 0

    def keep(self, start: int, end: int) -> None:
        """A stretch as it stands; it may run over several lines."""
        if end > start:
            pieces = self.raw.pieces
            inner = pieces[bisect_left(pieces, (start + 1, -1, -1)) : bisect_left(pieces, (end, -1, -1))]
            self._pieces.append(Piece(self._length, *self.raw.place(start)))
            self._pieces += [Piece(self._length + p.offset - start, p.line, p.column) for p in inner]
            self._add(self.raw.text[start:end])

    def put(self, text: str, start: int) -> None:
        """Another text in the place of what stands at `start`."""
        if text:
            self._pieces.append(Piece(self._length, *self.raw.place(start)))
            self._add(text)

    def _add(self, text: str) -> None:
        self._texts.append(text)
        self._length += len(text)

    def passage(self) -> Passage:
        """The finished passage."""
        return Passage("".join(self._texts), tuple(self._pieces) or (Piece(0, *self.raw.place(0)),))


def _walk(builder: _Builder, start: int, end: int, marks: re.Pattern[str]) -> None:
    text = builder.raw.text
    at = start
    while (match := marks.search(text, at, end)) is not None:
        builder.keep(at, match.start())
        if match.lastgroup == "stress" and not _is_stress(match["stress"]):
            builder.keep(match.start(), match.start() + 1)
            at = match.start() + 1
            continue
        _take(builder, match, marks)
        at = match.end()
    builder.keep(at, end)


def _is_stress(words: str) -> bool:
    return not _WORK.search(words) and len(words.split()) <= _STRESSED_WORDS


def _take(builder: _Builder, match: re.Match[str], marks: re.Pattern[str]) -> None:
    kind = match.lastgroup or ""
    if kind == "escaped":
        builder.keep(match.start(kind), match.end(kind))
    elif kind == "entity":
        builder.put(html.unescape(match.group()), match.start())
    elif kind == "code":
        builder.keep(match.start(kind), match.end(kind))
    else:
        _walk(builder, match.start(kind), match.end(kind), marks)
