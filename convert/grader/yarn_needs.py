"""How much yarn each size takes, colour by colour, as a range that says what it rests on."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import Protocol

from msgspec import Struct

from convert.document.records import Along, Document, Weighed, Yarn
from convert.grader.grading import per_cm
from convert.trade.stitches import stitches
from convert.trade.yarn_use import strip_use, use_of

MARGINS = {"sample": 0.05, "swatch": 0.10, "square": 0.15, "gauge": 0.25}
"""How far off the estimate may be, by what it rests on (from memory: hands differ, and one maker measured the
table).
"""


class Row(Protocol):
    """What is needed of a row as worked."""

    @property
    def use(self) -> float:
        """Yarn beside one single crochet."""
        ...

    @property
    def colour(self) -> str:
        """What the rows call the yarn."""
        ...


Pieces = Sequence[tuple[Sequence[Row], int]]
"""The rows of every part of one size, and how often the part is made."""


class Need(Struct, frozen=True):
    """One yarn in one size. `metres` and `grams` are the likeliest amounts; the truth lies within `margin` of them.

    `balls` cover the upper end of the range, rounded up. `rests_on` is one of `MARGINS`, or empty where nothing
    can be told.
    """

    key: str
    name: str
    metres: float | None
    grams: float | None
    balls: int | None
    margin: float
    rests_on: str


def needs(document: Document, sizes: Sequence[Pieces]) -> tuple[tuple[Need, ...], ...]:
    """The yarn of every size."""
    yarns = document.materials.yarns
    used = [{yarn.key: units_of(pieces, yarn.key, yarns) for yarn in yarns} for pieces in sizes]
    return tuple(tuple(_need(document, yarn, units[yarn.key], used) for yarn in yarns) for units in used)


def units_of(pieces: Pieces, key: str, yarns: Sequence[Yarn]) -> float:
    """Yarn in single crochets. A colour that no yarn is called by counts for the first one."""
    keys = {yarn.key for yarn in yarns}
    first = yarns[0].key if yarns else ""
    return sum(
        row.use * make for rows, make in pieces for row in rows if (row.colour if row.colour in keys else first) == key
    )


def _need(document: Document, yarn: Yarn, units: float, used: Sequence[dict[str, float]]) -> Need:
    weighed = _weighed(document, yarn)
    per_gram = float(yarn.ball_metres / yarn.ball_grams) if yarn.ball_metres and yarn.ball_grams else None
    if weighed is not None:
        grams, rests_on = _by_scales(document, yarn, weighed, units, used)
    else:
        grams, rests_on = None, ""
    metres = grams * per_gram if grams is not None and per_gram else None
    if grams is None:
        metres, rests_on = _by_gauge(document, units)
        grams = metres / per_gram if metres is not None and per_gram else None
    margin = MARGINS.get(rests_on, 0.0)
    return Need(yarn.key, yarn.name, metres, grams, _balls(yarn, metres, grams, margin), margin, rests_on)


def _weighed(document: Document, yarn: Yarn) -> Weighed | None:
    """The piece weighed of this yarn, or of the same yarn in another colour."""
    if yarn.weighed is not None:
        return yarn.weighed
    alike = (y for y in document.materials.yarns if (y.name, y.ball_grams, y.ball_metres) == _same(yarn))
    return next((y.weighed for y in alike if y.weighed is not None and not y.weighed.size), None)


def _same(yarn: Yarn) -> tuple[object, ...]:
    return (yarn.name, yarn.ball_grams, yarn.ball_metres)


def _by_scales(
    document: Document, yarn: Yarn, weighed: Weighed, units: float, used: Sequence[dict[str, float]]
) -> tuple[float | None, str]:
    """Grams by the piece that was weighed; None where it says too little."""
    total: float | None = None
    rests_on = ""
    if weighed.size:
        index = document.size_index(weighed.size)
        total, rests_on = (used[index][yarn.key] if index is not None else None), "sample"
    elif weighed.stitches and weighed.rows:
        stitch = weighed.stitch or (document.gauge.stitch if document.gauge is not None else None) or "sc"
        total = weighed.stitches * (weighed.rows * use_of(stitch) + use_of("chain"))
        rests_on = "swatch"
    elif weighed.width is not None and weighed.height is not None:
        density = units_per_square_cm(document)
        area = float(weighed.width.cm * weighed.height.cm)
        total, rests_on = (density * area if density is not None else None), "square"
    return (float(weighed.grams) / total * units, rests_on) if total else (None, "")


def units_per_square_cm(document: Document) -> float | None:
    """Yarn in a square centimetre of the gauge's stitch, in single crochets."""
    across, along = per_cm(document.gauge, Along.STITCHES), per_cm(document.gauge, Along.ROWS)
    if document.gauge is None or not across or not along:
        return None
    return float(across * along) * use_of(document.gauge.stitch or "sc")


def _by_gauge(document: Document, units: float) -> tuple[float | None, str]:
    """Metres by the width of a single crochet in this gauge."""
    across = per_cm(document.gauge, Along.STITCHES)
    if document.gauge is None or not across:
        return None, ""
    stitch = stitches().get(document.gauge.stitch or "sc")
    wide = 1 / float(across) / ((stitch.wide if stitch is not None else 1) or 1)
    return units * strip_use() * wide / 100, "gauge"


def _balls(yarn: Yarn, metres: float | None, grams: float | None, margin: float) -> int | None:
    if metres is not None and yarn.ball_metres:
        return ceil(metres * (1 + margin) / float(yarn.ball_metres))
    if grams is not None and yarn.ball_grams:
        return ceil(grams * (1 + margin) / float(yarn.ball_grams))
    return None


def enough_for(document: Document, sizes: Sequence[Sequence[Need]], balls: float, key: str = "") -> str | None:
    """The id of the largest size that so many balls of one yarn reach surely; None where they reach none."""
    found = None
    for index, size in enumerate(sizes):
        need = next((n for n in size if n.key == key), None)
        if need is not None and need.balls is not None and need.balls <= balls:
            found = document.sizes[index].id if index < len(document.sizes) else ""
    return found


def rows_reached(rows: Sequence[Row], metres_per_unit: float, metres: float) -> int:
    """How many rows a length of yarn reaches, from the first row on."""
    left = metres
    for number, row in enumerate(rows):
        left -= row.use * metres_per_unit
        if left < 0:
            return number
    return len(rows)
