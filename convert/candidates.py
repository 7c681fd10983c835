"""Which files of a folder hold patterns: not every text that lies beside them is one."""

from __future__ import annotations

import re

from convert.importers.tables import columns_of
from convert.importers.typed.signs import speaks_of_stitches
from convert.instructions.reader import row_label_length

_MARKS = re.compile(r"[\s>*_=+•\-]*(?:\d{1,3}[.)]\s+)?[*_=]*")
"""What may stand before a row's label: list marks, numbers of a list, marks of emphasis."""
_COUNTED = re.compile(r"(?:\d|[(\[{<]\W{0,3}\d[^()\[\]{}<>]{0,60}[)\]}>])[\s.|*_]*\Z")
"""How a line ends that tells a row without a label, in a table, a list or a line by itself: with a count."""
_UNLABELLED = 2
"""How many such lines show that the text is a pattern."""
_DATA = re.compile(r'"format"\s*:')


def holds_pattern(kind: str, text: str) -> bool:
    """Whether a file that nobody named is read as a pattern.

    YAML files say so by their name. A JSON file is one if it has a `format`, a Markdown file if it begins with front
    matter or has a row, a typed text if it has a row: a line with a label, two that speak of stitches and end with a
    count, or the head of a table of rows.

    >>> holds_pattern("text", "Rnd 1: 6 sc in ring."), holds_pattern("markdown", "# To do\\n\\n- buy yarn\\n")
    (True, False)
    >>> holds_pattern("text", "6 sc in ring (6)\\ninc around (12)"), holds_pattern("text", "Yarn (3 balls)\\nTea at 5")
    (True, False)
    >>> holds_pattern("markdown", "| Rnd | Work |\\n|---|---|\\n| 1 | 6 sc |"), holds_pattern("text", "| 1 | 6 sc |")
    (True, False)
    """
    if kind == "yaml":
        return True
    if kind == "json":
        return bool(_DATA.search(text))
    if kind == "markdown" and text.startswith(("---\n", "---\r\n")):
        return True
    lines = text.split("\n")
    return any(map(_is_row, lines)) or sum(map(_tells_row, lines)) >= _UNLABELLED or any(map(_heads_table, lines))


def _is_row(line: str) -> bool:
    marks = _MARKS.match(line)
    return bool(row_label_length(line[marks.end() if marks else 0 :]))


def _tells_row(line: str) -> bool:
    return bool(_COUNTED.search(line[-80:])) and speaks_of_stitches(line)


def _heads_table(line: str) -> bool:
    return ("|" in line or "\t" in line) and columns_of((line.strip(" "), 0, 0)) is not None
