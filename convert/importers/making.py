"""How many of a piece are made, as its heading says: "EARS (make 2)", "Wing x 2", "Make four of these"."""

from __future__ import annotations

import re
from functools import cache

from convert.document.numbers import Number, PerSize
from convert.importers.typed.words import spaced
from convert.trade.patterns import chain, either, number_words, signs

_END = ":.… –—-"


def says_make(heading: str) -> bool:
    """Whether a heading says how many are made.

    >>> says_make("Make two"), says_make("Wings x 2"), says_make("Make up"), says_make("Make 21 [25: 29] ch")
    (True, True, False, False)
    """
    return _patterns()[0].search(heading) is not None


def named(heading: str) -> tuple[str, Number]:
    """A part's name and how many of it are made.

    >>> named("EARS (make 2)"), named("Body:"), named("Ears (make 2, with A)")
    (('EARS', 2), ('Body', 1), ('Ears (with A)', 2))
    """
    match = _patterns()[0].search(heading)
    number = _number(match) if match else None
    if match is None or number is None:
        return spaced(heading).rstrip(_END) or spaced(heading), 1
    rest = f"{heading[: match.start()]} {_unpaired(match.group())}{heading[match.end() :]}"
    rest = _BESIDE_BRACKET.sub(r"\1\2", rest)
    return spaced(rest).rstrip(_END + ",") or spaced(heading), number


_BESIDE_BRACKET = re.compile(r"([(\[])\s*[-–—,;:]\s*|\s*[-–—,;:]?\s*([)\]])")


def _unpaired(words: str) -> str:
    """The bracket that words open and do not close, or close and did not open: more stands in it."""
    opened, closed = (any(char in words for char in pair) for pair in ("([", ")]"))
    return "" if opened == closed else "(" if opened else ")"


def split_make(heading: str) -> tuple[str, int | None]:
    """A heading of Markdown, in its one form, without the "make 2" at its end, and the number.

    >>> split_make("Ear (make 2)"), split_make("Body")
    (('Ear', 2), ('Body', None))
    """
    found = _patterns()[1].search(heading)
    if found is None or found.start() == 0:
        return heading, None
    return heading[: found.start()].strip(), int(found["number"])


def _number(match: re.Match[str]) -> Number | None:
    text = match["n"] or match["x"] or match["y"] or match["z"]
    value = int(text) if text.isdigit() else number_words().get(text.casefold())
    if value is None or value < 1:
        return None
    if not match["more"]:
        return value
    return PerSize((value, *(int(number) for number in re.findall(r"\d+", match["more"]))))


@cache
def _patterns() -> tuple[re.Pattern[str], re.Pattern[str]]:
    """The forms that people type, and the one that the writer of Markdown puts behind a part's name."""
    make, cross = signs("make"), signs("cross")
    number = rf"(?:\d{{1,4}}|{either(number_words())})\b"
    chained = rf"(?!(?:\s?[(\[][\d,;:/\s–-]{{1,80}}[)\]])?[\s-]?{chain()}\b)"  # the foundation, and no pieces
    typed = (
        rf"\s*[(\[]?\s?[-–—,:]?\s?\b{make}\s+\(?(?P<n>{number}){chained}(?:\s?[(\[](?P<more>[\d,;:\s]+)[)\]])?"
        rf"(?:\s{signs('alike')})?\s?[)\]]?"
        rf"|(?<![\d\s])\s*[(\[]?\s?\b{cross}\s?(?P<x>\d{{1,4}})\s?[)\]]?|\s*[(\[]\s?(?P<y>\d{{1,4}})\s?{cross}\s?[)\]]"
        rf"|\A(?P<z>\d{{1,4}})\s?{cross}\s(?=[^\W\d_])"
    )
    written = r"\s*[,(–—-]?\s*\bmake\s+(?P<number>[0-9]{1,4})\)?\s*\Z"
    return re.compile(typed, re.IGNORECASE), re.compile(written, re.IGNORECASE)
