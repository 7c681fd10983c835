"""Which yarn each row is worked with, followed from one change to the next."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from convert.document.records import Document, Part, Row
from convert.document.steps import Again, ChangeColour, Group, Repeat, Step


def yarns_of_rows(document: Document, part: Part) -> dict[int, tuple[str, ...]]:
    """For each place in the part's items that is a row: the yarns it is worked with, by the names the rows call them.

    Empty for a pattern with one yarn, and before the first change of a part. Rows worked again bring their own changes.
    """
    if len(document.materials.yarns) < 2:
        return {}
    found: dict[int, tuple[str, ...]] = {}
    numbered: dict[int, tuple[str, ...]] = {}
    current = ""
    for index, item in enumerate(part.items):
        if not isinstance(item, Row):
            continue
        used = _of_row(item, current, numbered)
        found[index] = used
        numbered.update(dict.fromkeys(item.label.numbers, used))
        current = used[-1] if used else current
    return found


def _of_row(row: Row, current: str, numbered: dict[int, tuple[str, ...]]) -> tuple[str, ...]:
    again = next((step for step in row.steps if isinstance(step, Again)), None)
    if again is not None and again.first > 0:
        used = [yarn for number in range(again.first, again.last + 1) for yarn in numbered.get(number, ())]
        return tuple(dict.fromkeys([*used[1:], *used[:1]] if used[-1:] == used[:1] else used))
    changes = list(_changes(row.steps))
    starts = bool(row.steps) and isinstance(row.steps[0], ChangeColour)
    used = ([] if starts or not current else [current]) + changes
    return tuple(dict.fromkeys(used))


def _changes(steps: tuple[Step, ...]) -> Iterator[str]:
    for step in steps:
        inner: Any = step
        if isinstance(step, ChangeColour):
            yield step.colour
        elif isinstance(step, Repeat | Group):
            yield from _changes(inner.steps)
