"""What every text has to pass before it is read: its size, its lines, and that it is a text at all."""

from __future__ import annotations

import re

from convert.errors import LimitExceeded, UnreadableInput
from convert.limits import LIMITS
from convert.source import Source, Span

_NO_TEXT = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff\ufffe\uffff]")


_PAGE_BREAK = re.compile("[\x0b\x0c]")
"""What programs put between the pages when they make a text of printed ones."""


def admit(source: Source, *, lines: bool = True, pages: bool = False) -> str:
    """The text of a source without a byte order mark.

    Raises `LimitExceeded` where the text or one of its lines is too long, `UnreadableInput` where it holds characters
    that no text has (a binary file, half a surrogate pair). Without `lines`, a line may be of any length. With `pages`,
    breaks between pages are white space.
    """
    text = source.text.removeprefix("\ufeff")
    text = _PAGE_BREAK.sub(" ", text) if pages else text
    wrong = _NO_TEXT.search(text)
    if wrong:
        span = position(text, wrong.start())
        shown = f"U+{ord(wrong.group()):04X}"
        raise UnreadableInput(
            f"this is no plain text: it holds the character {shown}", span, "Save the pattern as UTF-8 text."
        )
    if len(text) > LIMITS.bytes or len(text.encode("utf-8")) > LIMITS.bytes:
        raise LimitExceeded(f"the file is larger than {LIMITS.bytes:,} bytes")
    for number, line in enumerate(text.split("\n") if lines else ()):
        if len(line) > LIMITS.line:
            raise LimitExceeded(
                f"line {number + 1} is longer than {LIMITS.line:,} characters",
                Span(number, LIMITS.line, number, len(line)),
            )
    return text


def position(text: str, offset: int) -> Span:
    """The place of one character, by its offset."""
    line = text.count("\n", 0, offset)
    column = offset - (text.rfind("\n", 0, offset) + 1)
    return Span(line, column, line, column + 1)
