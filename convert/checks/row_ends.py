"""Stitches picked up along the ends of rows, against the length of that edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from convert.checks.check import Check, Facts, each_of, sizes_together
from convert.checks.telling import body_span, size_ids
from convert.document.records import Row
from convert.document.resolving import resolved
from convert.document.sizing import Along
from convert.document.steps import Extent, Repeat, Skip, Step, What, Which, Work
from convert.fabric.proving import SizeRun
from convert.findings import Finding, Severity
from convert.grader.grading import per_cm
from convert.grader.measuring import worked_rows
from convert.trade.stitches import stitches

CHECK = Check(
    "row-ends",
    Severity.WARNING,
    "stitches along the ends of rows that are too many or too few for that edge",
    """
The ends of rows make an edge as long as the rows are high. Too few stitches along it draw it in, too many make it wave. The rows worked,
their stitches and the gauge tell how long the edge is and how many stitches lie flat there. It is told only of straight edges, where the
number of stitches is given, and outside a margin of a quarter.
""",
    """
format: "1"
title: Panel
terms: us
gauge: {stitches: 16, rows: 18, over: 10 cm, stitch: sc}
parts:
  - name: Panel
    worked: rows
    rows:
      - "Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn. (20 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (20 sc)"
      - "Rep Row 2 34 times more."
      - "Next row: Ch 1, 18 sc evenly along row ends, turn. (18 sc)"
""",
    """
format: "1"
title: Panel
terms: us
gauge: {stitches: 16, rows: 18, over: 10 cm, stitch: sc}
parts:
  - name: Panel
    worked: rows
    rows:
      - "Row 1: Ch 21, sc in 2nd ch from hook and in each ch across, turn. (20 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (20 sc)"
      - "Rep Row 2 34 times more."
      - "Next row: Ch 1, 32 sc evenly along row ends, turn. (32 sc)"
""",
    "yaml",
)
_SLACK = 1.25
"""How far off an edge may be that still lies flat (common practice, no source)."""
_LEAST = 3
"""So many stitches too many or too few are hidden in any edge."""
_STRAIGHT = 2
"""Rows of a straight edge differ by no more stitches than this."""


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Every such edge, one finding a row."""
    rows = {
        id(row) for part in facts.document.parts for row in part.rows if any(map(_is_row_end, _flattened(row.steps)))
    }
    for run in facts.runs if rows else ():
        for at, worked in enumerate(run.rows):
            if id(worked.row) in rows:
                steps: tuple[Step, ...] = resolved(worked.row.steps, run.size, facts.values)
                found = _finding(facts, run, at, worked.row, steps)
                if found is not None:
                    yield found


def _flattened(steps: Iterable[Step]) -> Iterator[Step]:
    for step in steps:
        yield from _flattened(step.steps) if isinstance(step, Repeat) else (step,)


def _is_row_end(step: Step) -> bool:
    place = getattr(step, "place", None)
    return place is not None and place.what is What.ROW_END


def _finding(facts: Facts, run: SizeRun, at: int, row: Row, steps: tuple[Step, ...]) -> Finding | None:
    edge = _edge(facts, run, at)
    if edge is None:
        return None
    rows, cm = edge
    for step in steps:
        found = _picked_up(step, rows)
        fitting = _fitting(facts, found[0], cm) if found is not None else None
        if found is None or fitting is None or abs(found[1] - fitting) < _LEAST:
            continue
        if not 1 / _SLACK <= found[1] / fitting <= _SLACK:
            return _told(facts, run, row, found[1], fitting, cm)
    return None


def _edge(facts: Facts, run: SizeRun, at: int) -> tuple[int, float] | None:
    """Rows and length in centimetres of the edge before this row; None where it is not straight or not known."""
    gauge = facts.document.gauge
    along = per_cm(gauge, Along.ROWS)
    before = replace(run, rows=run.rows[:at])
    rows = list(worked_rows(facts.document, before))
    known = all(w.outcome is None or w.outcome.made is not None for w in before.rows)
    if gauge is None or not along or not rows or not known or any(row.round for row in rows):
        return None
    if max(row.stitches for row in rows) - min(row.stitches for row in rows) > _STRAIGHT:
        return None
    per = stitches().get(gauge.stitch or "sc") or stitches()["sc"]
    return len(rows), sum(row.tall for row in rows) / (per.tall or 1) / float(along)


def _picked_up(step: Step, rows: int) -> tuple[str, float] | None:
    """The stitch and how many of it stand along the edge; None where it is not told."""
    if isinstance(step, Work) and _is_row_end(step) and isinstance(step.each, int) and step.place is not None:
        if step.place.which is Which.ANY and step.each > 1:
            return step.stitch, step.each
        if step.place.which is Which.EACH:
            return step.stitch, step.each * -(-rows // step.place.every)
    if isinstance(step, Repeat) and step.extent is Extent.END:
        return _in_turn(step.steps, rows)
    return None


def _in_turn(steps: tuple[Step, ...], rows: int) -> tuple[str, float] | None:
    """The same of a repeat that works some row ends and skips others."""
    made, taken, kinds = 0, 0, set()
    for step in steps:
        number = step.place.number if isinstance(step, Work | Skip) and step.place is not None else None
        if not _is_row_end(step) or not isinstance(number, int):
            return None
        taken += number
        if isinstance(step, Work):
            if not isinstance(step.each, int):
                return None
            made += step.each * number
            kinds.add(step.stitch)
    return (kinds.pop(), rows * made / taken) if len(kinds) == 1 else None


def _fitting(facts: Facts, stitch: str, cm: float) -> float | None:
    """Stitches of this kind that are as wide together as the edge is long."""
    gauge = facts.document.gauge
    across = per_cm(gauge, Along.STITCHES)
    entry = stitches().get(stitch)
    if gauge is None or not across or entry is None or not entry.wide:
        return None
    per = stitches().get(gauge.stitch or "sc") or stitches()["sc"]
    return cm * float(across) * (per.wide or 1) / entry.wide


def _told(facts: Facts, run: SizeRun, row: Row, made: float, fitting: float, cm: float) -> Finding:
    verb = "draw the edge in" if made < fitting else "make the edge wave"
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{each_of(row)} has {made:.0f} stitches along an edge of {cm:.1f} cm, where {fitting:.0f} lie flat: they will {verb}.",
        body_span(row),
        size_ids(facts, run.size),
        expected=f"about {fitting:.0f} stitches",
        found=f"{made:.0f}",
        hint="Change the number of stitches, or the rows of the gauge if they were not measured.",
    )
