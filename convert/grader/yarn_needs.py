"""How much yarn each size takes, colour by colour, as a range that says what it rests on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from math import ceil, sqrt
from typing import Protocol

from msgspec import Struct

from convert.document.materials import Weighed, Yarn
from convert.document.records import Document
from convert.document.sizing import Along
from convert.document.steps import ChangeColour
from convert.document.walking import each
from convert.grader.grading import per_cm
from convert.trade.stitches import stitches
from convert.trade.yarn_use import loops, margins, rows_to_stitches, use_of
from convert.trade.yarns import yarn_weight


class Row(Protocol):
    """What is needed of a row as worked."""

    @property
    def uses(self) -> Mapping[str, float]:
        """Yarn beside one single crochet, by what the rows call it."""
        ...

    @property
    def wide(self) -> float:
        """Width in single crochets."""
        ...


Pieces = Sequence[tuple[Sequence[Row], int]]
"""The rows of every part of one size, and how often the part is made."""


class Need(Struct, frozen=True):
    """One yarn in one size. `metres` and `grams` are the likeliest amounts; the truth lies within `margin` of them.

    `balls` cover the upper end of the range, rounded up. `rests_on` is what `margins` lists, or empty where nothing
    can be told. `units` is the yarn beside that of one single crochet, before it became a length.
    """

    key: str
    name: str
    metres: float | None
    grams: float | None
    balls: int | None
    margin: float
    rests_on: str
    units: float = 0.0


def needs(document: Document, sizes: Sequence[Pieces]) -> tuple[tuple[Need, ...], ...]:
    """The yarn of every size. What several yarns take is not known where the rows do not say which is which."""
    yarns = document.materials.yarns
    calls = called(yarns)
    used = [units_of(pieces, len(yarns), calls) for pieces in sizes]
    if not _told_apart(document, sizes, calls):
        return tuple(tuple(_unknown(yarn, sum(units)) for yarn in yarns) for units in used)
    dense = _use_in_width(sizes)
    return tuple(tuple(_need(document, at, units[at], used, dense) for at in range(len(yarns))) for units in used)


def called(yarns: Sequence[Yarn]) -> Mapping[str, int]:
    """What rows may call each yarn, without capitals, with its place: its key, else its colour or name, if no other
    has the same.
    """
    found: dict[str, int] = {}
    for names in ([y.key for y in yarns], [y.colour for y in yarns], [y.name for y in yarns]):
        plain = [name.casefold() for name in names]
        for index, name in enumerate(plain):
            if name and plain.count(name) == 1:
                found.setdefault(name, index)
    return found


def units_of(pieces: Pieces, yarns: int, calls: Mapping[str, int]) -> list[float]:
    """Yarn in single crochets, yarn by yarn."""
    found = [0.0] * yarns
    for rows, make in pieces:
        for row in rows:
            for index, use in row_units(row, calls) if yarns else ():
                found[index] += use * make
    return found


def row_units(row: Row, calls: Mapping[str, int]) -> Iterator[tuple[int, float]]:
    """Yarn of one row in single crochets, by the place of the yarn; without a change of yarn it is the first."""
    for colour, use in row.uses.items():
        yield calls.get(colour.casefold(), 0), use


def _told_apart(document: Document, sizes: Sequence[Pieces], calls: Mapping[str, int]) -> bool:
    """Whether the rows say which yarn they are worked with, all of them by a name that one yarn has."""
    if len(document.materials.yarns) < 2:
        return True
    colours = {colour.casefold() for pieces in sizes for rows, _ in pieces for row in rows for colour in row.uses}
    if colours - {""} - calls.keys():
        return False
    return len(colours) > 1 or any(True for part in document.parts for _ in each(part.items, ChangeColour))


def _unknown(yarn: Yarn, units: float) -> Need:
    return Need(yarn.key, yarn.name, None, None, None, 0.0, "", units)


def _use_in_width(sizes: Sequence[Pieces]) -> float:
    """Yarn in the width of one stitch, over all rows of the first size: for a gauge that names no stitch."""
    rows = [row for part, _ in (sizes[0] if sizes else ()) for row in part]
    wide = sum(row.wide for row in rows)
    return sum(sum(row.uses.values()) for row in rows) / wide if wide else 1.0


def _need(document: Document, at: int, units: float, used: Sequence[list[float]], dense: float) -> Need:
    yarn = document.materials.yarns[at]
    if not any(one[at] for one in used) and any(any(one) for one in used):
        return _unknown(yarn, 0.0)  # for sewing up, or for a part that no row tells of
    weighed = _weighed(document, yarn)
    per_gram = float(yarn.ball_metres / yarn.ball_grams) if yarn.ball_metres and yarn.ball_grams else None
    if weighed is not None:
        grams, rests_on = _by_scales(document, weighed, units, [one[at] for one in used], dense)
    else:
        grams, rests_on = None, ""
    metres = grams * per_gram if grams is not None and per_gram else None
    if grams is None:
        metres, rests_on = _by_gauge(document, yarn, units, dense)
        grams = metres / per_gram if metres is not None and per_gram else None
    margin = margins()[rests_on].share if rests_on else 0.0
    return Need(yarn.key, yarn.name, metres, grams, _balls(yarn, metres, grams, margin), margin, rests_on, units)


def _weighed(document: Document, yarn: Yarn) -> Weighed | None:
    """The piece weighed of this yarn, or of the same yarn in another colour."""
    if yarn.weighed is not None:
        return yarn.weighed
    alike = (y for y in document.materials.yarns if (y.name, y.ball_grams, y.ball_metres) == _same(yarn))
    return next((y.weighed for y in alike if y.weighed is not None and not y.weighed.size), None)


def _same(yarn: Yarn) -> tuple[object, ...]:
    return (yarn.name, yarn.ball_grams, yarn.ball_metres)


def _by_scales(
    document: Document, weighed: Weighed, units: float, used: Sequence[float], dense: float
) -> tuple[float | None, str]:
    """Grams by the piece that was weighed; None where it says too little."""
    total: float | None = None
    rests_on = ""
    if weighed.size:
        index = document.size_index(weighed.size)
        total, rests_on = (used[index] if index is not None else None), "sample"
    elif weighed.stitches and weighed.rows:
        stitch = weighed.stitch or (document.gauge.stitch if document.gauge is not None else None) or "sc"
        total = weighed.stitches * (weighed.rows * use_of(stitch) + use_of("chain"))
        rests_on = "swatch"
    elif weighed.width is not None and weighed.height is not None:
        density = units_per_square_cm(document, dense)
        area = float(weighed.width.cm * weighed.height.cm)
        total, rests_on = (density * area if density is not None else None), "square"
    return (float(weighed.grams) / total * units, rests_on) if total else (None, "")


def units_per_square_cm(document: Document, dense: float) -> float | None:
    """Yarn in a square centimetre of the gauge's stitch, in single crochets; `dense` where it names no stitch."""
    across, along = per_cm(document.gauge, Along.STITCHES), per_cm(document.gauge, Along.ROWS)
    if document.gauge is None or not across or not along:
        return None
    return float(across * along) * _gauge_use(document, dense)


