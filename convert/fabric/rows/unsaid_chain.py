"""The beginning chain of a row that does not tell it: rows of tall stitches begin with one, and earlier ones said so.

Only where the edge is not sure anyway: where it is, a chain left out is a mistake. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.records import Row
from convert.document.steps import Chain, ChangeColour, Step, Verbatim, Work
from convert.fabric.rows.jobs import Edge
from convert.fabric.rows.readings import first_stitch
from convert.trade.stitches import stitches

_TALL = 2
"""The chains of a stitch so tall that a row cannot begin with it at once."""


def with_unsaid_chain(
    steps: tuple[Step, ...], edge: Edge, history: Sequence[tuple[int | None, Row]]
) -> tuple[Step, ...] | None:
    """The steps behind the chain with which earlier rows of the same stitch began; None where none did, or the row
    begins otherwise.
    """
    first = _first_work(steps)
    if not edge.untested or edge.fresh or edge.pending is not None or not isinstance(first, Work) or first.each != 1:
        return None
    entry = stitches().get(first.stitch)
    height = entry.height if entry is not None else None
    if height is None or height < _TALL:
        return None
    for _, row in history:
        begin = _first_work(row.steps)
        alike = isinstance(begin, Chain) and begin.number == height and first_stitch(row.steps)[0] == first.stitch
        if alike and isinstance(begin, Chain):
            return (begin, *steps)
    return None


def _first_work(steps: tuple[Step, ...]) -> Step | None:
    return next((step for step in steps if not isinstance(step, Verbatim | ChangeColour)), None)
