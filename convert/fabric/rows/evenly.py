"""Work that goes evenly along an edge: "join yarn at underarm, sc evenly around armhole, join", "sc evenly around,
working 3 sc in each corner".

How many stitches go along is left to the maker. Such a row is worked with so many along each edge as stand for any
number, and with the four corners that a piece has unless it is told to have others. Common practice of edgings, no
source.
"""

from __future__ import annotations

import re
from functools import cache
from typing import TypeGuard

from msgspec.structs import replace

from convert.document.steps import Begin, Decrease, Extent, Group, Place, Repeat, Start, Step, What, Which, Work
from convert.fabric.remembered import remembered
from convert.fabric.rows.along import is_evenly
from convert.fabric.rows.corners import corner_behind
from convert.fabric.rows.jobs import RowJob
from convert.trade.patterns import said, signs

_CORNERS = 4
"""How many corners a piece has."""


@remembered
def goes_evenly(steps: tuple[Step, ...]) -> bool:
    """Whether a row goes along edges and turns corners alone, with as many stitches along each edge as the maker finds
    room for.
    """
    works = [step for step in steps if isinstance(step, Work | Group | Decrease | Repeat)]
    return any(map(_is_along, works)) and all(_is_along(step) or _turns(step) for step in works)


def _is_along(step: Step) -> bool:
    return goes_evenly(step.steps) if _is_counted(step) else is_evenly(step)


def _turns(step: Step) -> bool:
    """Whether a step is worked in a corner, or where the yarn was joined."""
    place = step.place if isinstance(step, Work | Group) else None
    return place is not None and (place.what is What.CORNER or place.which is Which.SAME)


def _is_counted(step: Step) -> TypeGuard[Repeat]:
    return isinstance(step, Repeat) and step.extent is Extent.TIMES


def with_lengths(job: RowJob) -> RowJob:
    """Such a row with so many stitches along each edge as its repeats have turns. Where a count tells how many it has
    in all, the edges may be of any lengths, and it is left as it is.
    """
    if job.stated or not goes_evenly(job.steps):
        return job
    around = _at(job.steps) is not None
    steps = _with_sides(job.steps, job.turns) if around else _with_edges(job.steps, job.turns)
    return replace(job, steps=steps)


def _with_edges(steps: tuple[Step, ...], along: int) -> tuple[Step, ...]:
    """The steps with so many stitches along each edge."""
    out: list[Step] = []
    for step in steps:
        if _is_counted(step):
            out.append(replace(step, steps=_with_edges(step.steps, along)))
        else:
            out.append(replace(step, place=Place(number=along)) if is_evenly(step) else step)
    return tuple(out)


def _with_sides(steps: tuple[Step, ...], along: int) -> tuple[Step, ...]:
    """The steps with so many stitches along each side; the same steps where they leave open what the first corner
    has.
    """
    at = _at(steps)
    corner = corner_behind(steps[at + 1 :]) if at is not None else None
    if at is None or corner is None:
        return steps
    side = replace(steps[at], place=Place(number=along))
    once = replace(corner, place=Place(What.CORNER))
    lead, more = steps[:at], steps[at + 2 :]
    worked = [step for step in lead if isinstance(step, Work | Group)]
    turned = Repeat((once, side), times=_CORNERS - 1)
    if not any(map(_in_corner, lead)):
        if worked:
            return steps
        begun = replace(side, place=Place(number=along // 2))  # somewhere along a side, which the round comes back to
        rest = replace(side, place=Place(number=along - along // 2))
        return (*lead, begun, turned, once, rest, *more)
    if not worked:
        return (*lead, once, side, turned, *more)
    first = worked[0] if len(worked) == 1 else None
    return (*lead, side, turned, *more) if first is not None and _is_like(first, corner) else steps


def _at(steps: tuple[Step, ...]) -> int | None:
    """Where the stitches stand that go around the piece, with those of the corners right behind them."""
    at = next((index for index, step in enumerate(steps) if is_evenly(step)), None)
    if at is None or corner_behind(steps[at + 1 :]) is None:
        return None
    place = getattr(steps[at], "place", None)
    return at if isinstance(place, Place) and _is_whole_edge(place.words) else None


def _is_whole_edge(words: str) -> bool:
    return _whole().search(words) is not None and _part().search(words) is None


@cache
def _whole() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{said('around')}|{signs('all_sides')})\b", re.IGNORECASE)


@cache
def _part() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{said('to')}|{signs('parts_of_edges')})\b", re.IGNORECASE)


def _in_corner(step: Step) -> bool:
    """Whether the yarn is joined in a corner."""
    place = step.place if isinstance(step, Begin) and step.start is Start.EDGE else None
    return place is not None and place.what is What.CORNER


def _is_like(first: Work | Group, corner: Work | Group) -> bool:
    """Whether the round began with what is worked in each corner, or with a chain that stands for its first stitch."""
    place = first.place
    if place is None or not (place.which is Which.SAME or place.what is What.CORNER):
        return False
    if isinstance(first, Work) or isinstance(corner, Work):
        return isinstance(first, Work) and isinstance(corner, Work) and first.each == corner.each
    return first.steps == corner.steps
