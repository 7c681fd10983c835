"""How much yarn stitches take beside one single crochet, from `shared/stitch_use.yaml`."""

from __future__ import annotations

from functools import cache

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


def strip_use() -> float:
    """How many times its own width a single crochet takes of yarn."""
    return float(table("stitch_use")["strip"])


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
