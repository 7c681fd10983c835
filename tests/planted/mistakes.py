"""Plants one mistake at a time in the rows of a correct pattern, as an author would make it: in the text."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from itertools import pairwise

from msgspec import Struct

from convert.document.records import Row
from convert.source import NOWHERE

_STITCHES = (
    r"\b(?:sc|dc|hdc|tr|htr|inc|dec|invdec|sc2tog|dc2tog|FP\w+|BP\w+|V-st|shells?|ch(?= ?\d)|sk|skip|miss|sl st|ss)\b"
)
_WORKING = re.compile(_STITCHES, re.IGNORECASE)
_CLAUSE = re.compile(r"[^,;*\[\]().{}]+(?:\([^()]*\)[^,;*\[\]().{}]*)?")
_ASIDE = re.compile(r"\s*(?:join|rep|turn|fasten|to |counts|does not|skipped|with)", re.IGNORECASE)
_PER_SIZE = re.compile(r"\b\d+ \(\d+(?:, \d+)+\)")
_TIMES = re.compile(r"(?<=x )\d+|\b\d+(?= times)")
_SPACE = re.compile(r"(?<=ch-)\d+(?= sp)")
_CHAIN = re.compile(r"(?<=\bch )\d+\b(?! \()|(?<![\w-])\d+(?= ch\b)(?! ch-)", re.IGNORECASE)
_NUMBER = re.compile(r"(?<![\w(,{*+-])(?<!\bch )(?<!\bCh )(?<!x )(?<!, )\b\d+\b(?! times| ch\b|-| \(|\w)")
_STATED = re.compile(r"(?<![\w-])\d+(?![\w]|-ch)")


class Planted(Struct, frozen=True):
    """A text with one mistake, from `line` to `last` (counted from 0; two lines if rows are swapped)."""

    kind: str
    line: int
    last: int
    was: str
    now: str
    text: str


class RowText(Struct, frozen=True):
    """A row on one line of a text: what stands before its instructions, they themselves, its stated count, the rest."""

    line: int
    head: str
    body: str
    stated: str
    tail: str

    @property
    def whole(self) -> str:
        """The line."""
        return self.head + self.body + self.stated + self.tail


def plant_all(text: str, rows: tuple[Row, ...]) -> Iterator[Planted]:
    """Every mistake of every kind at every place of these rows."""
    lines = text.split("\n")
    found = [_row_text(lines, row) for row in rows if row.span != NOWHERE and row.span.line == row.span.end_line]
    for row in found:
        for kind, changed in _changes(row):
            if changed.whole != row.whole:
                new = [*lines[: row.line], changed.whole, *lines[row.line + 1 :]]
                yield Planted(kind, row.line, row.line, row.whole.strip(), changed.whole.strip(), "\n".join(new))
    for first, second in pairwise(found):
        if _labelled(first) and _labelled(second) and first.body != second.body and second.line > first.line:
            new = list(lines)
            new[first.line] = first.head + second.body + second.stated + first.tail
            new[second.line] = second.head + first.body + first.stated + second.tail
            yield Planted(
                "rows swapped", first.line, second.line, first.whole.strip(), second.whole.strip(), "\n".join(new)
            )


def _labelled(row: RowText) -> bool:
    return re.search(r"(?:row|rnd)s? \d", row.head, re.IGNORECASE) is not None


def _row_text(lines: list[str], row: Row) -> RowText:
    line = lines[row.span.line]
    start = row.span.column if row.label.span == NOWHERE else row.label.span.end_column
    end = row.span.end_column
    body, stated = _cut(line[start:end])
    return RowText(row.span.line, line[:start], body, stated, line[end:])


def _cut(text: str) -> tuple[str, str]:
    """The instructions and the stated count behind them."""
    if " — " in text:
        body, _, stated = text.rpartition(" — ")
        return body, " — " + stated
    if text.endswith(")"):
        depth = 0
        for at in range(len(text) - 1, -1, -1):
            depth += {")": 1, "(": -1}.get(text[at], 0)
            if depth == 0:
                return (text[:at], text[at:]) if re.match(r"\([\d{]", text[at:]) else (text, "")
    return text, ""


def _changes(row: RowText) -> Iterator[tuple[str, RowText]]:
    for changed in _off_by_one(row.stated, _STATED, 1, -1):
        if not _in_sizes(row.stated, changed):
            yield "count off by one", _with(row, stated=changed)
    for part in ("body", "stated"):
        for changed in _sizes(getattr(row, part)):
            yield "number of one size", _with(row, **{part: changed})
    if row.body.lstrip().casefold().startswith("rep "):
        return
    body_kinds: tuple[tuple[str, Callable[[str], Iterator[str]]], ...] = (
        ("number changed", lambda body: _off_by_one(body, _NUMBER, 1, -1)),
        ("chain one longer", lambda body: _off_by_one(body, _CHAIN, 1)),
        ("wrong space", lambda body: _off_by_one(body, _SPACE, 1)),
        ("repeat one short", lambda body: _off_by_one(body, _TIMES, -1)),
        ("clause dropped", _dropped),
        ("clause doubled", _doubled),
    )
    for kind, change in body_kinds:
        for changed in change(row.body):
            yield kind, _with(row, body=changed)


def _with(row: RowText, body: str | None = None, stated: str | None = None) -> RowText:
    return RowText(
        row.line, row.head, row.body if body is None else body, row.stated if stated is None else stated, row.tail
    )


def _off_by_one(text: str, pattern: re.Pattern[str], *steps: int) -> Iterator[str]:
    for match in pattern.finditer(text):
        for step in steps:
            number = int(match.group()) + step
            if number >= 1:
                yield f"{text[: match.start()]}{number}{text[match.end() :]}"


def _in_sizes(before: str, after: str) -> bool:
    """Whether the two differ within numbers per size, which are a kind of their own."""
    return _PER_SIZE.sub("#", before) == _PER_SIZE.sub("#", after)


def _sizes(text: str) -> Iterator[str]:
    for match in _PER_SIZE.finditer(text):
        for number in re.finditer(r"\d+", match.group()):
            start, end = match.start() + number.start(), match.start() + number.end()
            yield f"{text[:start]}{int(number.group()) + 1}{text[end:]}"


def _clauses(body: str) -> Iterator[tuple[int, int]]:
    """Where the clauses that work stitches stand; none that holds only a part of a bracket."""
    for match in _CLAUSE.finditer(body):
        words = match.group()
        start = match.start() + len(words) - len(words.lstrip())
        end = match.start() + len(words.rstrip())
        behind = body[end : end + 1]
        aside = re.match(
            r"\s*(?:join|rep|turn|fasten|to |counts|does not|skipped|with)", body[start:end], re.IGNORECASE
        )
        if end > start and _WORKING.search(body[start:end]) and not aside and behind in {",", ";", ".", ""}:
            yield start, end


def _dropped(body: str) -> Iterator[str]:
    for start, end in _clauses(body):
        rest = body[end:]
        comma = re.match(r"[,;]\s*", rest)
        if comma:
            yield body[:start] + rest[comma.end() :]
        elif re.search(r"[,;]\s*\Z", body[:start]):
            yield re.sub(r"[,;]\s*\Z", "", body[:start]) + rest


def _doubled(body: str) -> Iterator[str]:
    for start, end in _clauses(body):
        yield f"{body[:end]}, {body[start:end]}{body[end:]}"
