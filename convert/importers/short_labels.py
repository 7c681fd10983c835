"""Tells whether "R5" is a row or a round: the letter alone says neither, the work around it does."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.records import Part, Remark, Row, RowKind, Worked
from convert.document.steps import Begin, Join, Start, Turn
from convert.document.walking import each
from convert.instructions.label import label_match

_AROUND = (Start.ADJUSTABLE_RING, Start.CHAIN_RING, Start.OTHER_SIDE)


def with_rounds(
    items: Sequence[Row | Remark], worked: Worked = Worked.UNSAID, *, before: bool = False
) -> tuple[Row | Remark, ...]:
    """The rows that only a letter labels as rounds, where the part goes around and nothing in it is turned.

    `worked` is what the part says of itself; `before` tells that an earlier part was worked in rounds.
    """
    rows = [item for item in items if isinstance(item, Row)]
    if worked is Worked.ROWS or not any(map(_is_short, rows)):
        return tuple(items)
    turned = any(True for row in rows for _ in each(row.steps, Turn))
    around = before or any(map(_goes_around, rows))
    if worked is Worked.UNSAID and (turned or not around):
        return tuple(items)
    return tuple(_round(item) if isinstance(item, Row) and _is_short(item) else item for item in items)


def in_rounds(part: Part) -> bool:
    """Whether a part has rounds."""
    return any(row.label.kind.is_round for row in part.rows)


def _is_short(row: Row) -> bool:
    if row.label.kind is not RowKind.ROW:
        return False
    match = label_match(row.said)
    return match is not None and match["kind"].casefold() == "r"


def _goes_around(row: Row) -> bool:
    return any(begin.start in _AROUND for begin in each(row.steps, Begin)) or any(
        isinstance(step, Join) for step in row.steps
    )


def _round(row: Row) -> Row:
    return replace(row, label=replace(row.label, kind=RowKind.ROUND))
