"""The sizes of a text as typed before its sections are told apart, since whether a line is work depends on them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice

from convert.document.sizing import Size
from convert.importers.size_lists import labelled_sizes, measured_sizes
from convert.importers.typed.sizes import read_sizes, sizes_named
from convert.importers.typed.units import Kind, Unit, heading_prefix
from convert.importers.typed.words import entries
from convert.limits import LIMITS
from convert.source import NOWHERE, Passage
from convert.trade.headings import section_of


def sizes_said(units: Sequence[Unit]) -> tuple[Size, ...]:
    """The sizes in the first line under or behind a heading of sizes or, failing that, those that a line names or
    measures beside other things; empty if the text has none.
    """
    headed = next((sizes for line in _behind_headings(units) if (sizes := read_sizes(line))), ())
    return headed or _beside(units)


def _beside(units: Sequence[Unit]) -> tuple[Size, ...]:
    texts = [unit.passage.text for unit in units]
    lines = [passage.text for unit in units if unit.kind is Kind.TEXT for passage in entries([unit])]
    names = labelled_sizes(lines, texts)[0] or measured_sizes(lines, texts)[0]
    return sizes_named(names, NOWHERE) if len(names) <= LIMITS.sizes else ()


def _behind_headings(units: Sequence[Unit]) -> Iterator[Passage]:
    """The line that follows each heading of sizes."""
    lines = (passage for unit in units if unit.kind is Kind.TEXT for passage in entries([unit]))
    for line in lines:
        prefix = heading_prefix(line.text) or ("", 0)
        if section_of(prefix[0]) == "sizes" and len(line.text) > prefix[1]:
            yield line.cut(prefix[1])
        elif section_of(line.text) == "sizes":
            yield from islice(lines, 1)
