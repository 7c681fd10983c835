"""Rows worked in two passes (Tunisian or afghan crochet). The loop on the hook is the first stitch of a row and stands
over the first one below, which is passed whether the row says so or not; the way back leaves the hook where the row
began, so that the work is not turned. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Decrease, Group, Repeat, Skip, Step, What, Which, Work
from convert.fabric.cells import Strip
from convert.fabric.places.place import base_kind
from convert.trade.stitches import stitches


def on_hook(steps: tuple[Step, ...]) -> str | None:
    """The id of the stitch whose first loop is on the hook as the row begins; None where the row is no such row."""
    for step in steps:
        if isinstance(step, Work | Decrease):
            return step.stitch if _in_passes(step.stitch) else None
        if isinstance(step, Group | Repeat):
            return on_hook(step.steps)
    return None


def without_first(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The work of such a row without "skip first st", since the loop on the hook stands over that stitch."""
    first = steps[0] if steps else None
    if not isinstance(first, Skip) or first.leave or first.place.number != 1 or first.place.what is not What.STITCH:
        return steps
    return steps[1:] if first.place.which in (Which.FIRST, Which.NEXT) else steps


def is_back(strip: Strip | None) -> bool:
    """Whether the row below was worked off from its end, so that the hook is at its beginning."""
    if strip is None or not strip.length:
        return False
    return _in_passes(base_kind(strip.at(0)[0].kind))


def _in_passes(id: str) -> bool:
    entry = stitches().get(id)
    return entry is not None and entry.passes
