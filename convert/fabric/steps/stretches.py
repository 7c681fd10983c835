"""Stretches of loops that a row gives a name in passing: "sc in 1st tr, (ch 6, sc in next tr) 5 times (pineapple)".

"First loop of pineapple" is then the first loop between two of the stitches that bear the loops, and not the one that
leads from a shell to the first of them. Common practice of lace patterns, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from convert.document.steps import Chain, Group, Place, Repeat, Step, Verbatim, What, Which, Work
from convert.fabric.cells import SPACE, STITCH
from convert.fabric.faults import RanOut
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said as forms_of


@cache
def _of_it() -> re.Pattern[str]:
    which = forms_of("the", "each", "next", "same")
    return re.compile(rf"{forms_of('of', 'in', 'across')}\s(?:{which}\s)*(.+)", re.IGNORECASE)


def stretches_named(steps: Iterable[Step]) -> frozenset[str]:
    """The names that stand in brackets right behind a repeat of loops."""
    names: set[str] = set()
    before: Step | None = None
    for step in steps:
        if isinstance(step, Repeat):
            names |= stretches_named(step.steps)
        if isinstance(step, Verbatim) and step.inert and isinstance(before, Repeat) and _makes_loops(before):
            said = step.words[0]
            if isinstance(said, str) and len(step.words) == 1 and said.startswith("(") and said.endswith(")"):
                names.add(said[1:-1].casefold())
        before = step
    return frozenset(names)


def _makes_loops(step: Repeat) -> bool:
    """Whether every turn of the repeat is a chain and what fastens it."""
    return len(step.steps) == 2 and isinstance(step.steps[0], Chain) and isinstance(step.steps[1], Work)


def is_of_stretch(place: Place, names: frozenset[str]) -> bool:
    """Whether the words beside a loop say of which named stretch it is."""
    match = _of_it().fullmatch(place.words) if place.what is What.SPACE and place.words else None
    return match is not None and match[1].casefold() in names


def names_stretch(steps: tuple[Step, ...], names: frozenset[str]) -> bool:
    """Whether a step goes into a loop of a named stretch."""
    for step in steps:
        place = step.place if isinstance(step, Work | Group) else None
        if place is not None and is_of_stretch(place, names):
            return True
        if isinstance(step, Repeat) and names_stretch(step.steps, names):
            return True
    return False


def into_stretch(worker: Worker, place: Place, span: Span) -> int:
    """The loop of the next stretch that is meant: its last one, or else the next of those that are left."""
    worker.spaced = True
    found = _next_loop(worker, worker.position, span)
    if found is None:
        raise RanOut(span, what=place, left=0)
    end = found
    while place.which is Which.LAST and _is_loop(worker, end + 2):
        end += 2
    worker.last, worker.position = end, end + 1
    return 1


def _next_loop(worker: Worker, start: int, span: Span) -> int | None:
    position: int | None = start
    while position is not None:
        worker.tick(span)
        position = worker.base.find(lambda cell: cell.sort == SPACE, position)
        if position is not None and _is_loop(worker, position):
            return position
        position = position + 1 if position is not None else None
    return None


def _is_loop(worker: Worker, position: int) -> bool:
    """Whether a space stands there between two single stitches of one kind."""
    if not 0 < position < worker.base.length - 1:
        return False
    left, here, right = (worker.base.at(position + i)[0] for i in (-1, 0, 1))
    plain = left.sort == right.sort == STITCH and not (left.size or right.size)
    return plain and here.sort == SPACE and base_kind(left.kind) == base_kind(right.kind)
