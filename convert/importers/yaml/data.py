"""Safe loading of YAML: a small, predictable part of it, with limits, and with the place of every value.

Only `true`, `false`, `null`, whole numbers and decimals are anything but text. Keys that stand twice, aliases and tags
are reported, never resolved.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from decimal import Decimal
from typing import Any

import yaml
from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.located import Located
from convert.errors import LimitExceeded
from convert.findings import Finding, Severity
from convert.importers.yaml.faults import fault_finding
from convert.importers.yaml.lines import YamlLines
from convert.limits import LIMITS
from convert.source import Span

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NUMBER = re.compile(r"-?(?:0|[1-9][0-9]{0,17})(\.[0-9]{1,18})?\Z")
_QUOTES = "A text that begins with * has to stand in quotes."
_NAMED = {"true": True, "false": False, "null": None, "~": None, "": None}


def load_yaml(text: str, first_line: int = 0) -> tuple[Located | None, tuple[Finding, ...]]:
    """The data of a YAML text and what is wrong with it; no data where the text cannot be read at all.

    `first_line` is the line of the file that the text begins on. Raises `LimitExceeded`.
    """
    held = _held_back(text)
    text = text.translate(held)
    reading = _Reading(YamlLines(text, first_line), {ord(sign): chr(code) for code, sign in held.items()})
    try:
        data = reading.document(yaml.parse(text, Loader=_Loader))
    except yaml.YAMLError as error:
        return None, (*reading.findings, *reading.fault(error))
    return data, tuple(reading.findings)


def _held_back(text: str) -> dict[int, str]:
    """Signs to stand in for the characters that only YAML takes for line ends, so that they stay inside their texts.

    Word processors leave such characters behind. The signs are of the private use area, and none that the text has.
    """
    found = [ord(rare) for rare in "\x85\u2028\u2029" if rare in text]
    free = (chr(code) for code in range(0xF8F0, 0xE000, -1) if chr(code) not in text) if found else iter(())
    return dict(zip(found, free, strict=False))


def plain_value(text: str) -> bool | int | Decimal | str | None:
    """What a text without quotes means.

    >>> plain_value("12"), plain_value("2.50"), plain_value("012"), plain_value("no"), plain_value("1:30")
    (12, Decimal('2.50'), '012', 'no', '1:30')
    """
    number = _NUMBER.match(text)
    if number:
        value = Decimal(text)
        return int(value) if number[1] is None or value == value.to_integral_value() else value
    return _NAMED.get(text, text)


class _Reading(Struct):
    """One pass over the events of the parser."""

    lines: YamlLines
    held: dict[int, str]
    findings: list[Finding] = field(default_factory=list)
    nodes: int = 0

    def document(self, events: Iterator[Any]) -> Located | None:
        data: Located | None = None
        for event in events:
            if isinstance(event, yaml.DocumentStartEvent):
                if data is not None:
                    self._report(
                        "yaml-syntax", "a second document begins here; a pattern file holds one", self._span(event)
                    )
                    break
            elif not isinstance(event, yaml.StreamStartEvent | yaml.StreamEndEvent | yaml.DocumentEndEvent):
                data = self._node(event, events, 1)
        return data

    def _node(self, event: Any, events: Iterator[Any], depth: int) -> Located:
        self.nodes += 1
        if depth > LIMITS.depth:
            raise LimitExceeded(f"values are nested more than {LIMITS.depth} deep", self._span(event))
        if self.nodes > LIMITS.nodes:
            raise LimitExceeded(f"the file holds more than {LIMITS.nodes:,} values", self._span(event))
        if isinstance(event, yaml.AliasEvent):
            self._report(
                "yaml-alias",
                f"*{event.anchor} is taken for an alias of YAML, which is not read",
                self._span(event),
                _QUOTES,
            )
            return Located("", self._span(event))
        if event.tag is not None:
            self._report(
                "yaml-tag",
                f"the tag {event.tag} is not read",
                self._span(event),
                "Leave the tag out; quotes make a text.",
            )
        if isinstance(event, yaml.ScalarEvent):
            return self._scalar(event)
        return (
            self._list(event, events, depth)
            if isinstance(event, yaml.SequenceStartEvent)
            else self._mapping(event, events, depth)
        )

    def _scalar(self, event: Any) -> Located:
        passage = self.lines.passage(event.value, event.style, (event.start_mark.line, event.start_mark.column))
        value = event.value.translate(self.held) if self.held else event.value
        passage = replace(passage, text=value)
        if event.style is None or event.style == "":
            typed = plain_value(value)
            if not isinstance(typed, str):
                return Located(typed, self._span(event), text=value, passage=passage)
        return Located(value, passage.whole if value else self._span(event), passage=passage)

    def _list(self, start: Any, events: Iterator[Any], depth: int) -> Located:
        items: list[Located] = []
        for event in events:
            if isinstance(event, yaml.SequenceEndEvent):
                return Located(tuple(items), self._span(start, event))
            items.append(self._node(event, events, depth + 1))
        raise AssertionError("the parser ends every list that it begins")

    def _mapping(self, start: Any, events: Iterator[Any], depth: int) -> Located:
        entries: dict[str, Located] = {}
        keys: dict[str, Span] = {}
        for event in events:
            if isinstance(event, yaml.MappingEndEvent):
                return Located(entries, self._span(start, event), keys=keys)
            key = self._node(event, events, depth + 1)
            value = self._node(next(events), events, depth + 1)
            if key.items or key.mapping or not isinstance(event, yaml.ScalarEvent):
                self._report("wrong-type", "a key must be a text", key.span)
            elif key.words in entries:
                self._twice(key, keys[key.words])
            else:
                entries[key.words], keys[key.words] = value, key.span
        raise AssertionError("the parser ends every mapping that it begins")

    def _twice(self, key: Located, first: Span) -> None:
        line = first.for_people[0]
        message = f"the key {key.words!r} stands twice; it first stands in line {line}"
        self.findings.append(
            Finding("duplicate-key", Severity.ERROR, message, key.span, hint="Keep one of the two.", related=(first,))
        )

    def fault(self, error: yaml.YAMLError) -> tuple[Finding, ...]:
        """The fault that stopped the parser, unless it follows from one that was reported on the same line."""
        finding = fault_finding(error, self.lines)
        known = any(f.code == "yaml-alias" and f.span.line == finding.span.line for f in self.findings)
        return () if known else (finding,)

    def _report(self, code: str, message: str, span: Span, hint: str = "") -> None:
        self.findings.append(Finding(code, Severity.ERROR, message, span, hint=hint))

    def _span(self, event: Any, last: Any = None) -> Span:
        start, end = event.start_mark, (last or event).end_mark
        return Span(*self.lines.place(start.line, start.column), *self.lines.place(end.line, end.column))
