"""How much yarn stitches take beside one single crochet, from `shared/stitch_use.yaml`."""

from __future__ import annotations

from functools import cache
from math import sqrt
from types import MappingProxyType

from msgspec import Struct

from convert.trade.stitches import stitches
from convert.trade.tables import record, table

_DRAWN_TOGETHER = 0.85
"""A leg of a decrease lacks its last step (from memory, no source)."""


@cache
def _table() -> dict[str, float]:
    stitches_ = table("stitch_use")["stitches"]
    return {
        id: float(record(entry, {"use", "source"}, set(), "stitch_use.yaml")["use"]) for id, entry in stitches_.items()
    }


def loops() -> float:
    """Yarn in a loop beside the square root of the room it takes up, both in one unit (a number without a unit).

    In single crochet: yarn of a stitch = `loops` times the root of its width times its height. It follows from the
    measured squares and the stitches of their maker, which had to be supposed.

    >>> round(loops(), 1)
    10.2
    """
    measured = table("stitch_use")["measured"]
    return float(measured["square"]) / sqrt(measured["stitches"] * measured["square"] / measured["strip"])


def rows_to_stitches() -> float:
    """Rows beside stitches in the same length, in the measured squares of single crochet."""
    measured = table("stitch_use")["measured"]
    return float(measured["square"] / measured["strip"] / measured["stitches"])


class Margin(Struct, frozen=True):
    """How far off an estimate may be, as a share of it, and what a comparison with published figures found."""

    share: float
    compared: tuple[str, ...] = ()


@cache
def margins() -> MappingProxyType[str, Margin]:
    """Margins by what an estimate rests on: `sample`, `swatch`, `square`, `gauge`, `class`."""
    found = {}
    for id, entry in table("stitch_use")["margins"].items():
        fields = record(entry, {"share", "source"}, {"compared"}, f"stitch_use.yaml, {id!r}")
        found[id] = Margin(float(fields["share"]), tuple(map(str, fields.get("compared", ()))))
    return MappingProxyType(found)


@cache
def use_of(kind: str) -> float:
    """Yarn beside one single crochet. A stitch without an entry goes by its height; a decrease by its legs.

    >>> use_of("dc"), round(use_of("dc2tog"), 2), use_of("FPdc")
    (1.92, 3.26, 1.92)
    """
    known = _table()
    if kind in known:
        return known[kind]
    if kind.endswith("tog"):
        base = kind.removesuffix("tog").rstrip("0123456789")
        legs = kind.removesuffix("tog")[len(base) :]
        return _DRAWN_TOGETHER * int(legs or 2) * use_of(base)
    stitch = stitches().get(kind)
    if stitch is None:
        return known["dc"]
    if stitch.of:
        return use_of(stitch.of)
    # Groups held as one stitch (bobbles, puffs) hold several unfinished ones; by far the roughest figure here.
    return 5 * known["dc"] * _DRAWN_TOGETHER if stitch.unit else 0.08 + 0.92 * stitch.tall
