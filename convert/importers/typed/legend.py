"""Lists of abbreviations that no heading stands over: lines of which each tells what a short form stands for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import takewhile

from msgspec import Struct

from convert.importers.typed.stitches import single_entries
from convert.importers.typed.units import Kind, Unit
from convert.source import Passage

_FEW = 3
_SURE = 2
"""Entries of the shortest such list, and how many of them the tables must know to mean the same on both sides."""
_MOST = 1.5
"""At most how many times as many entries as known ones a paragraph holds."""
Tells = Callable[[Passage], bool]


class Legend(Struct, frozen=True):
    """Tells the entries of a list of abbreviations: those that the tables know to be one, and those that may be."""

    sure: Tells
    likely: Tells

    def begins(self, units: Sequence[Unit]) -> bool:
        """Whether a list begins with the first of these units and nothing else stands in it."""
        first = units[0]
        if first.kind is not Kind.TEXT or not first.at_line:
            return False
        inside = list(single_entries([first]))
        if len(inside) < _FEW:
            inside = list(takewhile(self.has, _entries(units)))
        likely = sum(map(self.has, inside))
        return likely >= _FEW and _MOST * likely >= len(inside) and sum(map(self.sure, inside)) >= _SURE

    def has(self, entry: Passage) -> bool:
        """Whether a line may be an entry."""
        return self.sure(entry) or self.likely(entry)

    def goes_on(self, unit: Unit) -> bool:
        """Whether a unit below entries is one more."""
        return unit.kind is Kind.TEXT and not unit.fresh and all(map(self.has, single_entries([unit])))


def _entries(units: Sequence[Unit]) -> Iterator[Passage]:
    """The lines up to the next blank one or row."""
    for index, unit in enumerate(units):
        if unit.kind is not Kind.TEXT or (unit.fresh and index):
            return
        yield from single_entries([unit])
