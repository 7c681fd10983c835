"""What a text says once of all its repeats: that the number of times is counted besides the first working.

Booklets say so of their asterisks (Star Book No. 98, American Thread Company, 1953, does).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import Part, Row
from convert.document.steps import Extent, Repeat, Step
from convert.trade.patterns import signs


@cache
def _besides() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('times_besides')}\b", re.IGNORECASE)


def counts_besides(notes: Iterable[Prose]) -> bool:
    """Whether one of the notes says that repeats are worked so many times more."""
    return any(isinstance(word, str) and _besides().search(word) for note in notes for word in note)


def without_doubt(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts, with repeats that no longer leave open whether the first working is among the number of times."""
    return tuple(replace(part, items=tuple(_row(i) if isinstance(i, Row) else i for i in part.items)) for part in parts)


def _row(row: Row) -> Row:
    return replace(row, steps=tuple(map(_step, row.steps)))


def _step(step: Step) -> Step:
    if not isinstance(step, Repeat):
        return step
    doubtful = step.said_doubtful and step.extent is not Extent.TIMES
    return replace(step, steps=tuple(map(_step, step.steps)), said_doubtful=doubtful)
