"""Plain words as Markdown: escapes what a reader of Markdown would take for markup, and nothing else."""

from __future__ import annotations

import re

_INSIDE = re.compile(
    r"\\(?=[!-/:-@\[-`{-~])|[*_`<]|&(?=[A-Za-z#][A-Za-z0-9#]{0,31};)|\](?=[(\[:])|!(?=\[)|~(?=~)|(?<=~)~"
)
_AT_START = re.compile(r"(?P<mark>[#>|=-]|\+(?=\s|\Z)|~(?=~))|(?P<number>[0-9]{1,9})(?=[.)](?:\s|\Z))")
_DASHES = re.compile(r"-(?=\s|\Z|-)|[#>|=~+]")


def escaped(text: str) -> str:
    """The text for the middle of a line.

    >>> escaped("*Sc in next st; rep from * around.")
    '\\\\*Sc in next st; rep from \\\\* around.'
    """
    return _INSIDE.sub(lambda found: "\\" + found.group(), " ".join(text.split(" ")))


def paragraph(text: str) -> str:
    """The text for the start of a line, where a number, a hash or a dash would begin something else.

    >>> paragraph("1. Fold."), paragraph("# 4 yarn"), paragraph("-2 sts"), paragraph("Sc in next st.")
    ('1\\\\. Fold.', '\\\\# 4 yarn', '-2 sts', 'Sc in next st.')
    """
    inner = escaped(text)
    found = _AT_START.match(inner)
    if found is None or (found["mark"] and not _DASHES.match(inner)):
        return inner
    if found["number"]:
        return f"{found['number']}\\{inner[found.end() :]}"
    return f"\\{inner}"


def heading(level: int, text: str) -> str:
    """A heading; a hash at its end is escaped, or it would be taken for its close."""
    inner = re.sub(r"#(?=#*\s*\Z)", r"\\#", escaped(text))
    return f"{'#' * level} {inner}"


def table(heads: tuple[str, ...], lines: tuple[tuple[str, ...], ...]) -> str:
    """A table with a line of headings."""
    rows = [heads, tuple("---" for _ in heads), *lines]
    return "\n".join(f"| {' | '.join(cell if i == 1 else _cell(cell) for cell in row)} |" for i, row in enumerate(rows))


def _cell(text: str) -> str:
    return escaped(text).replace("|", "\\|")
