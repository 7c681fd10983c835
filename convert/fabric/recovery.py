"""What a wrong row was very likely meant to be, so that the rows after it can be worked.

The row itself stays wrong, and what is worked after it is not proved by it: it is executed as on an edge that nobody
tells, and never called wrong.
"""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from convert.document.records import Row
from convert.document.steps import Ending, Place, What
from convert.fabric.cells import STITCH, Strip
from convert.fabric.jobs import Outcome
from convert.fabric.places import base_kind


def likely_meant(row: Row, outcome: Outcome) -> Row | None:
    """The row with the stitches of the row below called by any name, where it calls them by one that none of them has,
    and they are all of one kind.
    """
    place = outcome.faults[0].facts.get("place") if len(outcome.faults) == 1 else None
    if outcome.base is None or not isinstance(place, Place) or place.what is not What.STITCH or place.of is None:
        return None
    kinds = _kinds(outcome.base)
    if len(kinds) != 1 or place.of in kinds:
        return None
    return replace(row, steps=tuple(_renamed(step, place.of) for step in row.steps))


def _kinds(strip: Strip) -> frozenset[str]:
    return frozenset(base_kind(c.kind) for lp in strip.loops for c, _ in lp.runs if c.sort == STITCH)


def _renamed(node: Any, of: str) -> Any:
    """The step (or ending, or place) with the name left out wherever it stands for a place."""
    changes: dict[str, Any] = {}
    for name in node.__struct_fields__:
        value = getattr(node, name)
        if isinstance(value, Place | Ending):
            changes[name] = _renamed(value, of)
        elif name in ("steps", "places"):
            changes[name] = tuple(_renamed(inner, of) for inner in value)
    if isinstance(node, Place) and node.of == of:
        changes["of"] = None
    return replace(node, **changes) if changes else node
