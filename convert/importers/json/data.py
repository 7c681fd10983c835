"""Strict loading of JSON with limits and with the place of every value."""

from __future__ import annotations

import json
import re
from bisect import bisect_right
from decimal import Decimal
from json.decoder import scanstring  # type: ignore[attr-defined]  # the C scanner of the standard library, not in its stubs

from msgspec import Struct, field

from convert.document.json_text import number_text
from convert.document.located import Located
from convert.errors import LimitExceeded
from convert.findings import Finding, Severity
from convert.limits import LIMITS
from convert.source import Passage, Span

_SPACE = re.compile(r"[ \t\n\r]*")
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?")
_NAMED = re.compile(r"true|false|null")
_VALUES = {"true": True, "false": False, "null": None}
_SURROGATE = re.compile("[\x00\ud800-\udfff]")
_DIGITS = 18
"""Digits before the point, and after it, that a number may have."""


class _Fault(Exception):
    def __init__(self, message: str, offset: int) -> None:
        super().__init__(message)
        self.offset = offset


def load_json(text: str) -> tuple[Located | None, tuple[Finding, ...]]:
    """The data of a JSON text and what is wrong with it; no data if it cannot be read. Raises `LimitExceeded`."""
    reading = _Reading(text)
    try:
        data = reading.document()
    except _Fault as fault:
        span = reading.span(fault.offset, fault.offset + 1)
        return None, (*reading.findings, Finding("json-syntax", Severity.ERROR, str(fault), span))
    return data, tuple(reading.findings)


class _Reading(Struct):
    text: str
    findings: list[Finding] = field(default_factory=list)
    nodes: int = 0
    starts: list[int] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.starts = [0, *(found.end() for found in re.finditer("\n", self.text))]

    def document(self) -> Located:
        data, end = self.value(self.skip(0), 1)
        if self.skip(end) < len(self.text):
            raise _Fault("something follows after the end of the JSON value", self.skip(end))
        return data

    def span(self, start: int, end: int) -> Span:
        return Span(*self._place(start), *self._place(end))

    def _place(self, offset: int) -> tuple[int, int]:
        line = bisect_right(self.starts, offset) - 1
        return line, offset - self.starts[line]

    def skip(self, at: int) -> int:
        found = _SPACE.match(self.text, at)
        return found.end() if found else at

    def value(self, at: int, depth: int) -> tuple[Located, int]:
        self.nodes += 1
        if depth > LIMITS.depth:
            raise LimitExceeded(f"values are nested more than {LIMITS.depth} deep", self.span(at, at + 1))
        if self.nodes > LIMITS.nodes:
            raise LimitExceeded(f"the file holds more than {LIMITS.nodes:,} values", self.span(at, at + 1))
        sign = self.text[at : at + 1]
        if sign == '"':
            return self._string(at)
        if sign == "{":
            return self._object(at, depth)
        if sign == "[":
            return self._list(at, depth)
        return self._scalar(at)

    def _string(self, at: int) -> tuple[Located, int]:
        try:
            value, end = scanstring(self.text, at + 1, True)
        except json.JSONDecodeError as error:
            raise _Fault(
                "a text in quotes is not closed, or holds a sign that JSON does not allow", error.pos
            ) from None
        if _SURROGATE.search(value):
            raise _Fault("a text holds half a surrogate pair or a null character", at)
        line, column = self._place(at + 1)
        return Located(value, self.span(at, end), passage=Passage.at(value, line, column)), end

    def _scalar(self, at: int) -> tuple[Located, int]:
        named = _NAMED.match(self.text, at)
        if named:
            word = named.group()
            return Located(_VALUES[word], self.span(at, named.end()), text=word), named.end()
        number = _NUMBER.match(self.text, at)
        if not number:
            found = self.text[at : at + 1]
            raise _Fault(
                f"expected a value, found {found!r}" if found else "the text ends where a value should stand", at
            )
        return self._number(number, at), number.end()

    def _number(self, number: re.Match[str], at: int) -> Located:
        exponent = number[2] or ""
        value = Decimal(number.group()) if len(number.group()) <= 3 * _DIGITS and len(exponent) <= 5 else Decimal("NaN")
        exact = value.as_tuple().exponent
        if value.is_nan() or value.adjusted() > _DIGITS or not isinstance(exact, int) or -exact > _DIGITS:
            raise _Fault("a number is larger or finer than any that a pattern needs", at)
        whole = value == value.to_integral_value()
        text = number_text(value) if exponent else number.group()
        return Located(int(value) if whole else value, self.span(at, number.end()), text=text)

    def _list(self, start: int, depth: int) -> tuple[Located, int]:
        items: list[Located] = []
        at = self.skip(start + 1)
        while self.text[at : at + 1] != "]" or items:
            item, at = self.value(at, depth + 1)
            items.append(item)
            at = self.skip(at)
            if self.text[at : at + 1] == "]":
                break
            at = self._comma(at, "]")
        return Located(tuple(items), self.span(start, at + 1)), at + 1

    def _object(self, start: int, depth: int) -> tuple[Located, int]:
        entries: dict[str, Located] = {}
        keys: dict[str, Span] = {}
        at = self.skip(start + 1)
        while self.text[at : at + 1] != "}" or entries:
            at = self._entry(at, depth, entries, keys)
            if self.text[at : at + 1] == "}":
                break
            at = self._comma(at, "}")
        return Located(entries, self.span(start, at + 1), keys=keys), at + 1

    def _entry(self, at: int, depth: int, entries: dict[str, Located], keys: dict[str, Span]) -> int:
        if self.text[at : at + 1] != '"':
            raise _Fault("expected a key in quotes", at)
        key, after = self._string(at)
        colon = self.skip(after)
        if self.text[colon : colon + 1] != ":":
            raise _Fault("expected a colon after the key", colon)
        value, end = self.value(self.skip(colon + 1), depth + 1)
        if key.words in entries:
            message = f"the key {key.words!r} stands twice; it first stands in line {keys[key.words].for_people[0]}"
            self.findings.append(
                Finding("duplicate-key", Severity.ERROR, message, key.span, related=(keys[key.words],))
            )
        else:
            entries[key.words], keys[key.words] = value, key.span
        return self.skip(end)

    def _comma(self, at: int, closing: str) -> int:
        if self.text[at : at + 1] != ",":
            raise _Fault(f"expected a comma or {closing}", at)
        return self.skip(at + 1)
