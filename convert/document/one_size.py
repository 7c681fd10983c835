"""A pattern reduced to one of its sizes: plain numbers, its own rows, its own yarn."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal

from msgspec.structs import replace

from convert.document.materials import Amount, Yarn
from convert.document.records import Document, Part, Remark, Row, works
from convert.document.resolving import drops_out, resolved

Values = Mapping[str, tuple[int | None, ...]]


def one_size(document: Document, size: int, values: Values) -> Document:
    """The document of the size with this index. `values` are those of the formulas; one without a value stays.

    Row numbers stay those of the pattern, since its notes may name them.
    """
    things = document.materials
    return replace(
        document,
        sizes=document.sizes[size : size + 1],
        materials=replace(things, yarns=tuple(_yarn(yarn, size) for yarn in things.yarns)),
        specials=resolved(document.specials, size, values),
        parts=tuple(_part(part, document, size, values) for part in document.parts),
    )


def _part(part: Part, document: Document, size: int, values: Values) -> Part:
    items = tuple(_item(item, size, values) for item in part.items if works(item, document, size))
    return replace(part, items=items, make=resolved(part.make, size, values))


def _item(item: Row | Remark, size: int, values: Values) -> Row | Remark:
    if isinstance(item, Remark):
        return replace(item, sizes=())
    row: Row = resolved(replace(item, steps=drops_out(item.steps, size)), size, values)
    return replace(row, sizes=())


def _yarn(yarn: Yarn, size: int) -> Yarn:
    amount = yarn.amount
    own = Amount(_own(amount.balls, size), _own(amount.metres, size), _own(amount.grams, size))
    return replace(yarn, amount=own)


def _own(values: tuple[Decimal, ...], size: int) -> tuple[Decimal, ...]:
    """The size's own of several values; a single one is everybody's."""
    return values[size : size + 1] if len(values) > 1 and size < len(values) else values
