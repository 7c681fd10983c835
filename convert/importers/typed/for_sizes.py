"""Which sizes the rows of a part are for, where headings and remarks between the rows tell it."""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import PerSize
from convert.document.records import CountItem, CountKind, Row
from convert.document.resolving import varies
from convert.instructions.words.cursor import Context
from convert.instructions.words.size_names import means_all, read_sizes, sizes_in_front, speaks_of_sizes
from convert.source import Passage
from convert.trade.patterns import said, signs


class ForSizes(Struct):
    """The sizes that the next rows are for: those of the last heading, without those whose work has ended.

    A line of its own right above a row ("M and L only:") is a heading for the rows that stand close below it.
    """

    context: Context
    headed: tuple[str, ...] = ()
    ended: tuple[str, ...] = ()
    close: tuple[str, ...] = ()
    below: int = -1
    """The line on which a row for the sizes of `close` would begin."""

    def takes(self, words: str) -> bool:
        """Whether the words name sizes and nothing else ("SIZE M", "All sizes:"); then they hold from here on."""
        bare = words.strip(" \t:.–—-()[]*_=")
        if means_all(bare):
            self.headed = self.ended = ()
            return bool(self.context.sizes)
        sizes = read_sizes(bare, self.context) if speaks_of_sizes(bare) else ()
        self.headed = sizes or self.headed
        return bool(sizes)

    def ends(self, words: str) -> tuple[str, ...]:
        """The sizes that "End here for S" finishes; they work no row that follows."""
        found = _ends_here().search(words)
        sizes = (
            read_sizes(f"{words[: found.start()]} {words[found.end() :]}".strip(" .:,"), self.context) if found else ()
        )
        self.ended = (*self.ended, *sizes)
        return sizes

    def ends_behind(self, row: Row) -> None:
        """The sizes that a row finishes in its last sentence: "... in each st around. End here for XS."."""
        found = None if not self.context.sizes else _ends_here().search(row.said)
        if found is not None:
            self.ends(row.said[found.start() :])

    def under(self, passage: Passage, row: Row) -> Row:
        """The row of a passage, for the sizes that stand on a line of their own right above it or above the rows that
        it follows without a gap. A row with numbers for all sizes is for all of them.
        """
        whole = passage.whole
        front = _in_front().match(passage.text)
        if front is not None:
            self.close = row.sizes if passage.place(front.end())[0] > whole.line else ()
        elif row.sizes or whole.line != self.below or _for_all(row):
            self.close = ()
        self.below = whole.end_line + 1
        return replace(row, sizes=self.close) if self.close else row

    def applied(self, row: Row) -> Row:
        """The row, for these sizes alone."""
        if not (self.headed or self.ended or row.sizes):
            return row
        own = row.sizes or self.headed or tuple(id for id, _ in self.context.sizes)
        left = tuple(id for id in own if id not in self.ended and (not self.headed or id in self.headed))
        return replace(row, sizes=left or own, stated=self._each(row.stated, left or own))

    def _each(self, stated: tuple[CountItem, ...], sizes: tuple[str, ...]) -> tuple[CountItem, ...]:
        """ "(14, 18)" or "(14, 18 sc)" under "M and L only:": as many figures as sizes, which the row alone could not
        tell.
        """
        numbers = {id: item.number for id, item in zip(sizes, stated, strict=False) if isinstance(item.number, int)}
        plain = all(item.kind is CountKind.TOTAL and item.of is None for item in stated[:-1])
        if not (len(numbers) == len(stated) == len(sizes) > 1 and plain):
            return stated
        values = tuple(numbers.get(id) for id, _ in self.context.sizes)
        return (replace(stated[-1], number=PerSize(values), span=stated[0].span.to(stated[-1].span)),)


def _for_all(row: Row) -> bool:
    return varies(row.steps) or any(isinstance(item.number, PerSize) for item in row.stated)


@cache
def _in_front() -> re.Pattern[str]:
    return re.compile(rf"{sizes_in_front()}(?=\S)", re.IGNORECASE)


@cache
def _ends_here() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('ends_here')}(?:\s{said('for')})?\b", re.IGNORECASE)
