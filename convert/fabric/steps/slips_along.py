"""Slip stitches that lead along the last row to where the work begins: "sl st over next sp up to tr".

They come to that stitch and end in it, so that the one behind it is the next. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Extent, Repeat, Slip, Step, What, Which
from convert.fabric.remembered import remembered


@remembered
def slips_told(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with slips over one space up to the next stitch as a slip into each of the two."""
    if not steps or not isinstance(steps[0], Repeat):
        return steps
    first = steps[0]
    slip = first.steps[0] if len(first.steps) == 1 else None
    to = first.place
    if not isinstance(slip, Slip) or first.extent is not Extent.TO_PLACE or to is None:
        return steps
    over = slip.place.what is What.SPACE and slip.place.number == 1 and slip.place.which in (Which.FIRST, Which.NEXT)
    onto = to.what is What.STITCH and to.which is Which.NEXT and to.number == 1 and not (to.words or slip.place.words)
    return (slip, Slip(to, first.span), *steps[1:]) if over and onto else steps
