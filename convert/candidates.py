"""Which files of a folder hold patterns: not every text that lies beside them is one."""

from __future__ import annotations

import re

from convert.instructions.reader import row_label_length

_MARKS = re.compile(r"[\s>*_=+•\-]*(?:\d{1,3}[.)]\s+)?[*_=]*")
"""What may stand before a row's label: list marks, numbers of a list, marks of emphasis."""
_DATA = re.compile(r'"format"\s*:')


def holds_pattern(kind: str, text: str) -> bool:
    """Whether a file that nobody named is read as a pattern.

    YAML files say so by their name. A JSON file is one if it has a `format`, a Markdown file if it begins with front
    matter or has a row, a typed text if it has a row.

    >>> holds_pattern("text", "Rnd 1: 6 sc in ring."), holds_pattern("markdown", "# To do\\n\\n- buy yarn\\n")
    (True, False)
    """
    if kind == "yaml":
        return True
    if kind == "json":
        return bool(_DATA.search(text))
    if kind == "markdown" and text.startswith(("---\n", "---\r\n")):
        return True
    return any(_is_row(line) for line in text.split("\n"))


def _is_row(line: str) -> bool:
    marks = _MARKS.match(line)
    return bool(row_label_length(line[marks.end() if marks else 0 :]))
