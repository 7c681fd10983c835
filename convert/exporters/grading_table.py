"""What grading found out, as one table with the sizes as columns: for a terminal, for a spreadsheet, for programs."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Sequence
from decimal import Decimal
from textwrap import shorten

from msgspec import Struct

from convert.document.lengths import CENTIMETRES, tidy
from convert.document.records import Document
from convert.exporters.display import width
from convert.exporters.in_hand import reach_data, reach_lines, reach_notes
from convert.fabric.results import Proof
from convert.grader.measuring import Measured, PartMeasure, SizeMeasure, WorkedRow
from convert.grader.results import Chosen, Grading
from convert.grader.shapes import Lengths
from convert.grader.yarn_in_hand import Reached
from convert.grader.yarn_needs import Need
from convert.trade.bodies import body
from convert.trade.yarn_use import margins

_RESTS = {
    "sample": "the finished sample, weighed",
    "swatch": "a swatch, counted and weighed",
    "square": "a square, measured and weighed",
    "gauge": "the gauge alone",
    "class": "the usual gauge of the yarn's class alone",
}
_TRACE = 0.05
"""The share of a row's yarn that a join or a beginning chain may be."""
_NAME = 24
"""The most letters of a row without a label that name it."""


class Line(Struct, frozen=True):
    """One line of the table: a group, what it tells, its unit and a value for each size (empty: none)."""

    group: str
    name: str
    unit: str
    values: tuple[str, ...]


def lines(
    document: Document,
    grading: Grading,
    proof: Proof | None,
    measured: Measured | None,
    in_hand: Reached | None = None,
) -> tuple[Line, ...]:
    """Every line in the order of the table."""
    unit = "in" if document.gauge is not None and document.gauge.over.unit == "in" else "cm"
    found = [*_numbers(grading), *_targets(grading, unit)]
    if measured is not None:
        found += _named("targets", "{}, finished", [size.finished for size in measured.sizes], unit)
        found += [*_parts(measured, unit), *_yarn(measured)]
    if in_hand is not None:
        found += [Line("yarn in hand", name, "", values) for name, values in reach_lines(document, in_hand)]
    return (*found, *(_counts(proof) if proof is not None else ()))


def _numbers(grading: Grading) -> Iterator[Line]:
    names = dict.fromkeys(number.name for size in grading.sizes for number in size.numbers)
    for name in names:
        yield Line("numbers", name, "", tuple("" if v is None else str(v) for v in grading.values(name)))


def _targets(grading: Grading, unit: str) -> Iterator[Line]:
    """Target, measurement and deviation of every fit, and the next best numbers."""
    keys = dict.fromkeys((chosen.fit.target, chosen.fit.number) for size in grading.sizes for chosen in size.chosen)
    for target, number in keys:
        found = [_of(size.chosen, target, number) for size in grading.sizes]
        yield Line("targets", target, unit, tuple(_length(float(c.target.cm) if c else None, unit) for c in found))
        yield Line(
            "targets",
            f"{target}, as worked",
            unit,
            tuple(_length(float(c.measures.cm) if c else None, unit) for c in found),
        )
        off = tuple(_length(c.off_cm if c else None, unit, sign=True) for c in found)
        yield Line("targets", f"{target}, off", unit, off)
        if any(c is not None and c.others for c in found):
            others = tuple(" or ".join(map(str, c.others)) if c is not None else "" for c in found)
            yield Line("targets", f"{number}, next best", "", others)


def _of(chosen: Sequence[Chosen], target: str, number: str) -> Chosen | None:
    return next((c for c in chosen if (c.fit.target, c.fit.number) == (target, number)), None)


def _length(cm: float | None, unit: str, *, sign: bool = False) -> str:
    """Centimetres to the half, inches to the quarter, as the trade rounds them; deviations to a tenth."""
    if cm is None:
        return ""
    value = Decimal(str(cm)) / CENTIMETRES[unit]
    if sign:
        return f"{'+' if round(value, 1) > 0 else ''}{tidy(value, 1)}"
    parts = 4 if unit == "in" else 2
    return tidy(Decimal(round(value * parts)) / parts, 2)


def _parts(measured: Measured, unit: str) -> Iterator[Line]:
    for at, part in enumerate(measured.sizes[0].parts if measured.sizes else ()):
        found = [size.parts[at] for size in measured.sizes]
        yield Line("pieces", f"{part.name}, rows", "", tuple(str(p.rows) for p in found))
        for name, values in _lengths(found):
            yield Line("pieces", f"{part.name}, {name}", unit, tuple(_length(v, unit) for v in values))
        yield from _named("pieces", f"{part.name}, {{}}", [p.more for p in found], unit)


