"""What each piece measures and takes of yarn, from the rows as they were executed."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from convert.document.records import Along, Document, Part, Row
from convert.document.steps import Chain, ChangeColour, FastenOff, Marker, Turn, Verbatim
from convert.document.walking import each
from convert.fabric.cells import CHAIN, SPACE, Strip
from convert.fabric.places import base_kind
from convert.fabric.proving import SizeRun
from convert.grader.grading import per_cm
from convert.grader.results import Grading
from convert.grader.yarn_needs import Need, needs
from convert.trade.stitches import stitches
from convert.trade.yarn_use import use_of

_CHAIN_WIDTH = 1.0
"""A chain of a space lies about as wide as a stitch (common practice, no source)."""
_NO_WORK = (FastenOff, Turn, Marker, ChangeColour, Verbatim)


class WorkedRow(Struct, frozen=True):
    """One row or round as worked: stitches, width in single crochets (US), height beside one, units of yarn.

    `use` is the yarn beside that of one single crochet.
    """

    stitches: int
    wide: float
    tall: float
    use: float
    colour: str
    round: bool
    row: Row


class PartMeasure(Struct, frozen=True):
    """One part in one size. Lengths in centimetres; None where the gauge does not tell them.

    `rows` is the number of rows worked. `whole` tells whether every row was executed: if not, what follows is
    less than the truth.
    """

    part: str
    name: str
    rows: int
    narrowest: float | None
    widest: float | None
    length: float | None
    whole: bool
    worked: tuple[WorkedRow, ...]


class SizeMeasure(Struct, frozen=True):
    """One size: its parts and its yarn."""

    size: str
    parts: tuple[PartMeasure, ...]
    yarn: tuple[Need, ...]


class Measured(Struct, frozen=True):
    """Every size. `rests_on` says what the lengths are worked out from."""

    sizes: tuple[SizeMeasure, ...]
    rests_on: str


def measure(document: Document, grading: Grading, runs: tuple[SizeRun, ...]) -> Measured:
    """Measurements and yarn of every size."""
    sizes = []
    for index, size in enumerate(grading.sizes):
        parts = tuple(_part(document, run) for run in runs if run.size == index)
        makes = tuple(_make(run.part, index) for run in runs if run.size == index)
        sizes.append((size.size, parts, makes))
    yarn = needs(document, [[(p.worked, make) for p, make in zip(ps, ms, strict=True)] for _, ps, ms in sizes])
    made = tuple(SizeMeasure(id, parts, need) for (id, parts, _), need in zip(sizes, yarn, strict=True))
    return Measured(made, _rests_on(document))


def _make(part: Part, index: int) -> int:
    make = part.make
    if isinstance(make, int):
        return make
    value = getattr(make, "values", (1,))
    return (value[index] if index < len(value) else None) or 0


def _rests_on(document: Document) -> str:
    if document.gauge is None:
        return "no gauge: lengths cannot be told"
    stitch = document.gauge.stitch
    measured = f" in {stitch}" if stitch else ""
    return f"the gauge{measured}; other stitches by their usual height beside it"


def _part(document: Document, run: SizeRun) -> PartMeasure:
    worked = tuple(worked_rows(document, run))
    whole = run.limit is None and all(
        w.outcome is None or (w.outcome.made is not None and not w.open_end) for w in run.rows
    )
    gauge = document.gauge
    across, along = per_cm(gauge, Along.STITCHES), per_cm(gauge, Along.ROWS)
    per = stitches().get((gauge.stitch if gauge is not None else None) or "sc") or stitches()["sc"]
    wide = [row.wide / (per.wide or 1) / float(across) for row in worked if row.wide] if across else []
    tall = sum(row.tall for row in worked) / (per.tall or 1) / float(along) if along else None
    narrow, widest = (min(wide), max(wide)) if wide else (None, None)
    return PartMeasure(run.part.id, run.part.name, len(worked), narrow, widest, tall, whole, worked)


def worked_rows(document: Document, run: SizeRun) -> Iterator[WorkedRow]:
    """Every row of a part as it was worked, in order."""
    colour = document.materials.yarns[0].key if document.materials.yarns else ""
    for line in run.rows:
        for row, outcome in line.each:
            colours = tuple(step.colour for step in each(row.steps, ChangeColour))
            colour = colours[0] if colours else colour
            if outcome.made is not None and not all(isinstance(step, _NO_WORK) for step in row.steps):
                yield _row(row, outcome.made, colour, outcome.edge.flat)
            colour = colours[-1] if colours else colour


def _row(row: Row, made: Strip, colour: str, flat: bool | None) -> WorkedRow:
    total = wide = tall = use = weight = 0.0
    for loop in made.loops:
        for cell, number in loop.runs:
            many = number * loop.times
            if cell.sort == SPACE:
                wide += _CHAIN_WIDTH * many
                use += use_of("chain") * cell.chains * many
                continue
            stitch = stitches().get(base_kind(cell.kind))
            if cell.sort == CHAIN or stitch is None:
                wide += many
                use += use_of("chain") * many
                continue
            total += many
            wide += stitch.wide * many
            tall += stitch.tall * max(stitch.wide, 0.1) * many
            weight += max(stitch.wide, 0.1) * many
            # A beginning chain that stands for a stitch takes the yarn of its chains, which are counted below.
            use += 0 if cell.chains else use_of(cell.kind) * many
    begin = sum(step.number for step in row.steps[:3] if isinstance(step, Chain) and isinstance(step.number, int))
    height = tall / weight if weight else 0.0
    use += use_of("chain") * begin
    return WorkedRow(int(total), wide, height, use, colour, flat is False, row)
