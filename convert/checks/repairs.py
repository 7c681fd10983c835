"""Looks for the one number whose change makes a row come out, to propose it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.checks.check import Facts
from convert.document.records import Row
from convert.document.resolving import drops_out, resolved
from convert.document.steps import Place, Step
from convert.fabric.counts import agrees
from convert.fabric.jobs import Edge, Outcome, RowJob
from convert.fabric.parts import WorkedRow
from convert.fabric.proving import definitions_for
from convert.fabric.rows import work_row
from convert.instructions.wording import Wording
from convert.instructions.writer import write_steps

_CHANGES = (1, -1, 2, -2)
_MOST = 120


def repair_for(facts: Facts, row: Row, worked: WorkedRow, size: int) -> str:
    """A hint that names the one change of a number with which the row fits and makes its stated count; empty if
    none does.
    """
    outcome = worked.outcome
    if outcome is None or outcome.base is None or not worked.stated or worked.worked != 1:
        return ""
    steps = resolved(drops_out(row.steps, size), size, facts.values)
    wording = Wording(facts.document.written, facts.document.specials)
    for tried, (old, new, changed) in enumerate(_changed(steps)):
        if tried >= _MOST:
            break
        if _fits(facts, changed, worked, outcome):
            before, after = write_steps((old,), wording).rstrip("."), write_steps((new,), wording).rstrip(".")
            shown, stood = _where_they_differ(after, before)
            return f"“{shown}” instead of “{stood}” would make the count right. Or the count should change."
    return ""


def _where_they_differ(one: str, other: str) -> tuple[str, str]:
    """The words in which two wordings differ, with two words behind and, inside a bracket, the word before.

    >>> _where_they_differ("[sc, inc] 5 times", "[sc, inc] 4 times")
    ('5 times', '4 times')
    >>> _where_they_differ("sc in next 5 sts, inc", "sc in next 4 sts, inc")
    ('next 5 sts, inc', 'next 4 sts, inc')
    """
    left, right = one.split(), other.split()
    first = next((i for i, (a, b) in enumerate(zip(left, right, strict=False)) if a != b), 0)
    begin = first if first and left[first - 1].endswith(("]", ")")) else max(0, first - 1)
    return " ".join(left[begin : first + 3]), " ".join(right[begin : first + 3])


def _fits(facts: Facts, steps: tuple[Step, ...], worked: WorkedRow, outcome: Outcome) -> bool:
    base = outcome.base
    assert base is not None
    # Only this row's group names are looked up: many rows may be wrong, and each is tried in many ways.
    part = replace(facts.document.parts[0], items=(worked.row,))
    job = RowJob(
        steps,
        worked.stated,
        outcome.edge.flat or False,
        facts.document.beginning_chains,
        definitions_for(replace(facts.document, parts=(part,))),
    )
    # The base stands in working order already: an edge that is not turned hands it on as it is.
    edge = Edge(base, fresh=False, flat=None)
    again = work_row(job, edge)
    return (
        not again.faults
        and again.made is not None
        and all(agrees(again.made, item, 0) is not False for item in worked.stated)
    )


def _changed(steps: tuple[Step, ...]) -> Iterator[tuple[Step, Step, tuple[Step, ...]]]:
    """Every way to change one number of the steps a little: the old step, the new one, and all of the steps."""
    for index, step in enumerate(steps):
        for new in _variants(step):
            yield step, new, (*steps[:index], new, *steps[index + 1 :])


def _variants(node: Any) -> Iterator[Any]:
    for name in node.__struct_fields__:
        value = getattr(node, name)
        if name in ("number", "times", "each", "legs") and isinstance(value, int):
            for change in _CHANGES:
                if value + change > 0:
                    yield replace(node, **{name: value + change})
        elif isinstance(value, Place) or (name == "steps" and isinstance(value, tuple)):
            yield from _inside(node, name, value)


def _inside(node: Any, name: str, value: Any) -> Iterator[Any]:
    if isinstance(value, Place):
        for new in _variants(value):
            yield replace(node, **{name: new})
        return
    for index, inner in enumerate(value):
        if isinstance(inner, Struct):
            for new in _variants(inner):
                yield replace(node, **{name: (*value[:index], new, *value[index + 1 :])})
