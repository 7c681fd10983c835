"""Work in rounds that is meant to lie flat and cannot."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import pi

from convert.checks.check import Check, Facts, label_of, sizes_together
from convert.checks.telling import body_span, size_ids
from convert.document.records import Document
from convert.document.sizing import Along
from convert.findings import Finding, Severity
from convert.grader.grading import per_cm
from convert.grader.measuring import WorkedRow, worked_rows
from convert.trade.stitches import stitches

CHECK = Check(
    "not-flat",
    Severity.WARNING,
    "rounds grow too fast or too slowly to lie flat",
    """
A flat circle needs 6.28 stitches' widths of edge for every stitch's width of radius, a square 8, other shapes something between. Where
the edge is much longer than that the work ruffles; where it is much shorter it cups. It is told only of pieces that are measured across
(a fit with `across: 2`), since tubes, cones and balls are meant to leave the plane, and only outside a wide margin.
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: one, name: One, target: {width: 20 cm}}]
fits: [{number: more, target: width, along: rows, plus: 6, across: 2}]
gauge: {stitches: 16, rows: 16, over: 10 cm, stitch: sc}
parts:
  - name: Mat
    worked: spiral
    rows:
      - "Rnd 1: 6 sc in adjustable ring. (6 sc)"
      - "Rnd 2: 2 sc in each st around. (12 sc)"
      - "Rnd 3: 2 sc in each st around. (24 sc)"
      - "Rnd 4: 2 sc in each st around. (48 sc)"
      - "Rnd 5: 2 sc in each st around. (96 sc)"
      - "Rnd 6: 2 sc in each st around. (192 sc)"
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: one, name: One, target: {width: 10 cm}}]
fits: [{number: more, target: width, along: rows, plus: 6, across: 2}]
gauge: {stitches: 16, rows: 16, over: 10 cm, stitch: sc}
parts:
  - name: Mat
    worked: spiral
    rows:
      - "Rnd 1: 6 sc in adjustable ring. (6 sc)"
      - "Rnd 2: 2 sc in each st around. (12 sc)"
      - "Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (18 sc)"
      - "Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24 sc)"
      - "Rnd 5: *Sc in next 3 sts, 2 sc in next st; rep from * around. (30 sc)"
      - "Rnd 6: *Sc in next 4 sts, 2 sc in next st; rep from * around. (36 sc)"
""",
    "yaml",
)
CIRCLE, SQUARE = 2 * pi, 8.0
"""Edge beside the distance from the centre to the middle of a side: least for a circle, most for a square (geometry)."""
_SLACK = 1.3
_FROM = 4
"""The first rounds are too few stitches to tell."""


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """The round where a piece begins to leave the plane, if it stays out of it to the end."""
    if not any(fit.across == 2 and fit.along is Along.ROWS for fit in facts.document.fits):
        return
    for run in facts.runs:
        rows = list(worked_rows(facts.document, run))
        shape = ratios(facts.document, rows)
        if len(rows) < _FROM or not shape or not all(row.round for row in rows):
            continue
        for word, outside in (("ruffle", _too_long(shape)), ("cup", _too_short(shape))):
            at = _stays(outside)
            if at is not None:
                growth = _growth(facts.document, rows[at - 1], rows[at])
                yield _finding(facts, rows[at], run.size, word, shape[at], growth)


def ratios(document: Document, rows: Sequence[WorkedRow]) -> list[float]:
    """Length of the edge beside the distance from the centre, after every round; empty without a whole gauge."""
    gauge = document.gauge
    across, along = per_cm(gauge, Along.STITCHES), per_cm(gauge, Along.ROWS)
    if gauge is None or not across or not along:
        return []
    per = stitches().get(gauge.stitch or "sc") or stitches()["sc"]
    found, radius = [], 0.0
    for row in rows:
        radius += row.tall / (per.tall or 1) / float(along)
        edge = row.wide / (per.wide or 1) / float(across)
        found.append(edge / radius if radius else 0.0)
    return found


def _growth(document: Document, before: WorkedRow, row: WorkedRow) -> tuple[float, float]:
    """By how many of its own stitches a round grows, and its height beside the width of one of them."""
    gauge = document.gauge
    across, along = per_cm(gauge, Along.STITCHES), per_cm(gauge, Along.ROWS)
    per = stitches().get((gauge.stitch if gauge is not None else None) or "sc") or stitches()["sc"]
    one = row.wide / max(row.stitches, 1)
    if not across or not along or not one:
        return 0.0, 0.0
    high = row.tall / (per.tall or 1) * (per.wide or 1) * float(across / along)
    return (row.wide - before.wide) / one, high / one


def _too_long(shape: Sequence[float]) -> list[bool]:
    return [value > SQUARE * _SLACK for value in shape]


def _too_short(shape: Sequence[float]) -> list[bool]:
    return [value < CIRCLE / _SLACK for value in shape]


def _stays(outside: Sequence[bool]) -> int | None:
    """Where the last stretch that reaches to the end begins; None where it is shorter than two rounds."""
    at = len(outside)
    while at > 0 and outside[at - 1]:
        at -= 1
    at = max(at, _FROM - 1)
    return at if len(outside) - at >= 2 else None


def _finding(facts: Facts, row: WorkedRow, size: int, word: str, ratio: float, growth: tuple[float, float]) -> Finding:
    """`growth` is by how many stitches the round grows, and its height beside the width of one."""
    more = "more" if word == "ruffle" else "less"
    made, high = growth
    circle, square = CIRCLE * high, SQUARE * high
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"The work will {word} from {label_of(row.row)} on: its edge is {ratio:.1f} times the distance from the centre, "
        f"{more} than a flat shape has. The round grows by {made:.0f} stitches, its height asks for "
        f"{circle:.1f} (circle) to {square:.1f} (square, {square / 4:.1f} at each corner).",
        body_span(row.row),
        size_ids(facts, size),
        expected=f"{CIRCLE:.1f} (circle) to {SQUARE:.0f} (square) times",
        found=f"{ratio:.1f} times",
        hint="Change the increases of a round, or the gauge if its rows were not measured.",
    )
