"""What a wrong row was very likely meant to be, so that the rows after it can be worked.

The row itself stays wrong, and what is worked after it is not proved by it: it is executed as on an edge that nobody
tells, and never called wrong.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from msgspec.structs import replace

from convert.document.records import Row
from convert.document.steps import Ending, Extent, Place, Repeat, Step, Verbatim, What
from convert.fabric.cells import STITCH, Strip
from convert.fabric.places.place import base_kind
from convert.fabric.rows.jobs import Outcome
from convert.source import Span


def likely_meant(row: Row, outcome: Outcome) -> Row | None:
    """The row with the stitches of the row below called by any name, where it calls them by one that none of them has,
    and they are all of one kind.
    """
    place = outcome.faults[0].facts.get("place") if len(outcome.faults) == 1 else None
    if outcome.base is None or not isinstance(place, Place) or place.what is not What.STITCH or place.of is None:
        return None
    kinds = kinds_in(outcome.base)
    if len(kinds) != 1 or place.of in kinds:
        return None
    return replace(row, steps=tuple(by_any_name(step, place.of) for step in row.steps))


def kinds_in(strip: Strip) -> frozenset[str]:
    """The kinds of stitch that a row is made of."""
    return frozenset(base_kind(c.kind) for lp in strip.loops for c, _ in lp.runs if c.sort == STITCH)


def by_any_name(node: Any, of: str) -> Any:
    """The step (or ending, or place) with the name left out wherever it stands for a place."""
    changes: dict[str, Any] = {}
    for name in node.__struct_fields__:
        value = getattr(node, name)
        if isinstance(value, Place | Ending):
            changes[name] = by_any_name(value, of)
        elif name in ("steps", "places"):
            changes[name] = tuple(by_any_name(inner, of) for inner in value)
    if isinstance(node, Place) and node.of == of:
        changes["of"] = None
    return replace(node, **changes) if changes else node


def likely_marked(row: Row, earlier: Sequence[Row]) -> Row | None:
    """The row with the mark that its "repeat from *" misses: in front of the steps that stand right before it and that
    an earlier row repeats too. None where no row does, or several repeat different ones.
    """
    bodies = {body for done in earlier for body in _bodies(done.steps)} if _unmarked(row.steps) else set()
    found = {steps for body in bodies if (steps := _marked(row.steps, body)) is not None}
    return replace(row, steps=found.pop()) if len(found) == 1 else None


def mark_given(steps: tuple[Step, ...], meant: tuple[Step, ...]) -> Span | None:
    """Where the mark stands that the steps as they are meant have, and as they were written have not; None where they
    differ otherwise.
    """
    for one, other in zip(steps, meant, strict=False) if _unmarked(steps) else ():
        if one == other:
            continue
        if isinstance(one, Repeat) and isinstance(other, Repeat) and _unmarked(one.steps):
            return mark_given(one.steps, other.steps)
        return other.steps[0].span if isinstance(other, Repeat) else None
    return None


def _unmarked(steps: tuple[Step, ...]) -> bool:
    return any(
        _unmarked(step.steps) if isinstance(step, Repeat) else isinstance(step, Verbatim) and bool(step.said_repeat)
        for step in steps
    )


def _bodies(steps: tuple[Step, ...]) -> Iterator[tuple[Step, ...]]:
    """What the repeats of a row hold that are told by their number."""
    for step in steps:
        if isinstance(step, Repeat):
            yield from _bodies(step.steps)
            if step.extent is Extent.TIMES:
                yield step.steps


def _marked(steps: tuple[Step, ...], body: tuple[Step, ...]) -> tuple[Step, ...] | None:
    """The steps with the repeat of this body in its place; None where it stands nowhere in front of such words."""
    for index, step in enumerate(steps):
        if isinstance(step, Repeat) and (inner := _marked(step.steps, body)) is not None:
            return (*steps[:index], replace(step, steps=inner), *steps[index + 1 :])
        said = step.said_repeat if isinstance(step, Verbatim) else None
        begin = index - len(body)
        own = steps[max(0, begin) : index]
        if said is not None and begin >= 0 and own == body:
            return (*steps[:begin], replace(said, steps=own), *steps[index + 1 :])
    return None
