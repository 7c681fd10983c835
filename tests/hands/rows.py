"""What a writer asks about the rows of a pattern."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from convert.document.records import Document, Row, RowKind
from convert.document.steps import (
    Chain,
    ChangeColour,
    Decrease,
    FastenOff,
    Repeat,
    Step,
    Verbatim,
    What,
    Which,
    Work,
)
from tests.hands.places import SHORT


def rows_of(document: Document) -> list[Row]:
    return [row for part in document.parts for row in part.rows]


def mixed_chains(document: Document) -> set[int]:
    stand: dict[int, set[object]] = {}
    for row in rows_of(document):
        for step in row.steps[:2]:
            if isinstance(step, Chain) and isinstance(step.number, int) and not on_chain(row.steps):
                stand.setdefault(step.number, set()).add(step.counts)
    return {number for number, counts in stand.items() if len(counts) > 1}


def has_step(row: Row, kind: type) -> bool:
    return any(isinstance(step, kind) for step in row.steps)


def is_end(row: Row) -> bool:
    return (
        bool(row.steps)
        and row.label.kind is RowKind.UNLABELLED
        and all(isinstance(step, FastenOff | Verbatim | ChangeColour) for step in row.steps)
    )


def on_chain(steps: Sequence[Step]) -> bool:
    """Whether the row begins with a foundation chain."""
    after = steps[1] if len(steps) > 1 else None
    place = after.place if isinstance(after, Work) else None
    return isinstance(steps[0], Chain) and place is not None and place.what is What.CHAIN and place.which is Which.NTH


def kinds_of(steps: Sequence[Step]) -> Iterator[str]:
    for step in steps:
        if isinstance(step, Work):
            yield "sc" if step.stitch in SHORT else step.stitch
        elif isinstance(step, Decrease):
            yield step.stitch
        elif isinstance(step, Repeat):
            yield from kinds_of(step.steps)
