"""Rows written for each size by itself, put together: one row for all sizes that differ in numbers alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import PerSize
from convert.document.placed import counts
from convert.document.records import Document, Row

Key = tuple[int, ...]
"""Where a row stands: rows of several sizes with one key are the same row, and keys are in the order of the work."""


def merged_rows(document: Document, by_size: Mapping[int, Mapping[Key, Row]]) -> list[Row]:
    """The rows of all these sizes in order. A row that not every size of the document works says whose it is."""
    out: list[Row] = []
    for key in sorted({key for rows in by_size.values() for key in rows}):
        alike: dict[Any, dict[int, Row]] = {}
        for index, rows in by_size.items():
            if key in rows:
                alike.setdefault(_frame(rows[key]), {})[index] = rows[key]
        out += (_merged_row(document, group) for group in alike.values())
    return out


def size_ids(document: Document, indexes: Iterable[int]) -> tuple[str, ...]:
    """The ids of the sizes with these indexes; empty where those are all."""
    found = sorted(indexes)
    if len(found) == document.size_count:
        return ()
    return tuple(document.sizes[index].id for index in found)


def _merged_row(document: Document, group: Mapping[int, Row]) -> Row:
    row: Row = _merged(group, document.size_count)
    return replace(row, sizes=size_ids(document, group))


@cache
def _fields(kind: Any) -> tuple[tuple[str, bool], ...]:
    """The fields that carry meaning, and whether each holds a number that may differ by size."""
    types = kind.__annotations__
    return tuple((name, types[name].startswith("Number")) for name in kind.__struct_fields__ if counts(name))


_NUMBER = "n"


def _frame(node: Any) -> Any:
    """A tree with a mark in place of each number that may differ by size; equal frames can be merged."""
    if isinstance(node, tuple):
        return tuple(map(_frame, node))
    if not isinstance(node, Struct):
        return node
    kind: Any = type(node)
    values = ((name, getattr(node, name), numeric) for name, numeric in _fields(kind))
    return (
        kind,
        *(_NUMBER if numeric and isinstance(value, int) else (name, _frame(value)) for name, value, numeric in values),
    )


def _merged(nodes: Mapping[int, Any], count: int) -> Any:
    """Trees of one frame as one tree, with the numbers of each size; none for a size that is not among them."""
    first = next(iter(nodes.values()))
    if all(node == first for node in nodes.values()):
        return first
    if isinstance(first, int):
        return PerSize(tuple(nodes.get(index) for index in range(count)))
    if isinstance(first, tuple):
        return tuple(_merged({index: node[at] for index, node in nodes.items()}, count) for at in range(len(first)))
    kind: Any = type(first)
    found = {
        name: _merged({index: getattr(node, name) for index, node in nodes.items()}, count) for name, _ in _fields(kind)
    }
    return replace(first, **found)
