"""Rows worked again on other stitches: "Row 2: Sc in each sc. Row 3: *Dc in next st, sc in next st. Row 4: As Row 2."

The name was that of every stitch when the row was first worked, and meant each of them. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Row
from convert.document.steps import Which, Work
from convert.fabric.cells import STITCH
from convert.fabric.parts.run import Run
from convert.fabric.rows.readings import flat_steps
from convert.fabric.rows.recovery import by_any_name, kinds_in


def on_other_stitches(run: Run, row: Row) -> Row:
    """The row as it is meant on the edge: with one stitch in each, whatever that is now called."""
    name = _name_of_each(row)
    now = run.edge.strip
    if name is None or now is None or kinds_in(now) == {name} or name not in kinds_in(now):
        return row
    base = next((outcome.base for worked in run.results for one, outcome in worked.each if one is row), None)
    if base is None or kinds_in(base) != {name} or base.count(lambda cell: cell.sort != STITCH):
        return row
    if now.count(lambda cell: cell.sort != STITCH):
        return row
    return run.memo.even.setdefault(
        (id(row), row.steps), replace(row, steps=tuple(by_any_name(s, name) for s in row.steps))
    )


def _name_of_each(row: Row) -> str | None:
    """The stitch that the row works one stitch into each of, if that is all it works."""
    worked = [step for step in flat_steps(row.steps) if isinstance(step, Work)]
    place = worked[0].place if len(worked) == 1 else None
    each = place is not None and place.which is Which.EACH and not place.also and place.every == 1
    return place.of if place is not None and each else None
