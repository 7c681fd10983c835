"""A finished size that the gauge and the stitches do not come to."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from itertools import permutations

from convert.checks.check import Check, Facts, sizes_together
from convert.checks.telling import size_ids
from convert.document.lengths import CENTIMETRES, tidy
from convert.document.sizing import Measure, Size
from convert.document.units import sides_told
from convert.fabric.cells import CHAIN, STITCH
from convert.fabric.proving import SizeRun
from convert.findings import Finding, Severity
from convert.grader.measuring import PartMeasure, SizeMeasure
from convert.terms.naming import write_prose
from convert.trade.headings import section_of

CHECK = Check(
    "finished-size-off",
    Severity.WARNING,
    "the stated size is not what stitches and rows come to by the gauge",
    """
Stitches divided by the gauge are the width, rows divided by the gauge the length; both must come to the size that the pattern states. This is
judged where it can be told without doubt: a gauge of stitches and rows in one stitch, and one part of that stitch, worked flat in rows of one width, or in rounds of one width; no fit that chooses
its numbers (the tolerance of a fit judges those); only targets named width, length, height, depth or circumference, and in a pattern of one size
the "20 x 30 in" under its heading for measurements. Folded once and sewn is right as well. Edgings, blocking and other
stitches than the gauge's change a piece, so 15 percent and always 3 cm are allowed (from memory). Mostly the gauge was changed
after the size was written down. Lace, shells and other groups are left alone: they are as wide as they are pinned.
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: one, name: One, target: {width: 50 cm}}]
gauge: {stitches: 10, rows: 12, over: 10 cm, stitch: sc}
parts:
  - name: Mat
    worked: rows
    rows:
      - "Row 1: Ch 31, sc in 2nd ch from hook and in each ch across, turn. (30 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (30 sc)"
      - "Rep Row 2 22 times more."
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: one, name: One, target: {width: 30 cm}}]
gauge: {stitches: 10, rows: 12, over: 10 cm, stitch: sc}
parts:
  - name: Mat
    worked: rows
    rows:
      - "Row 1: Ch 31, sc in 2nd ch from hook and in each ch across, turn. (30 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (30 sc)"
      - "Rep Row 2 22 times more."
""",
    "yaml",
)
_SHARE, _ALWAYS = 0.15, 3.0
_MOSTLY = 0.8
"""The share of the rows that must be of the gauge's stitch."""
_SECTIONS = {"measurements", "sizes"}
_FLAT = ("width", "length", "height", "depth")
_ROUND = ("circumference", "length", "height", "depth")


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Every target of a plain piece that its stitches and rows do not come to."""
    gauge = facts.document.gauge
    if facts.measured is None or len(facts.document.parts) != 1:
        return
    if gauge is None or not gauge.stitch or not gauge.counted or not gauge.rows:
        return
    chosen = {fit.target for fit in facts.document.fits}
    told = _told(facts)
    for at, (size, found) in enumerate(zip(facts.document.sizes or told, facts.measured.sizes, strict=False)):
        missed = list(_off(size, found, chosen))
        for target, comes in missed if missed and _is_plain(facts.runs[at], gauge.stitch) else ():
            length = target.length
            unit = length.unit
            measure = f"{tidy(Decimal(str(round(comes, 2))) / CENTIMETRES[unit], 1)} {unit}"
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"The {target.name} comes to {measure} by the gauge, and {length.said} are stated.",
                size.span,
                size_ids(facts, at),
                expected=length.said,
                found=measure,
                hint="Check the gauge, the number of stitches or rows, and the size.",
            )


def _told(facts: Facts) -> tuple[Size, ...]:
    """The size of a pattern in one size as its section of measurements tells it: "20 x 30 in"."""
    document = facts.document
    for section in document.sections:
        if section_of(section.heading) not in _SECTIONS:
            continue
        for paragraph in section.paragraphs:
            sides = sides_told(write_prose(paragraph, document.written, document.specials))
            if sides is not None:
                wide, long, words = sides
                place = facts.where(words, section.span)
                return (Size("", "", (Measure("width", wide), Measure("length", long)), span=place),)
    return ()


def _is_plain(run: SizeRun, stitch: str) -> bool:
    """Whether every row is of stitches side by side, without spaces or groups, and nearly all of them of this one."""
    made = [outcome.made for worked in run.rows for _, outcome in worked.each if outcome.made is not None]
    rows = [[cell for loop in strip.loops for cell, _ in loop.runs] for strip in made]
    own = [row for row in rows if all(cell.sort == CHAIN or cell.kind == stitch for cell in row)]
    side_by_side = all(cell.sort in (STITCH, CHAIN) and not cell.unit for row in rows for cell in row)
    return side_by_side and len(own) >= _MOSTLY * len(rows)


def _off(size: Size, found: SizeMeasure, chosen: set[str]) -> Iterator[tuple[Measure, float]]:
    """The targets that are missed, with what the piece comes to."""
    (part,) = found.parts
    sides = _sides(part)
    if sides is None:
        return
    rounds, wide, long = sides
    targets = [m for m in size.target if m.name in (_ROUND if rounds else _FLAT)]
    if (
        not targets
        or any(m.name in chosen for m in size.target)
        or len({m.name for m in targets} - {"width", "circumference"}) > 1
    ):
        return
    across = next((m for m in targets if m.name in ("width", "circumference")), None)
    along = next((m for m in targets if m is not across), None)
    # A piece may be worked along its length: it is right either way round.
    ways = [(wide, long)] if rounds else list(permutations((wide, long)))
    misses = [[(m, v) for m, v in ((across, a), (along, b)) if m is not None and not _near(m, v)] for a, b in ways]
    yield from min(misses, key=len)


def _near(target: Measure, comes: float) -> bool:
    """Whether the piece may measure so: as it lies, or folded once and sewn."""
    wanted = float(target.length.cm)
    return any(abs(comes - wanted * folds) <= max(_SHARE * wanted * folds, _ALWAYS) for folds in (1, 2))


def _sides(part: PartMeasure) -> tuple[bool, float, float] | None:
    """Whether it is worked in rounds, its width and its length; None where it is no plain rectangle or tube."""
    if not part.whole or part.make != 1 or not part.widest or not part.length or not part.narrowest:
        return None
    rounds = {row.round for row in part.worked if row.stitches}
    if len(rounds) != 1 or part.widest - part.narrowest > 0.05 * part.widest:
        return None
    return rounds.pop(), part.widest, part.length
