"""Tables of rows in a Markdown text: a column for the row's number, one for the work, perhaps one for the count."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from convert.instructions.reader import row_label_length
from convert.trade.patterns import listed

_BAR = re.compile(r"(?<!\\)\|")
_BRACKETED = re.compile(r"[(\[].*[)\]]\Z")
_NUMBERED = "R"
"""The label of a row whose number stands under a heading that is no word for rows, such as "No."."""

Line = tuple[str, int, int]
"""A text with its line and column in the file."""


class _Columns(Struct, frozen=True):
    """Where a table has what, and the word in front of the number of a row."""

    word: str
    number: int
    work: int
    count: int | None


def rows_of_table(lines: Sequence[Line]) -> list[tuple[Line, ...]]:
    """Each row of a table of rows as the line that says the same, "Rnd 3: 2 sc in each st (12)", in pieces that know
    their places. Empty where the table is none of rows, or has a column that is not known.

    >>> rows = rows_of_table(
    ...     [("| Rnd | Work | Sts |", 0, 0), ("|---|---|---|", 1, 0), ("| 2 | inc around | 12 |", 2, 0)]
    ... )
    >>> " ".join(text for text, _, _ in rows[0])
    'Rnd 2: inc around (12)'
    """
    if len(lines) < 3:
        return []
    columns = _columns([text for text, _, _ in _cells(lines[0])])
    return [_row(line, columns) for line in lines[2:]] if columns is not None else []


def _columns(heads: Sequence[str]) -> _Columns | None:
    known = {"table_rows": -1, "table_work": -1, "table_counts": -1}
    for index, head in enumerate(heads):
        bare = head.strip("*_: ").casefold()
        name = next((name for name in known if bare in listed(name)), None)
        if name is None or known[name] >= 0:
            return None
        known[name] = index
    number, work, count = known.values()
    if number < 0 or work < 0:
        return None
    word = heads[number].strip("*_: ")
    return _Columns(word if row_label_length(f"{word} 1:") else _NUMBERED, number, work, count if count >= 0 else None)


def _row(line: Line, columns: _Columns) -> tuple[Line, ...]:
    """The row; the line as it was typed where its first cell is no number of a row."""
    cells = _cells(line)
    if len(cells) <= max(columns.number, columns.work, columns.count or 0):
        return (line,)
    said, *place = cells[columns.number]
    bare = said.strip("*_.: ")
    label = next((f"{label}:" for label in (bare, f"{columns.word} {bare}") if row_label_length(f"{label}:")), None)
    if label is None:
        return (line,)
    found = [(label, place[0], place[1]), cells[columns.work]]
    count, *at = cells[columns.count] if columns.count is not None else ("", 0, 0)
    if count:
        found.append((count if _BRACKETED.match(count) else f"({count})", at[0], at[1]))
    return tuple(found)


def _cells(line: Line) -> list[Line]:
    text, number, column = line
    inner = text.rstrip()
    inner = inner if inner.endswith("\\|") else inner.removesuffix("|")
    found: list[Line] = []
    at = 1 if text.startswith("|") else 0
    for cell in _BAR.split(inner[at:]):
        lead = len(cell) - len(cell.lstrip())
        found.append((cell.strip(), number, column + at + lead))
        at += len(cell) + 1
    return found
