"""Takes rounds apart that one line tells one behind the other, and rings that a line before the first round makes."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import cache
from itertools import pairwise

from msgspec.structs import replace

from convert.document.records import Remark, Row
from convert.document.steps import Begin, Group, Step, Verbatim, Which, Work
from convert.importers.typed.units import Kind, Unit, label_length
from convert.instructions.chains.rings import joined_chain, works_into_ring
from convert.instructions.reader import Context, read_steps
from convert.source import Passage
from convert.trade.patterns import either
from convert.trade.tables import table

_PART = re.compile(r";\s*")


def rounds_apart(unit: Unit, context: Context) -> list[Unit]:
    """ "Ch 3, join; 8 dc in ring; 2 dc in each dc; 1 dc in each dc": as many lines as there are rounds.

    A round begins behind a semicolon with what is worked into each stitch, once something was worked all around.
    """
    text = unit.passage.text
    if unit.kind is Kind.NUMBERED or ";" not in text or label_length(text):
        return [unit]
    edges = [*_edges(unit.passage, context), len(text)]
    return [replace(unit, passage=unit.passage.cut(a, b), breaks=()) for a, b in pairwise(edges)] or [unit]


def ended_apart(unit: Unit, reads: Callable[[Passage], bool]) -> list[Unit]:
    """ "... This completes the motif. Twist a cord and run it in.": what follows the end of a piece and is no work
    stands apart.
    """
    match = _ended().search(unit.passage.text)
    rest = unit.passage.cut(match.end()) if match else None
    if match is None or rest is None or not rest.text or reads(rest):
        return [unit]
    work = replace(unit, passage=unit.passage.cut(0, match.end()), breaks=())
    return [work, replace(unit, kind=Kind.TEXT, passage=rest, breaks=())]


@cache
def _ended() -> re.Pattern[str]:
    words = table("asides")
    ends = rf"{either(words['subjects'])}\s(?:[^.;:]{{1,60}}?\s)?{either(words['ends'])}\b[^.;:]{{0,60}}\.\s+"
    return re.compile(rf"(?<=[.;])\s{ends}", re.IGNORECASE)


def _edges(passage: Passage, context: Context) -> Iterator[int]:
    yield 0
    around = False
    starts = [0, *(match.end() for match in _PART.finditer(passage.text))]
    for start, end in pairwise([*starts, len(passage.text)]):
        steps = read_steps(passage.cut(start, end), context).row.steps
        first = next((step for step in steps if not isinstance(step, Verbatim)), None)
        if around and _goes_around(first):
            yield start
        around = around or works_into_ring(steps) or _goes_around(first)


def _goes_around(step: Step | None) -> bool:
    return isinstance(step, Work | Group) and step.place is not None and step.place.which is Which.EACH


def with_rings(items: Sequence[Row | Remark]) -> list[Row | Remark]:
    """A chain that is joined at once on a line before row 1 is a ring, if that row works into one."""
    found = list(items)
    rows = [(index, item) for index, item in enumerate(found) if isinstance(item, Row)]
    for (here, row), (_, behind) in pairwise(rows):
        if row.label.first is None and works_into_ring(behind.steps) and not _begins(behind):
            found[here] = replace(row, steps=joined_chain(row.steps))
    return found


def _begins(row: Row) -> bool:
    return any(isinstance(step, Begin) for step in row.steps)