def _gauge_use(document: Document, dense: float) -> float:
    stitch = document.gauge.stitch if document.gauge is not None else None
    return use_of(stitch) if stitch in stitches() else dense


def _by_gauge(document: Document, yarn: Yarn, units: float, dense: float) -> tuple[float | None, str]:
    """Metres by the density of the gauge, or of the usual gauge of the yarn's class where the pattern has none.

    Loops keep their shape: the yarn in one goes with the square root of the room that it takes up. For plain
    knitting this is Munden's relation (from memory); that it may be taken over is borne out by the measured
    squares of `shared/stitch_use.yaml`, in which three stitches of different height take the same yarn.
    """
    density, rests_on = units_per_square_cm(document, dense), "gauge"
    if density is None:
        density, rests_on = _density_by_stitches(document, yarn)
    return (units * loops() / sqrt(density) / 100, rests_on) if density else (None, "")


def _density_by_stitches(document: Document, yarn: Yarn) -> tuple[float | None, str]:
    """The same from stitches alone: rows as the maker of the measured squares had them."""
    across = per_cm(document.gauge, Along.STITCHES)
    if across:
        # Her squares took the same yarn in every stitch, so rows are as many fewer as a stitch takes more yarn.
        return float(across) ** 2 * rows_to_stitches(), "gauge"
    weight = yarn_weight(yarn.weight) if yarn.weight is not None else None
    if weight is None or weight.gauge.least is None or weight.gauge.most is None:
        return None, ""
    usual = float(weight.gauge.least + weight.gauge.most) / 20
    return usual**2 * rows_to_stitches(), "class"


def _balls(yarn: Yarn, metres: float | None, grams: float | None, margin: float) -> int | None:
    if metres is not None and yarn.ball_metres:
        return ceil(metres * (1 + margin) / float(yarn.ball_metres))
    if grams is not None and yarn.ball_grams:
        return ceil(grams * (1 + margin) / float(yarn.ball_grams))
    return None
