"""The sizes of a text as typed before its sections are told apart, since whether a line is work depends on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from convert.document.sizing import Size
from convert.importers.typed_sizes import read_sizes
from convert.importers.typed_units import Kind, Unit, heading_prefix
from convert.importers.typed_words import entries
from convert.source import Passage
from convert.trade.headings import section_of


def sizes_said(units: Sequence[Unit]) -> tuple[Size, ...]:
    """The sizes in the first line under or behind a heading of sizes; empty if the text has none."""
    return next((sizes for line in _behind_headings(units) if (sizes := read_sizes(line))), ())


def _behind_headings(units: Sequence[Unit]) -> Iterator[Passage]:
    """The line that follows each heading of sizes."""
    lines = (passage for unit in units if unit.kind is Kind.TEXT for passage in entries([unit]))
    for line in lines:
        prefix = heading_prefix(line.text) or ("", 0)
        if section_of(prefix[0]) == "sizes" and len(line.text) > prefix[1]:
            yield line.cut(prefix[1])
        elif section_of(line.text) == "sizes":
            yield from islice(lines, 1)
