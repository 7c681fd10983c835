"""In which order the lines of a part are worked: one that holds for later rows too is worked again as they come up."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from convert.document.records import Row


class Line(NamedTuple):
    """A line to be worked: `numbers` are those of its rows worked now, `again` tells that it was worked before."""

    row: Row
    numbers: tuple[int, ...]
    again: bool = False


def in_order(rows: Sequence[Row], size: int = 0) -> Iterator[Line]:
    """The lines of a part in the order in which the size with this index works them.

    "Row 2 and every even row" comes up again where Row 5 follows Row 3; of "Rows 2, 4 and 6" the later ones wait where
    Rows 3 and 5 are told by themselves.
    """
    labels = [row.label.in_size(size) for row in rows]
    given = {label.first for label in labels}
    waiting: dict[int, Row] = {}
    every: list[Row] = []
    last: int | None = None
    for row, label in zip(rows, labels, strict=True):
        if label.first is None and row.label.first is not None:
            continue  # the size has no such row
        if label.first == 1:
            waiting, every = {}, []
        elif label.first is not None and last is not None and not label.continued:
            yield from _between(last, label.first, waiting, every)
        later = tuple(number for number in label.rest if number - 1 in given and number - 1 not in label.numbers)
        waiting |= dict.fromkeys(later, row)
        every += [row] if label.every else []
        now = tuple(number for number in label.numbers if number not in later)
        yield Line(row, now)
        last = now[-1] if now else None
    if last is not None and waiting:
        yield from _between(last, max(waiting) + 1, waiting, every)


def _between(last: int, upto: int, waiting: dict[int, Row], every: list[Row]) -> Iterator[Line]:
    """The rows between two numbers, if lines told before hold for every one of them."""
    missing = range(last + 1, upto)
    latest = every[::-1]
    found = [waiting.get(n) or next((row for row in latest if holds_for(row, n)), None) for n in missing]
    for number, row in zip(missing, found, strict=True):
        if row is None or None in found:
            return
        waiting.pop(number, None)
        yield Line(row, (number,), again=True)


def holds_for(row: Row, number: int) -> bool:
    """Whether "Row 2 and every even row" means the row of this number."""
    first, every = row.label.first, row.label.every
    return first is not None and every > 0 and number >= first and (number - first) % every == 0