def _named(group: str, called: str, found: Sequence[Lengths], unit: str) -> Iterator[Line]:
    """Lengths that have names of their own, a line for each name."""
    for name in dict.fromkeys(name for lengths in found for name, _ in lengths):
        values = tuple(_length(dict(lengths).get(name), unit) for lengths in found)
        yield Line(group, called.format(name), unit, values)


def _lengths(found: Sequence[PartMeasure]) -> Iterator[tuple[str, list[float | None]]]:
    rounds = all(p.worked and p.worked[-1].round for p in found)
    growing = rounds and all(p.worked[0].stitches <= 24 for p in found)
    noun = "round" if rounds else "width"
    if any(p.narrowest != p.widest for p in found):
        yield f"{noun}, narrowest", [p.narrowest for p in found]
    yield f"{noun}, widest", [p.widest for p in found]
    flat = growing and any(p.length is None or dict(p.more).get("across") for p in found)
    yield "centre to edge" if flat else "depth" if growing else "length", [p.length for p in found]


def _yarn(measured: Measured) -> Iterator[Line]:
    for at, need in enumerate(measured.sizes[0].yarn if measured.sizes else ()):
        found = [size.yarn[at] for size in measured.sizes]
        name = f"{need.key} {need.name}".strip()
        yield Line("yarn", name, "m", tuple(_range(n.metres, n.margin) for n in found))
        yield Line("yarn", name, "yd", tuple(_range(_yards(n), n.margin) for n in found))
        yield Line("yarn", name, "g", tuple(_range(n.grams, n.margin) for n in found))
        yield Line("yarn", name, "balls", tuple("" if n.balls is None else str(n.balls) for n in found))


def _yards(need: Need) -> float | None:
    return None if need.metres is None else need.metres * 100 / float(CENTIMETRES["yd"])


def _range(value: float | None, margin: float) -> str:
    if value is None:
        return ""
    step = 10 if value >= 100 else 1
    return f"{int(value * (1 - margin) // step * step)}-{int(-(-value * (1 + margin) // step) * step)}"


def _counts(proof: Proof) -> Iterator[Line]:
    """The stitches after every row that states a count."""
    for row in proof.rows:
        if row.row.stated and any(size.total for size in row.sizes):
            name = f"{row.part}: {row.label or shorten(row.row.said, _NAME, placeholder=' …')}".rstrip()
            yield Line("stitches", name, "", tuple("" if s.total is None else str(s.total) for s in row.sizes))


def notes(document: Document, measured: Measured | None, in_hand: Reached | None = None) -> tuple[str, ...]:
    """What the figures rest on."""
    found = list(reach_notes(document, in_hand)) if in_hand is not None else []
    if measured is not None:
        found.append(f"Pieces are worked out from {measured.rests_on}.")
        found += _converted(document)
        short = {p.name for size in measured.sizes for p in size.parts if not p.whole}
        if short:
            found.append(f"Not every row of {', '.join(sorted(short))} could be executed: those figures are too small.")
        found += [_resting(need, len(measured.sizes[0].yarn)) for size in measured.sizes[:1] for need in size.yarn]
        resting = dict.fromkeys(n.rests_on for n in measured.sizes[0].yarn if n.rests_on) if measured.sizes else ()
        found += [line for one in resting for line in margins()[one].compared]
        if any(_changes_yarn(row) for size in measured.sizes for part in size.parts for row in part.worked):
            found.append("Rows change yarn on their way: yarn carried along behind the stitches is not counted.")
    doubtful = sorted(_unconfirmed(document))
    if doubtful:
        found.append(f"From memory, not confirmed by a source: {', '.join(doubtful)}.")
    return tuple(found)


def _resting(need: Need, yarns: int) -> str:
    """What the amount of one yarn rests on, or why it is not known."""
    called = need.key or need.name
    if need.rests_on:
        rests = _RESTS[need.rests_on]
        return f"Yarn {called} rests on {rests}, give or take {need.margin:.0%}; balls cover the upper end."
    why = "there is neither a gauge nor a weight class"
    if not need.units:
        why = "no row is worked with it"
    elif yarns > 1:
        why = "the rows do not say which yarn they are worked with, or there is neither a gauge nor a weight class"
    return f"What yarn {called} takes is not known: {why}."


def _changes_yarn(row: WorkedRow) -> bool:
    """Whether more than a join or a beginning chain of the row is of a second yarn."""
    shares = sorted(row.uses.values())
    return len(shares) > 1 and shares[-2] > _TRACE * sum(shares)


def _converted(document: Document) -> list[str]:
    """Numbers that were chosen by the usual size of a stitch beside that of the gauge."""
    own = document.gauge.stitch if document.gauge is not None else None
    found = dict.fromkeys(fit.stitch for fit in document.fits if fit.stitch and own and fit.stitch != own)
    said = "The gauge is in {}; numbers of {} rest on the usual size of that stitch beside it."
    return [said.format(own, stitch) for stitch in found]


