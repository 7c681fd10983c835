"""What a wrong row was very likely meant to be, so that the rows after it can be worked.

The row itself stays wrong, and what is worked after it is not proved by it: it is executed as on an edge that nobody
tells, and never called wrong.
"""

from __future__ import annotations

from typing import Any

from msgspec.structs import replace

from convert.document.records import Row, TermSystem
from convert.document.steps import Chain, Ending, Place, Repeat, Step, Verbatim, What, Which, Work
from convert.fabric.cells import STITCH, Strip
from convert.fabric.jobs import Outcome
from convert.fabric.places import base_kind
from convert.instructions.reader import Context, read_steps
from convert.source import Passage


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


def likely_marked(row: Row) -> Row | None:
    """The row with the mark that its "repeat from *" misses: the chain and the stitch right in front are repeated."""
    steps = _marked(row.steps)
    return replace(row, steps=steps) if steps is not None else None


def _marked(steps: tuple[Step, ...]) -> tuple[Step, ...] | None:
    for index, step in enumerate(steps):
        if isinstance(step, Repeat):
            inner = _marked(step.steps)
            if inner is not None:
                return (*steps[:index], replace(step, steps=inner), *steps[index + 1 :])
        repeat = _said_to_repeat(step) if isinstance(step, Verbatim) and not step.inert and index > 1 else None
        if repeat is None:
            continue
        chain, work = steps[index - 2 : index]
        place = work.place if isinstance(work, Work) else None
        if isinstance(chain, Chain) and place is not None and place.which is Which.NEXT:
            return (*steps[: index - 2], replace(repeat, steps=(chain, work)), *steps[index + 1 :])
    return None


def _said_to_repeat(step: Verbatim) -> Repeat | None:
    """How often the words have something repeated, read behind a mark."""
    words = step.words[0] if len(step.words) == 1 else None
    if not isinstance(words, str):
        return None
    read = read_steps(Passage.at(f"* ch 1, {words}", 0, 0), Context(TermSystem.US)).row.steps
    return read[0] if len(read) == 1 and isinstance(read[0], Repeat) else None
