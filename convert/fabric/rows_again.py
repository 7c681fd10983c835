"""Rows that have earlier rows repeated."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Row, RowKind
from convert.document.steps import Again, FastenOff, Join, Turn, Verbatim
from convert.source import NOWHERE


def only_inert(row: Row) -> bool:
    """Whether the row holds nothing but words that change no stitch."""
    return bool(row.steps) and all(isinstance(s, Verbatim) and s.inert for s in row.steps)


def again_of(row: Row) -> Again | None:
    """The "repeat rows" step of a line that has no other work; not one that only its words explain."""
    found = [s for s in row.steps if isinstance(s, Again) and not s.words]
    rest = [
        s
        for s in row.steps
        if not isinstance(s, Again | Turn | FastenOff | Join) and not (isinstance(s, Verbatim) and s.inert)
    ]
    return found[0] if len(found) == 1 and not rest else None


def work_and_again(row: Row) -> tuple[Row, Row] | None:
    """A row whose last sentence has earlier rows repeated, taken apart into the row and the repeat. A count that stands
    in front of that sentence is of the row alone.
    """
    at = next((i for i, step in enumerate(row.steps) if isinstance(step, Again) and not step.words), None)
    if not at or again_of(row) is not None:
        return None
    before, behind = row.steps[:at], row.steps[at:]
    if any(not isinstance(s, Again | Turn | FastenOff) and not (isinstance(s, Verbatim) and s.inert) for s in behind):
        return None
    label = replace(row.label, kind=RowKind.UNLABELLED, first=None, last=None, rest=())
    early = tuple(item for item in row.stated if item.span != NOWHERE and item.span < row.steps[at].span)
    late = tuple(item for item in row.stated if item not in early)
    return replace(row, steps=before, stated=early), replace(row, label=label, steps=behind, stated=late)
