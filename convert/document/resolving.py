"""Puts the numbers of one size into instructions: what comes out holds plain numbers only."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Formula, Number, PerSize
from convert.document.records import CountItem, Row
from convert.document.steps import Step

Values = Mapping[str, tuple[int | None, ...]]
"""The value of each formula, by its text, in every size."""


def resolved_number(number: Number, size: int, values: Values) -> Number:
    """The plain number of one size. A formula without a value, and a size without one, stay as they are.

    >>> resolved_number(PerSize((48, 56)), 1, {})
    56
    """
    if isinstance(number, PerSize):
        value = number.values[size] if size < len(number.values) else None
        return number if value is None else value
    if isinstance(number, Formula):
        known = values.get(number.text)
        value = known[size] if known is not None and size < len(known) else None
        return number if value is None else value
    return number


def varies(node: Any) -> bool:
    """Whether anything in the node differs by size."""
    if isinstance(node, PerSize | Formula):
        return True
    if isinstance(node, tuple) and not hasattr(node, "_fields"):
        return any(varies(item) for item in node)
    if isinstance(node, Struct):
        return any(varies(getattr(node, name)) for name in node.__struct_fields__ if name != "span")
    return False


def resolved(node: Any, size: int, values: Values) -> Any:
    """The same tree with the numbers of one size; parts that do not vary are shared, not copied."""
    return _renumbered(node, lambda number: resolved_number(number, size, values))


def with_all_sizes(row: Row, sizes: Sequence[str]) -> Row:
    """The row with a number for every size, where it gives them for its own sizes alone ("Sizes M and L: ... 7 (9)").

    `sizes` are the ids of the document's sizes in their order.
    """
    own = [id in row.sizes for id in sizes]
    if sum(own) in (0, len(sizes)) or not varies((row.steps, row.stated)):
        return row

    def spread(number: PerSize | Formula) -> Number:
        if isinstance(number, Formula) or len(number.values) != sum(own):
            return number
        given = iter(number.values)
        return PerSize(tuple(next(given) if works else None for works in own))

    return replace(row, steps=_renumbered(row.steps, spread), stated=_renumbered(row.stated, spread))


def _renumbered(node: Any, change: Callable[[PerSize | Formula], Number]) -> Any:
    if isinstance(node, PerSize | Formula):
        return change(node)
    if isinstance(node, tuple) and not hasattr(node, "_fields"):
        items = tuple(_renumbered(item, change) for item in node)
        return node if all(a is b for a, b in zip(items, node, strict=True)) else items
    if isinstance(node, Struct):
        changed = {}
        for name in node.__struct_fields__:
            if name != "span":
                old = getattr(node, name)
                new = _renumbered(old, change)
                if new is not old:
                    changed[name] = new
        return replace(node, **changed) if changed else node
    return node


def drops_out(steps: tuple[Step, ...], size: int) -> tuple[Step, ...]:
    """The steps without those that the size leaves out (a dash or 0 among the values per size)."""
    return tuple(step for step in steps if not _left_out(step, size))


def _left_out(step: Step, size: int) -> bool:
    place = getattr(step, "place", None)
    numbers = [getattr(step, "number", None), getattr(step, "times", None), getattr(step, "each", None)]
    numbers.append(getattr(place, "number", None))
    return any(isinstance(n, PerSize) and size < len(n.values) and n.values[size] is None for n in numbers)


def resolved_counts(stated: tuple[CountItem, ...], size: int, values: Values) -> tuple[CountItem, ...]:
    """The stated counts of one size; figures that the size does not have are left out."""
    found: tuple[CountItem, ...] = resolved(stated, size, values)
    return tuple(item for item in found if isinstance(item.number, int))
