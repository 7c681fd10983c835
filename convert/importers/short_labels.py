"""Tells whether "R5" is a row or a round: the letter alone says neither, the work around it does."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.records import Part, Remark, Row, RowKind, Worked
from convert.document.steps import Begin, Join, Place, Start, Turn, Verbatim, Work
from convert.document.walking import each
from convert.instructions.chains.rings import works_into_ring
from convert.instructions.rows.label import label_match

_AROUND = (Start.ADJUSTABLE_RING, Start.CHAIN_RING, Start.OTHER_SIDE)


def with_rounds(
    items: Sequence[Row | Remark], worked: Worked = Worked.UNSAID, *, before: bool = False
) -> tuple[Row | Remark, ...]:
    """The rows that only a letter labels as rounds, where the part goes around and nothing in it is turned.

    `worked` is what the part says of itself; `before` tells that an earlier part was worked in rounds.
    """
    found: list[Row | Remark] = []
    for stretch in _counted_anew(items):
        around = before or any(isinstance(item, Row) and item.label.kind.is_round for item in found)
        found += _as_rounds(stretch, worked, before=around)
    return tuple(found)


def _counted_anew(items: Sequence[Row | Remark]) -> list[list[Row | Remark]]:
    """The stretches of a part in which rows are counted from one: each is a piece of work by itself."""
    found: list[list[Row | Remark]] = [[]]
    for item in items:
        if isinstance(item, Row) and item.label.first == 1 and _is_short(item):
            found.append([])
        found[-1].append(item)
    return [found[0] + found[1], *found[2:]] if len(found) > 1 else found


def _as_rounds(items: Sequence[Row | Remark], worked: Worked, *, before: bool) -> Sequence[Row | Remark]:
    rows = [item for item in items if isinstance(item, Row)]
    if worked is Worked.ROWS or not any(map(_is_short, rows)):
        return items
    turned = any(True for row in rows for _ in each(row.steps, Turn))
    around = before or any(map(_goes_around, rows)) or _begins_from_nothing(rows[0])
    if worked is Worked.UNSAID and (turned or not around):
        return items
    return [_round(item) if isinstance(item, Row) and (_is_short(item) or _is_next(item)) else item for item in items]


def in_rounds(part: Part) -> bool:
    """Whether a part has rounds."""
    return any(row.label.kind.is_round for row in part.rows)


def _is_short(row: Row) -> bool:
    if row.label.kind is not RowKind.ROW:
        return False
    match = label_match(row.said)
    return match is not None and match["kind"].casefold() == "r"


def _is_next(row: Row) -> bool:
    """Whether a label says no more than that a row is the next: "Next: ..."."""
    match = label_match(row.said) if row.label.kind is RowKind.NEXT_ROW else None
    return match is not None and not match["kind"]


def _goes_around(row: Row) -> bool:
    return (
        any(begin.start in _AROUND for begin in each(row.steps, Begin))
        or any(isinstance(step, Join) for step in row.steps)
        or works_into_ring(row.steps)
    )


def _begins_from_nothing(row: Row) -> bool:
    """ "R1: 6 sc" without a chain and a ring: rows cannot begin so, rounds do in a ring that is left unsaid."""
    made = [step for step in row.steps if not isinstance(step, Verbatim)]
    place = made[0].place if len(made) == 1 and isinstance(made[0], Work) else None
    return row.label.first == 1 and place is not None and place == Place(number=place.number)


def _round(row: Row) -> Row:
    kind = RowKind.NEXT_ROUND if row.label.kind is RowKind.NEXT_ROW else RowKind.ROUND
    return replace(row, label=replace(row.label, kind=kind))
