"""Tables of rows: a column for the row's number, one for the work, perhaps one for the count and one for the yarn."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from convert.instructions.reader import row_label_length
from convert.trade.patterns import listed

_BAR = re.compile(r"(?<!\\)\|")
_TAB = re.compile(r"\t")
_RULE = re.compile(r"[\s|:+=-]{3,}\Z")
"""The line under the heads of a table."""
_BRACKETED = re.compile(r"[(\[].*[)\]]\Z")
_NUMBERED = "R"
"""The label of a row whose number stands under a heading that is no word for rows, such as "No."."""

Line = tuple[str, int, int]
"""A text with its line and column in the file."""


class _Columns(Struct, frozen=True):
    """Where a table has what, the word in front of the number of a row, and what stands between its cells."""

    word: str
    number: int
    work: int
    count: int | None
    yarn: int | None
    between: re.Pattern[str]


def rows_of_table(lines: Sequence[Line]) -> list[tuple[Line, ...]]:
    """Each row of a table of rows as the line that says the same, "Rnd 3: 2 sc in each st (12)", in pieces that know
    their places. Empty where the table is none of rows, or has a column that is not known.

    The yarn stands in brackets in the label where it is another than that of the row above.

    >>> rows = rows_of_table(
    ...     [("| Rnd | Work | Sts |", 0, 0), ("|---|---|---|", 1, 0), ("| 2 | inc around | 12 |", 2, 0)]
    ... )
    >>> " ".join(text for text, _, _ in rows[0])
    'Rnd 2: inc around (12)'
    >>> rows = rows_of_table([("Rnd\\tColor\\tWork", 0, 0), ("1\\tred\\t6 sc in ring", 1, 0)])
    >>> " ".join(text for text, _, _ in rows[0])
    'Rnd 1 (red): 6 sc in ring'
    """
    columns = columns_of(lines[0]) if lines else None
    if columns is None:
        return []
    found: list[tuple[Line, ...]] = []
    yarn = ""
    for line in lines[1:]:
        if _RULE.match(line[0]):
            continue
        found.append(_row(line, columns, yarn))
        yarn = _yarn(_cells(line, columns.between), columns) or yarn
    return found


def columns_of(line: Line) -> _Columns | None:
    """The columns of a table of rows, where a line is that of its heads."""
    between = next((sign for sign in (_BAR, _TAB) if sign.search(line[0])), None)
    return _columns([text for text, _, _ in _cells(line, between)], between) if between is not None else None


def is_row_of(line: Line, columns: _Columns) -> bool:
    """Whether a line is one more row of a table, or the rule under its heads."""
    return bool(_RULE.match(line[0])) or len(_row(line, columns, "")) > 1


def _columns(heads: Sequence[str], between: re.Pattern[str]) -> _Columns | None:
    known = {"table_rows": -1, "table_work": -1, "table_counts": -1, "table_yarns": -1}
    for index, head in enumerate(heads):
        bare = head.strip("*_: ").casefold()
        name = next((name for name in known if bare in listed(name)), None)
        if name is None or known[name] >= 0:
            return None
        known[name] = index
    number, work = known["table_rows"], known["table_work"]
    if number < 0 or work < 0:
        return None
    count, yarn = (at if (at := known[name]) >= 0 else None for name in ("table_counts", "table_yarns"))
    word = heads[number].strip("*_: ")
    return _Columns(word if row_label_length(f"{word} 1:") else _NUMBERED, number, work, count, yarn, between)


def _yarn(cells: Sequence[Line], columns: _Columns) -> str:
    """What a row has in the column of yarns; a dash is none."""
    said = cells[columns.yarn][0] if columns.yarn is not None and columns.yarn < len(cells) else ""
    return said if any(map(str.isalnum, said)) and not re.search(r"[()\[\]]", said) else ""


def _row(line: Line, columns: _Columns, yarn_before: str) -> tuple[Line, ...]:
    """The row; the line as it was typed where its first cell is no number of a row."""
    cells = _cells(line, columns.between)
    if len(cells) <= max(columns.number, columns.work):
        return (line,)
    yarn = _yarn(cells, columns)
    aside = f" ({yarn})" if yarn and yarn != yarn_before else ""
    said, *place = cells[columns.number]
    bare = said.strip("*_.: ")
    label = next(
        (f"{label}{aside}:" for label in (bare, f"{columns.word} {bare}") if row_label_length(f"{label}:")), None
    )
    if label is None:
        return (line,)
    found = [(label, place[0], place[1]), cells[columns.work]]
    counted = columns.count is not None and columns.count < len(cells)
    count, *at = cells[columns.count] if columns.count is not None and counted else ("", 0, 0)
    if count:
        found.append((count if _BRACKETED.match(count) else f"({count})", at[0], at[1]))
    return tuple(found)


def _cells(line: Line, between: re.Pattern[str]) -> list[Line]:
    text, number, column = line
    inner = text.rstrip()
    inner = inner if inner.endswith("\\|") else inner.removesuffix("|")
    found: list[Line] = []
    at = 1 if text.startswith("|") else 0
    for cell in between.split(inner[at:]):
        lead = len(cell) - len(cell.lstrip())
        found.append((cell.strip(), number, column + at + lead))
        at += len(cell) + 1
    return found
