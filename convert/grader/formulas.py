"""Works out formulas over a size's numbers: whole numbers, the four operations and brackets, nothing else."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

_TOKEN = re.compile(r"\s*(?:(\d{1,9})|([A-Za-z_][A-Za-z_0-9]*)|([-+*/()]))")
_LONGEST = 500
_DEEPEST = 40


class FormulaError(ValueError):
    """A formula that cannot be worked out; the text says why, in words for the author."""


class _Reader(Struct):
    tokens: list[str]
    numbers: Mapping[str, int] | Mapping[str, Fraction]
    at: int = 0
    depth: int = 0

    def peek(self) -> str:
        return self.tokens[self.at] if self.at < len(self.tokens) else ""

    def take(self) -> str:
        token = self.peek()
        self.at += 1
        return token


def names_in(text: str) -> tuple[str, ...]:
    """The names of the numbers that a formula uses.

    >>> names_in("6 * shells + 2")
    ('shells',)
    """
    return tuple(dict.fromkeys(re.findall(r"[A-Za-z_][A-Za-z_0-9]*", text)))


def work_out(text: str, numbers: Mapping[str, int] | Mapping[str, Fraction]) -> Fraction:
    """The exact value of a formula. Raises `FormulaError` for unknown names, division by nothing, and bad writing.

    >>> work_out("6 * (shells + 1) / 2", {"shells": 4})
    Fraction(15, 1)
    """
    if len(text) > _LONGEST:
        raise FormulaError(f"the formula is longer than {_LONGEST} characters")
    reader = _Reader(_tokens(text), numbers)
    value = _sum(reader)
    if reader.peek():
        raise FormulaError(f"“{reader.peek()}” is not expected in the formula")
    return value


def _tokens(text: str) -> list[str]:
    found: list[str] = []
    at = 0
    while at < len(text.rstrip()):
        match = _TOKEN.match(text, at)
        if match is None:
            raise FormulaError(f"“{text[at:].strip()[:1]}” has no meaning in a formula")
        found.append(match.group().strip())
        at = match.end()
    return found


def _sum(reader: _Reader) -> Fraction:
    value = _product(reader)
    while reader.peek() in ("+", "-"):
        value = value + _product(reader) if reader.take() == "+" else value - _product(reader)
    return value


def _product(reader: _Reader) -> Fraction:
    value = _single(reader)
    while reader.peek() in ("*", "/"):
        if reader.take() == "*":
            value *= _single(reader)
            continue
        divisor = _single(reader)
        if divisor == 0:
            raise FormulaError("it divides by 0")
        value /= divisor
    if abs(value) > 10**12:
        raise FormulaError("its value is larger than any pattern needs")
    return value


def _single(reader: _Reader) -> Fraction:
    word = reader.take()
    if word == "-":
        return -_single(reader)
    if word == "(":
        reader.depth += 1
        if reader.depth > _DEEPEST:
            raise FormulaError("its brackets stand too deep")
        value = _sum(reader)
        if reader.take() != ")":
            raise FormulaError("a bracket is not closed")
        reader.depth -= 1
        return value
    if word.isdigit():
        return Fraction(int(word))
    if word in reader.numbers:
        return Fraction(reader.numbers[word])
    if not word:
        raise FormulaError("it ends too early")
    if word[0].isalpha():
        raise FormulaError(f"there is no number called “{word}”")
    raise FormulaError(f"“{word}” is not expected there")
