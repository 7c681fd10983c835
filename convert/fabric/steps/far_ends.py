"""Rows that lead to another edge, and repeats up to the far end of one: "sl st in first loop at top of work", "rep from
* to opposite side". Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.steps import Extent, Repeat, Slip, Step, What
from convert.trade.patterns import said, signs


@cache
def _far_end() -> re.Pattern[str]:
    there = rf"(?:{said('same')}\s{said('space', 'loop', 'stitch', 'place')}\s{signs('same_there')}\s)?"
    behind = rf"(?:\s{said('of')}\s.*)?"
    return re.compile(rf"{there}(?:{said('the')}\s)?{signs('far_ends')}{behind}", re.IGNORECASE)


def to_far_end(step: Repeat) -> Repeat:
    """ "Rep from * to opposite side": in a row that goes along an edge, as far as that goes."""
    place = step.place if step.extent is Extent.TO_PLACE else None
    if place is None or place.what is not What.PIECE or _far_end().fullmatch(place.words) is None:
        return step
    return replace(step, extent=Extent.END, place=None)


def leads_away(step: Step) -> bool:
    """Whether a slip stitch leads to another edge of the piece."""
    return isinstance(step, Slip) and _at_edge().match(step.place.words) is not None


@cache
def _at_edge() -> re.Pattern[str]:
    return re.compile(rf"{signs('at_edges')}\s", re.IGNORECASE)