def _unconfirmed(document: Document) -> set[str]:
    found: set[str] = set()
    for size in document.sizes:
        measures = body(size.body)
        if measures is None:
            continue
        found |= {
            f"{size.body.split()[0]} {t.body}"
            for t in document.from_body
            if t.body in measures and not measures[t.body].confirmed
        }
    return found


def _heads(document: Document) -> tuple[str, ...]:
    return tuple(size.name or size.id for size in document.sizes) or ("",)


def write_table(
    document: Document,
    grading: Grading,
    proof: Proof | None,
    measured: Measured | None,
    in_hand: Reached | None = None,
) -> str:
    """The table for people: sizes as columns."""
    found = lines(document, grading, proof, measured, in_hand)
    if not found:
        return "This pattern has no numbers that are chosen or given by size.\n"
    rows: list[tuple[str, ...]] = [("", "", *_heads(document))]
    group = ""
    for line in found:
        if line.group != group:
            group = line.group
            rows.append((f"-- {group}", "", *("" for _ in _heads(document))))
        rows.append((line.name, line.unit, *line.values))
    widths = [max(width(row[column]) for row in rows) for column in range(len(rows[0]))]
    text = "".join(
        "  ".join(_cell(cell, wide, at) for at, (cell, wide) in enumerate(zip(row, widths, strict=True))).rstrip()
        + "\n"
        for row in rows
    )
    return text + "".join(f"{note}\n" for note in notes(document, measured, in_hand))


def _cell(cell: str, wide: int, at: int) -> str:
    blank = " " * (wide - width(cell))
    return blank + cell if at > 1 else cell + blank


def write_csv(
    document: Document,
    grading: Grading,
    proof: Proof | None,
    measured: Measured | None,
    in_hand: Reached | None = None,
) -> str:
    """The same lines for a spreadsheet, and the notes below.

    A cell that a spreadsheet would take for a formula gets a blank in front.
    """
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(["group", "what", "unit", *map(_safe, _heads(document))])
    for line in lines(document, grading, proof, measured, in_hand):
        writer.writerow([line.group, _safe(line.name), line.unit, *map(_safe, line.values)])
    for note in notes(document, measured, in_hand):
        writer.writerow(["notes", _safe(note), "", *("" for _ in _heads(document))])
    return out.getvalue()


def _safe(cell: str) -> str:
    plain = cell[1:].replace(".", "", 1).isdigit()
    return f" {cell}" if cell[:1] in ("=", "+", "-", "@", "\t", "\r") and not plain else cell


def write_json(
    document: Document,
    grading: Grading,
    proof: Proof | None,
    measured: Measured | None,
    in_hand: Reached | None = None,
) -> str:
    """The figures exactly (schema: `grading.schema.json`)."""
    sizes = measured.sizes if measured is not None else ()
    data = {
        "title": document.title,
        "sizes": [
            {
                "id": size.size,
                "numbers": {number.name: number.value for number in size.numbers},
                "fits": [
                    {
                        "target": c.fit.target,
                        "number": c.fit.number,
                        "chosen": c.value,
                        "wanted_cm": float(c.target.cm),
                        "measures_cm": float(c.measures.cm),
                        "off_cm": round(c.off_cm, 2),
                        "next_best": list(c.others),
                    }
                    for c in size.chosen
                ],
                **(_size_data(sizes[at]) if at < len(sizes) else {"finished_cm": {}, "pieces": [], "yarn": []}),
            }
            for at, size in enumerate(grading.sizes)
        ],
        "counts": [
            {"row": line.name, "stitches": [int(v) if v else None for v in line.values]}
            for line in (_counts(proof) if proof is not None else ())
        ],
        **({"in_hand": reach_data(document, in_hand)} if in_hand is not None else {}),
        "notes": list(notes(document, measured, in_hand)),
    }
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _size_data(size: SizeMeasure) -> dict[str, object]:
    return {
        "finished_cm": {name: _rounded(value) for name, value in size.finished},
        "pieces": [
            {
                "part": p.part,
                "rows": p.rows,
                "narrowest_cm": _rounded(p.narrowest),
                "widest_cm": _rounded(p.widest),
                "length_cm": _rounded(p.length),
                "more_cm": {name: _rounded(value) for name, value in p.more},
                "whole": p.whole,
            }
            for p in size.parts
        ],
        "yarn": [
            {
                "key": n.key,
                "name": n.name,
                "metres": _rounded(n.metres),
                "grams": _rounded(n.grams),
                "balls": n.balls,
                "margin": n.margin,
                "rests_on": n.rests_on,
            }
            for n in size.yarn
        ],
    }


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 2)
