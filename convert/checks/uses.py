"""Where the rows of a document use which stitches."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.records import Document, Row
from convert.document.steps import Decrease, Group, Place, Repeat, Step, Work
from convert.source import Span


def uses(document: Document) -> Iterator[tuple[Row, str, Span]]:
    """Every use of a stitch as something worked: the row, the stitch's id, the stretch of the text."""
    for part in document.parts:
        for row in part.rows:
            for id, span in _in_steps(row.steps):
                yield row, id, span


def _in_steps(steps: tuple[Step, ...]) -> Iterator[tuple[str, Span]]:
    for step in steps:
        if isinstance(step, Work | Decrease):
            yield step.stitch, step.span
        elif isinstance(step, Group | Repeat):
            yield from _in_steps(step.steps)
            if isinstance(step, Repeat) and step.ending is not None:
                yield from _in_steps(step.ending.steps)


def named_ids(document: Document) -> frozenset[str]:
    """Ids of all stitches that the rows work or name as places."""
    found: set[str] = set()
    for part in document.parts:
        for row in part.rows:
            _names(row.steps, found)
    for special in document.specials:
        _names(special.steps, found)
    return frozenset(found)


def _names(steps: tuple[Step, ...], found: set[str]) -> None:
    for step in steps:
        found |= {id for id, _ in _in_steps((step,))}
        place = getattr(step, "place", None)
        if isinstance(place, Place):
            _place_names(place, found)
        for inner in getattr(step, "steps", ()):
            _names((inner,), found)


def _place_names(place: Place, found: set[str]) -> None:
    if place.of:
        found.add(place.of)
    for other in (*((place.within,) if place.within else ()), *place.also):
        _place_names(other, found)
