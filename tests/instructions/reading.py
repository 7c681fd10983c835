"""Reads lines for the tests."""

from __future__ import annotations

from convert.document.records import Row, TermSystem
from convert.instructions.reader import Context, RowRead, read_row
from convert.instructions.writing.rows import write_row
from convert.instructions.writing.wording import Wording
from convert.source import Passage

SIZES = (("s", "S"), ("m", "M"), ("l", "L"))


def context(system: TermSystem = TermSystem.US) -> Context:
    """Three sizes, two yarns, one number for formulas."""
    return Context(system, sizes=SIZES, colours=("A", "B"), names=("pairs",))


def read(text: str, system: TermSystem = TermSystem.US) -> RowRead:
    """A line read as the first of a file."""
    return read_row(Passage.at(text, 0, 0), context(system))


def written(row: Row, system: TermSystem = TermSystem.US) -> str:
    """The row in standard wording."""
    return write_row(row, Wording(system, size_ids=("s", "m", "l"), size_names=("S", "M", "L")))
