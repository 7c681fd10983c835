"""Bytes to text: which encoding a pattern was saved in, and what kind of pattern a nameless text is."""

from __future__ import annotations

import codecs
import re

from convert.errors import UnreadableInput
from convert.findings import Finding, Severity
from convert.source import Source, Span

_MARKS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
"""Byte order marks; UTF-32 stands before UTF-16, whose mark it begins with."""

_OTHER_FILES = (
    (b"%PDF", "a PDF"),
    (b"PK\x03\x04", "a word processor's or other packed file"),
    (b"\xd0\xcf\x11\xe0", "an old word processor's file"),
    (b"{\\rtf", "a rich text file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
)
_SAVE_AS = "Save the pattern as plain text in UTF-8 and try again."


def decode(name: str, data: bytes, kind: str) -> tuple[Source, tuple[Finding, ...]]:
    """The text of a file, with a warning if its encoding had to be guessed.

    UTF-8 is expected; a byte order mark decides for UTF-16 and UTF-32. Anything else is taken for Windows-1252, the
    usual encoding of older text files, and reported, since a wrong guess shows in fractions, quotes and accents.
    Raises `UnreadableInput` for what is no text.
    """
    for start, what in _OTHER_FILES:
        if data.startswith(start):
            raise UnreadableInput(f"This is {what}, not a text.", hint=_SAVE_AS)
    text, guessed = _text(data.rstrip(b"\x1a"), kind)  # old systems end a text file with Ctrl-Z
    text = re.sub(r"\r(?!\n)", "\n", text)
    return Source(name, text), (_guess_finding(text),) if guessed else ()


def _text(data: bytes, kind: str) -> tuple[str, bool]:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return _strict(data[len(mark) :], encoding), False
    try:
        return data.decode("utf-8"), False
    except UnicodeDecodeError as error:
        if kind == "json":
            line = data.count(b"\n", 0, error.start)
            raise UnreadableInput("JSON is UTF-8, and this is not.", Span(line, 0, line, 1), _SAVE_AS) from error
        if b"\x00" in data:
            raise UnreadableInput("This is no text file.", hint=_SAVE_AS) from error
        return _strict(data, "cp1252"), True


def _strict(data: bytes, encoding: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        known = "neither UTF-8 nor Windows-1252" if encoding == "cp1252" else f"not sound {encoding[:6].upper()}"
        raise UnreadableInput(f"The text is {known}.", hint=_SAVE_AS) from error


def _position(text: str, offset: int) -> tuple[int, int]:
    return text.count("\n", 0, offset), offset - (text.rfind("\n", 0, offset) + 1)


def _guess_finding(text: str) -> Finding:
    odd = re.search(r"[^\x00-\x7f]", text)
    line, column = _position(text, odd.start() if odd else 0)
    return Finding(
        "encoding-guessed",
        Severity.WARNING,
        "The file is not UTF-8; it was read as Windows-1252.",
        Span(line, column, line, column + 1),
        hint="Look at the characters that are not plain letters. If they are right, save the file as UTF-8.",
    )


_YAML_START = re.compile(r"\s*(?:#[^\n]*\n\s*)*(?:format|title|terms|summary|designer)\s*:")


def guess_kind(text: str) -> str:
    """What kind of pattern a text without a file name is, by how it begins.

    >>> guess_kind('{"format": "1"}'), guess_kind("---\\ntitle: Hat"), guess_kind("title: Hat")
    ('json', 'markdown', 'yaml')
    >>> guess_kind("Rnd 1: 6 sc in ring.")
    'text'
    """
    start = text.lstrip()
    if start.startswith("{"):
        return "json"
    if start.startswith(("---\n", "---\r\n", "# ")):
        return "markdown"
    return "yaml" if _YAML_START.match(text) else "text"
