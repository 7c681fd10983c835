"""The space that the beginning chain of the row below is, or is part of: "sc in turning ch sp", "dc in beg ch-2 sp".

Where the chain stood for a stitch alone, working into its space goes around that stitch. Common practice, no source.
"""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from convert.document.steps import Ending, Place, Step, What, Which
from convert.document.walking import each
from convert.fabric.cells import SPACE, STITCH, Strip
from convert.fabric.remembered import remembered


def with_begun_spaces(steps: tuple[Step, ...], base: Strip, *, flat: bool) -> tuple[Step, ...]:
    """The steps with such spaces as what they are on the row below: its last space in flat work, its first in rounds,
    or the chain's stitch.
    """
    return tuple(_meant(step, base, flat) for step in steps)


@remembered
def names_begun_space(steps: tuple[Step, ...]) -> bool:
    """Whether a row names such a space."""
    return any(map(_is_begun, each(steps, Place)))


def _is_begun(place: Place) -> bool:
    return place.what is What.SPACE and place.within is not None and place.within.what is What.BEGINNING_CHAIN


def _meant(node: Any, base: Strip, flat: bool) -> Any:
    """The step, ending or place with such spaces as what they are."""
    if isinstance(node, Place) and _is_begun(node):
        return _found(node, base, flat)
    changes: dict[str, Any] = {}
    for name in node.__struct_fields__:
        value = getattr(node, name)
        if isinstance(value, Place | Ending):
            changes[name] = _meant(value, base, flat)
        elif name in ("steps", "places"):
            changes[name] = tuple(_meant(inner, base, flat) for inner in value)
    return replace(node, **changes) if changes else node


def _found(place: Place, base: Strip, flat: bool) -> Place:
    """The outermost cell of the row, or the one beside it where that is the stitch for which the chain stands."""
    edge = [base.at(at)[0] for at in _outermost(base.length, flat)]
    inner = len(edge) > 1 and edge[0].sort == STITCH and edge[0].chains > 0
    cell = edge[1] if inner else edge[0] if edge else None
    if cell is not None and cell.sort == SPACE and place.chains in (None, cell.chains):
        return replace(place, within=None, which=Which.LAST if flat else Which.FIRST)
    return Place(What.BEGINNING_CHAIN, chains=place.chains, span=place.span)


def _outermost(length: int, flat: bool) -> range:
    """The two outermost positions at the edge where the row below began, as this row meets it."""
    return range(length - 1, max(-1, length - 3), -1) if flat else range(min(2, length))
