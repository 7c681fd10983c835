"""Where the rows of a document use which stitches."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.records import Document, Row
from convert.document.steps import Decrease, Place, Work
from convert.document.walking import each
from convert.source import Span


def uses(document: Document) -> Iterator[tuple[Row, str, Span]]:
    """Every use of a stitch as something worked: the row, the stitch's id, the stretch of the text."""
    for part in document.parts:
        for row in part.rows:
            yield from ((row, step.stitch, step.span) for step in each(row.steps, Work))
            yield from ((row, step.stitch, step.span) for step in each(row.steps, Decrease))


def named_ids(document: Document) -> frozenset[str]:
    """Ids of all stitches that the rows work or name as places."""
    steps = (*(row.steps for part in document.parts for row in part.rows), *(s.steps for s in document.specials))
    worked = {step.stitch for step in each(steps, Work)} | {step.stitch for step in each(steps, Decrease)}
    return frozenset(worked.union(*(_of(place) for place in each(steps, Place))))


def _of(place: Place) -> set[str]:
    """The stitches that a place names, with those of the places that it is part of or that are worked with it."""
    named = {place.of} if place.of else set()
    return named.union(*(_of(other) for other in (*((place.within,) if place.within else ()), *place.also)))
