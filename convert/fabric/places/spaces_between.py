"""Spaces that are no chains: between the author's own stitches, or groups drawn together, that stand side by side."""

from __future__ import annotations

from convert.document.steps import Place, What, Which
from convert.fabric.cells import STITCH, Strip
from convert.trade.stitches import stitches


def spaces_are_gaps(base: Strip, place: Place) -> bool:
    """Whether "puff in each space" means the gaps between the stitches of the row below: it has no chains, and nothing
    but one kind of stitch that draws in at the top, so that spaces are seen beside it. Common practice, no source.
    """
    if place.what is not What.SPACE or place.which not in (Which.EACH, Which.NEXT) or place.chains is not None:
        return False
    if place.within is not None or place.words or place.also or place.every != 1:
        return False
    cells = [cell for loop in base.loops for cell, _ in loop.runs]
    kinds = {cell.kind for cell in cells}
    return len(kinds) == 1 and all(cell.sort == STITCH for cell in cells) and _draws_in(kinds.pop())


def _draws_in(kind: str) -> bool:
    entry = stitches().get(kind)
    return entry.unit and not entry.decoration if entry is not None else not kind.endswith("tog")
