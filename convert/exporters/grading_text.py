"""What the grader chose, as a table for a terminal."""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.lengths import CENTIMETRES, Length, tidy
from convert.document.records import Document
from convert.exporters.display import width
from convert.grader.results import Chosen, Grading, SizeGrading

_HEAD = ("size", "number", "value", "target", "measures", "off")


def write_grading(document: Document, grading: Grading) -> str:
    """One line a size and number: what was chosen, what the size will measure, and how far that is off its target."""
    rows: list[tuple[str, ...]] = []
    for index, size in enumerate(grading.sizes):
        name = document.sizes[index].name if index < len(document.sizes) else ""
        rows += [(name if first == 0 else "", *line) for first, line in enumerate(_lines(size))]
    if not rows:
        return "This pattern has no numbers that are chosen or given by size.\n"
    return _table((_HEAD, *rows))


def _lines(size: SizeGrading) -> list[tuple[str, ...]]:
    chosen = {fit.fit.number: fit for fit in size.chosen}
    lines = [(n.name, str(n.value), *_fit(chosen.get(n.name))) for n in size.numbers]
    given = {number.name for number in size.numbers}
    lines += [(name, str(fit.value), *_fit(fit)) for name, fit in chosen.items() if name not in given]
    return lines


def _fit(chosen: Chosen | None) -> tuple[str, ...]:
    if chosen is None:
        return ("", "", "")
    unit = chosen.target.unit
    off = Length(chosen.measures.cm - chosen.target.cm, unit)
    return (chosen.target.said, _said(chosen.measures, unit), _said(off, unit, sign=True))


def _said(length: Length, unit: str, *, sign: bool = False) -> str:
    value = length.cm / CENTIMETRES[unit]
    plus = "+" if sign and round(value, 1) > 0 else ""
    return f"{plus}{tidy(value, 1)} {unit}"


def _table(rows: Sequence[tuple[str, ...]]) -> str:
    widths = [max(width(row[column]) for row in rows) for column in range(len(rows[0]))]
    return "".join(
        "  ".join(cell + " " * (wide - width(cell)) for cell, wide in zip(row, widths, strict=True)).rstrip() + "\n"
        for row in rows
    )
