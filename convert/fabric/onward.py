"""Where a part has no beginning of its own: whether it may go on from the edge that the part before it left.

Common practice, no source: a heading ("Ruffle", "Edging") inside one piece of work begins a part and no new piece.
"""

from __future__ import annotations

from msgspec import Struct

from convert.document.records import Row
from convert.document.steps import Begin, FastenOff, Group, Place, Start, Step, What, Work
from convert.fabric.jobs import Edge
from convert.fabric.readings import flat_steps

_OF_THE_BEGINNING = (What.RING, What.CHAIN, What.BEGINNING_CHAIN)


def begins_on_edge(row: Row) -> bool:
    """Whether the first row of a part works on an edge that must have been there before."""
    if any(isinstance(step, Begin) and step.start is not Start.EDGE for step in row.steps):
        return False
    place = _first_place(row.steps)
    return place is not None and place.what not in _OF_THE_BEGINNING and place.origin is None


def _first_place(steps: tuple[Step, ...]) -> Place | None:
    """The first place that the row names."""
    for step in flat_steps(steps):
        if isinstance(step, Work | Group) or getattr(step, "place", None) is not None:
            return getattr(step, "place", None)
        places = getattr(step, "places", ())
        if places:
            return places[0]  # type: ignore[no-any-return]  # the places of a decrease
    return None


class Left(Struct, frozen=True):
    """The edge that a part left, and its last row."""

    edge: Edge
    last: Row

    def goes_on_in(self, first: Row) -> bool:
        """Whether the first row of the next part may be tried on the edge.

        Where the yarn was cut or is joined anew, that is only so of a round: a piece worked flat has other edges.
        """
        if self.edge.strip is None:
            return False
        return self.edge.flat is False if any(isinstance(step, Begin) for step in first.steps) else not self.cut

    @property
    def cut(self) -> bool:
        """Whether the yarn was cut."""
        return any(isinstance(step, FastenOff) for step in self.last.steps)
