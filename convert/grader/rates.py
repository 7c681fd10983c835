"""How long a stitch and a row are, and what that is known from."""

from __future__ import annotations

from msgspec import Struct

from convert.document.lengths import tidy
from convert.document.records import Document
from convert.document.sizing import Along
from convert.grader.grading import per_cm
from convert.trade.stitches import stitches
from convert.trade.yarns import yarn_weight

_PLAIN = "sc"
"""The stitch that the table of yarn classes counts, and that sizes of stitches are given beside."""


class Rates(Struct, frozen=True):
    """Centimetres that a stitch of size 1 is wide and high; None where it cannot be told. `rests_on` says from what."""

    wide: float | None
    tall: float | None
    rests_on: str


def rates_of(document: Document) -> Rates:
    """By the gauge; without one by the usual gauge of the yarn's class, which is a rough guide."""
    gauge = document.gauge
    across, along = per_cm(gauge, Along.STITCHES), per_cm(gauge, Along.ROWS)
    if gauge is None or not (across or along):
        return _by_class(document)
    per = stitches().get(gauge.stitch or _PLAIN) or stitches()[_PLAIN]
    wide = 1 / float(across) / (per.wide or 1) if across else None
    tall = 1 / float(along) / (per.tall or 1) if along else wide
    measured = f" in {gauge.stitch}" if gauge.stitch else ""
    repeats = f" over repeats of {gauge.repeat} stitches" if gauge.stitches is None and gauge.repeat else ""
    rows = "" if along else ", which has no rows: their height is the usual one beside the width of a stitch"
    return Rates(wide, tall, f"the gauge{measured}{repeats}{rows}; other stitches by their usual height beside it")


def _by_class(document: Document) -> Rates:
    """The middle of what yarn of its class usually gives (`shared/yarn_weights.yaml`)."""
    numbers = {yarn.weight for yarn in document.materials.yarns if yarn.weight is not None}
    weight = yarn_weight(numbers.pop()) if len(numbers) == 1 else None
    if weight is None or weight.gauge.least is None or weight.gauge.most is None:
        return Rates(None, None, "no gauge: lengths cannot be told")
    usual = (weight.gauge.least + weight.gauge.most) / 2
    size = 10 / float(usual)
    said = f"the usual {tidy(usual, 1)} stitches in 10 cm of yarn of weight {weight.number}"
    return Rates(size, size, f"no gauge of its own but {said}: a rough guide")
