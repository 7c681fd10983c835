"""Work that goes on from an earlier round: "attach yarn in any loop of 5th round", "working on the 12th round".

Common practice, no source: a ruffle or a casing begins on a round further down, and the rounds above it stay.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.records import Row, RowKind
from convert.document.steps import Begin, Group, Place, Repeat, Slip, Start, Step, Work
from convert.fabric.parts.onward import begins_on_edge
from convert.fabric.parts.reference import numbered
from convert.fabric.parts.run import Run
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge
from convert.trade.patterns import said


@cache
def _named() -> re.Pattern[str]:
    noun = said("round", "row")
    number = rf"\b(?:(\d+)(?:st|nd|rd|th)\s{noun}\b|{noun}\s(\d+)\b)"
    return re.compile(rf"(?:\b[^\W\d]+\s)?(?:\bthe\s)?{number}.*", re.IGNORECASE)


@remembered
def round_named(steps: tuple[Step, ...]) -> int | None:
    """The number of the round in which the yarn is joined, where the row says so."""
    for step in steps:
        if isinstance(step, Begin) and step.start in (Start.EDGE, Start.ALONG):
            found = _named().search(step.place.words) if step.place is not None else None
            if found is not None or step.start is Start.EDGE:
                return int(found[1] or found[2]) if found is not None else None
        if isinstance(step, Work | Group | Repeat):
            return None
    return None


def edges_left(run: Run) -> list[tuple[int, Edge]]:
    """What each round of the part left, by its number; nothing where not every one of them was worked by itself."""
    edges = [outcome.edge for worked in run.results for _, outcome in worked.each]
    numbers = numbered(run.history)
    return (
        [(number, edge) for (number, _), edge in zip(numbers, edges, strict=True)] if len(numbers) == len(edges) else []
    )


def edge_left(run: Run, number: int) -> Edge:
    """What the round of that number left, in this part or the last one before it that has such a round. The body of a
    piece comes before what is worked on its edges, whose rounds have numbers of their own.
    """
    before = [(id, edges) for (id, size), edges in reversed(run.memo.edges.items()) if size == run.size]
    added = {part.id for part in run.document.parts if part.rows and begins_on_edge(part.rows[0])}
    for edges in (edges_left(run), *(found for _, found in sorted(before, key=lambda one: one[0] in added))):
        found = next((edge for at, edge in reversed(edges) if at == number), None)
        if found is not None:
            return replace(found, turned=False, pending=None, closing="")
    return Edge(None, fresh=False)


def keep_last_round(run: Run, row: Row, edge: Edge) -> None:
    """Remembers what the last round left, where a row without a label goes on from an earlier one."""
    number = next((number for number, _ in reversed(run.history) if number is not None), None)
    run.beside = (number, edge) if row.label.kind is RowKind.UNLABELLED and number is not None else None


def back_on_last_round(run: Run, first: int | None) -> None:
    """Goes back to the last round, if the next row has the number behind it: what was worked beside has none."""
    if run.beside is not None and first is not None:
        number, edge = run.beside
        run.edge = replace(edge, untested=True) if first == number + 1 else run.edge
        run.beside = None


@remembered
def on_that_round(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps without the words that name the round which they are worked on."""
    kept = (
        step for step in steps if not (isinstance(step, Begin) and step.start is Start.ALONG and _names(step.place))
    )
    return tuple(_without_words(step) for step in kept)


def _names(place: Place | None) -> bool:
    return place is not None and _named().search(place.words) is not None


def _without_words(step: Step) -> Step:
    if isinstance(step, Repeat):
        return replace(step, steps=on_that_round(step.steps))
    if isinstance(step, Begin | Work | Group | Slip) and step.place is not None and _names(step.place):
        return replace(step, place=replace(step.place, words=_named().sub("", step.place.words).strip()))
    return step
