"""A pattern with every row on a line of its own, for makers who tick off one row after the other."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.records import Document, Label, Part, Remark, Row, RowKind
from convert.document.resolving import resolved_number
from convert.document.steps import Again

Values = Mapping[str, tuple[int | None, ...]]
MOST = 2_000
"""Rows that one pattern is written out to; beyond, ranges stay ranges."""


def each_row(document: Document, size: int | None, values: Values) -> Document:
    """The document with row ranges and repeated rows written out.

    What is worked differently often by the sizes is written out for the one size with the index `size` only. Rows
    worked again state no counts of their own: those stated were those of the first time.
    """
    sizes = (size,) if size is not None else tuple(range(document.size_count))
    longer = replace(document, parts=tuple(_part(part, sizes, values) for part in document.parts))
    return longer if sum(len(part.items) for part in longer.parts) <= MOST else document


def _part(part: Part, sizes: tuple[int, ...], values: Values) -> Part:
    items: list[Row | Remark] = []
    for index, item in enumerate(part.items):
        behind = part.items[index + 1 :]
        items.extend(_rows(item, items, behind, sizes, values) if isinstance(item, Row) else (item,))
    return replace(part, items=tuple(items))


def _rows(
    row: Row, before: list[Row | Remark], behind: tuple[Row | Remark, ...], sizes: tuple[int, ...], values: Values
) -> Iterator[Row]:
    """The row as the rows that it stands for; itself where it stands for one, or for more than can be told."""
    row = _in_one_size(row, sizes)
    numbers = row.label.numbers
    again = row.steps[0] if len(row.steps) == 1 and isinstance(row.steps[0], Again) else None
    if row.label.starts is not None or row.label.ends is not None:
        yield row
    elif len(numbers) > 1 and again is None:
        for number in numbers:
            yield replace(row, label=replace(row.label, first=number, last=None, rest=()))
    elif row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND) and again is None:
        times = _times(row.label.repeat, sizes, values) or 1
        yield from (replace(row, label=replace(row.label, repeat=1)) for _ in range(times)) if times > 1 else (row,)
    elif again is not None and not row.sizes:
        yield from _worked_again(row, again, before, behind, sizes, values) or (row,)
    else:
        yield row


def _in_one_size(row: Row, sizes: tuple[int, ...]) -> Row:
    """The row with the numbers of the one size that is written, where there is one."""
    return replace(row, label=row.label.in_size(sizes[0])) if len(sizes) == 1 else row


def _times(number: Number | None, sizes: tuple[int, ...], values: Values) -> int | None:
    """A number that is the same in all these sizes; None where it is not, or not known, or too large."""
    if number is None:
        return None
    found = {resolved_number(number, size, values) for size in sizes}
    one = found.pop()
    return one if not found and isinstance(one, int) and 0 < one <= MOST else None


def _worked_again(
    row: Row,
    again: Again,
    before: list[Row | Remark],
    behind: tuple[Row | Remark, ...],
    sizes: tuple[int, ...],
    values: Values,
) -> list[Row]:
    """The rows that "Rep Rnds 3 and 4, 5 times more" or "Rnds 5-14: Rep Rnds 3 and 4" mean; empty if unknown."""
    meant = [item for item in before if isinstance(item, Row) and _is_meant(item, again)]
    labels = row.label.numbers
    wanted = len(labels) if labels else (_times(again.times, sizes, values) or 0) * len(meant)
    if not meant or again.part is not None or again.words or again.until is not None or again.first < 1 or not wanted:
        return []
    if len(meant) != again.last - again.first + 1 or any(item.sizes for item in meant) or wanted > MOST:
        return []
    numbers = labels or _free_numbers(before, behind, wanted)
    rows = [_copy(meant[n % len(meant)], numbers[n] if numbers else None) for n in range(wanted)]
    return [*rows[:-1], replace(rows[-1], stated=row.stated)]


def _is_meant(row: Row, again: Again) -> bool:
    return row.label.first is not None and again.first <= row.label.first <= again.last and row.label.last is None


def _free_numbers(before: list[Row | Remark], behind: tuple[Row | Remark, ...], wanted: int) -> tuple[int, ...]:
    """Numbers that go on from the rows before, if none behind has them; empty otherwise."""
    last = max((n for item in before if isinstance(item, Row) for n in item.label.numbers), default=0)
    taken = {n for item in behind if isinstance(item, Row) for n in item.label.numbers}
    numbers = tuple(range(last + 1, last + 1 + wanted))
    return () if taken & set(numbers) else numbers


def _copy(row: Row, number: int | None) -> Row:
    kind = RowKind.NEXT_ROUND if row.label.kind.is_round else RowKind.NEXT_ROW
    label = Label(kind) if number is None else replace(row.label, first=number, side=None)
    return replace(row, label=label, stated=(), extra=())
