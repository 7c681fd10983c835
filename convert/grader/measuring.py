"""What each piece measures and takes of yarn, from the rows as they were executed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct

from convert.document.records import Document, Part, Row
from convert.document.steps import Chain, ChangeColour, FastenOff, Marker, Turn, Verbatim
from convert.fabric.cells import CHAIN, SPACE, Strip
from convert.fabric.places.place import base_kind
from convert.fabric.proving import SizeRun
from convert.fabric.rows.jobs import Outcome
from convert.grader.rates import Rates, rates_of
from convert.grader.results import Grading
from convert.grader.row_yarn import first_colour, last_colour, uses
from convert.grader.shapes import Course, Lengths, finished, in_rounds, in_rows
from convert.grader.yarn_needs import Need, needs
from convert.trade.stitches import stitches

_CHAIN_WIDTH = 1.0
"""A chain of a space lies about as wide as a stitch (common practice, no source)."""
_NO_WORK = (FastenOff, Turn, Marker, ChangeColour, Verbatim)


class WorkedRow(Struct, frozen=True):
    """One row or round as worked: stitches, width in single crochets (US), height beside one, units of yarn.

    `uses` is the yarn by what the rows call it, beside that of one single crochet.
    """

    stitches: int
    wide: float
    tall: float
    uses: Mapping[str, float]
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
    make: int = 1
    """How many of the part are made."""
    more: Lengths = ()
    """Diagonal, side and their like, by their names."""


class SizeMeasure(Struct, frozen=True):
    """One size: its parts and its yarn."""

    size: str
    parts: tuple[PartMeasure, ...]
    yarn: tuple[Need, ...]
    finished: Lengths = ()
    """Diagonal, side and their like of the finished piece, edgings and all, by their names."""


class Measured(Struct, frozen=True):
    """Every size. `rests_on` says what the lengths are worked out from."""

    sizes: tuple[SizeMeasure, ...]
    rests_on: str


def measure(document: Document, grading: Grading, runs: tuple[SizeRun, ...]) -> Measured:
    """Measurements and yarn of every size."""
    sizes, rates = [], rates_of(document)
    for index, size in enumerate(grading.sizes):
        parts = tuple(_part(document, run, rates) for run in runs if run.size == index)
        sizes.append((size.size, parts))
    yarn = needs(document, [[(part.worked, part.make) for part in parts] for _, parts in sizes])
    whole = [
        finished(document.shape, {c.fit.target: float(c.measures.cm) for c in size.chosen}) for size in grading.sizes
    ]
    made = tuple(SizeMeasure(id, parts, need, more) for (id, parts), need, more in zip(sizes, yarn, whole, strict=True))
    return Measured(made, rates.rests_on)


def _make(part: Part, index: int) -> int:
    make = part.make
    if isinstance(make, int):
        return make
    value = getattr(make, "values", (1,))
    return (value[index] if index < len(value) else None) or 0


def _part(document: Document, run: SizeRun, rates: Rates) -> PartMeasure:
    worked = tuple(worked_rows(document, run)) if not run.chains else ()
    whole = (
        not run.chains
        and run.limit is None
        and all(w.outcome is None or (_is_counted(w.outcome) and not w.open_end) for w in run.rows)
    )
    wide = [row.wide * rates.wide for row in worked if row.wide] if rates.wide else []
    tall = sum(row.tall for row in worked) * rates.tall if rates.tall else None
    narrow, widest = (min(wide), max(wide)) if wide else (None, None)
    make, more = _make(run.part, run.size), _more(document, worked, rates) if whole else ()
    return PartMeasure(run.part.id, run.part.name, len(worked), narrow, widest, tall, whole, worked, make, more)


def _is_counted(outcome: Outcome) -> bool:
    """Whether it is known what a row makes, and the count is that of the piece."""
    return outcome.made is not None and not outcome.edge.turns


def _more(document: Document, worked: tuple[WorkedRow, ...], rates: Rates) -> Lengths:
    """What the outline of the piece tells; the shape of the pattern is that of its only piece."""
    if not rates.wide or not rates.tall:
        return ()
    courses = [Course(row.wide * rates.wide, row.tall * rates.tall) for row in worked]
    rounds = {row.round for row in worked}
    if rounds == {False}:
        return in_rows(courses)
    return in_rounds(courses, document.shape if len(document.parts) == 1 else "") if rounds == {True} else ()


def worked_rows(document: Document, run: SizeRun) -> Iterator[WorkedRow]:
    """Every row of a part as it was worked, in order."""
    colour = document.materials.yarns[0].key if document.materials.yarns else ""
    pending: Chain | None = None
    before: tuple[Row, Outcome, str, Chain | None] | None = None
    worked: WorkedRow | None = None
    for line in run.rows:
        for row, outcome in line.each:
            first = first_colour(row, colour)
            if (
                outcome.made is not None
                and _is_counted(outcome)
                and not all(isinstance(step, _NO_WORK) for step in row.steps)
            ):
                same = before is not None and all(
                    a is b for a, b in zip(before, (row, outcome, first, pending), strict=True)
                )
                if worked is None or not same:
                    yarn = uses(row, outcome, first, pending)
                    worked = _row(row, outcome.made, yarn, outcome.edge.flat)
                before = (row, outcome, first, pending)
                yield worked
            colour = last_colour(row, outcome, first)
            pending = outcome.edge.pending


def _row(row: Row, made: Strip, yarn: Mapping[str, float], flat: bool | None) -> WorkedRow:
    total = wide = tall = weight = low = lying = 0.0
    for loop in made.loops:
        for cell, number in loop.runs:
            many = number * loop.times
            if cell.sort == SPACE:
                wide += _CHAIN_WIDTH * many
                continue
            stitch = stitches().get(base_kind(cell.kind))
            if cell.sort == CHAIN or stitch is None:
                wide += many
                continue
            total += many
            wide += stitch.wide * many
            share = max(stitch.wide, 0.1) * many
            if stitch.height == 0:
                low, lying = low + stitch.tall * share, lying + share
            else:
                tall, weight = tall + stitch.tall * share, weight + share
    # Slip stitches on their way to where the row goes on lie flat on the row below; only by themselves are they a row.
    height = tall / weight if weight else low / lying if lying else 0.0
    return WorkedRow(int(total), wide, height, yarn, flat is False, row)
