"""Cuts a line of pattern language into tokens: words, numbers, ordinals and punctuation, each with its place."""

from __future__ import annotations

import re
import unicodedata

from msgspec import Struct


class Token(Struct, frozen=True, gc=False):
    """One token.

    `text` is in small letters with typographic variants evened out; `glued` if no blank stands before it.
    """

    kind: str
    """word, num, ord, tog, formula or mark"""
    text: str
    start: int
    end: int
    glued: bool


# "12st" are twelve stitches, since the ordinal would be 12th, and so is whatever stands alone in brackets: "(21st)".
_TOKEN = re.compile(
    r"(?P<tog>[A-Za-z]{2,8}\d{1,2}tog\b)"
    r"|(?P<num>(?<=[(\[])\d{1,6}(?=(?:st|ST)[)\]])|\d{0,5}(?:11|[02-9])(?=(?:st|ST)(?![A-Za-z])))"
    r"|(?P<ord>\d{1,6}(?:st|nd|rd|th|d|ST|ND|RD|TH)(?![A-Za-z]))"
    r"|(?P<figure>\d+)"
    r"|(?P<word>[^\W\d_]+(?:['’][^\W\d_]{1,2}(?![^\W\d_]))?)"
    r"|(?P<mark>\*+|\.{2,}|[^\s\w]|_)"
)
_EVEN = str.maketrans(
    {
        "’": "'",
        "‘": "'",
        "“": '"',
        "”": '"',
        "–": "–",
        "—": "–",
        "―": "–",
        "−": "-",
        "‐": "-",
        "‑": "-",
        "×": "x",
        "✕": "x",
        "✖": "x",
        "…": ".",
        "!": ".",
        "⁎": "*",
        "∗": "*",
        "＊": "*",
        "†": "+",
        "·": "•",
    }
)


_ALIKE = str.maketrans("асеорхуіѕһԁАВСЕНКМОРТХЅІ", "aceopxyishdabcehkmoptxsi")
"""Cyrillic letters that look like Latin ones: a word typed with them looks right and is read as what it looks
like.
"""


def evened(raw: str) -> str:
    """A word in small letters with ligatures, typographic variants and look-alike letters evened out.

    >>> evened("ﬁrst"), evened("Ѕс")
    ('first', 'sc')
    """
    return unicodedata.normalize("NFKC", raw.translate(_EVEN).translate(_ALIKE)).lower()


_LOOK_ALIKE = re.compile(f"[{''.join(map(chr, _ALIKE))}]")


def has_look_alikes(text: str) -> bool:
    """Whether letters of another alphabet stand in the text that look like Latin ones."""
    return _LOOK_ALIKE.search(text) is not None


def tokens(text: str) -> list[Token]:
    """The tokens of a line, in order; white space separates and is not kept.

    >>> [t.text for t in tokens("3ch-sp, Dc2tog x6")]
    ['3', 'ch', '-', 'sp', ',', 'dc2tog', 'x', '6']
    """
    found: list[Token] = []
    before = 0
    plain = text.lower().replace("!", ".") if text.isascii() else ""  # nothing to even out, as in most rows
    for match in _TOKEN.finditer(text):
        start, end = match.span()
        kind = match.lastgroup or "mark"
        kind = "num" if kind == "figure" else kind
        word = plain[start:end] if plain else evened(match.group())
        if word == "x" and kind == "mark":
            kind = "word"
        if word[-2:] == "'s":
            word = word[:-2]
        found.append(Token(kind, word, start, end, start == before and start > 0))
        before = end
    return found
