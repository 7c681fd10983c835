"""Changes how often a row is shaped: "as 3rd row, with a shell over every 4th shell"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, Repeat, Step, Work
from convert.fabric.parts.growing import grown
from convert.instructions.rows.every import EveryInstead, EveryMore


def with_every(steps: tuple[Step, ...], change: EveryInstead | EveryMore, time: int) -> tuple[Step, ...] | None:
    """The steps as they go in the `time`-th row told so; None unless one place of it is "every so manieth"."""
    places = [place for step in steps for place in _spread(step)]
    if not places and isinstance(change, EveryMore):
        return grown(steps, change.more * time) or None
    if len(places) != 1:
        return None
    now = places[0].every
    every = change.every if isinstance(change, EveryInstead) else now + change.more * time
    return tuple(_with(step, every) for step in steps)


def _spread(step: Step) -> list[Place]:
    if isinstance(step, Repeat):
        return [place for inner in step.steps for place in _spread(inner)]
    place = step.place if isinstance(step, Work) else None
    return [one for one in (place, *place.also) if one.every > 1] if place is not None else []


def _with(step: Step, every: int) -> Step:
    if isinstance(step, Repeat):
        return replace(step, steps=tuple(_with(inner, every) for inner in step.steps))
    if not isinstance(step, Work) or step.place is None or not _spread(step):
        return step
    also = tuple(replace(other, every=every) if other.every > 1 else other for other in step.place.also)
    own = every if step.place.every > 1 else step.place.every
    return replace(step, place=replace(step.place, every=own, also=also))
