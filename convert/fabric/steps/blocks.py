"""Stitches side by side between chain spaces, called groups by the next row: "skip first dc of next group".

A row that was worked stitch into stitch marks no groups. Where chains part its stitches, those that stand side by side
look like groups all the same, and a single one stands between them. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from convert.document.steps import Decrease, Group, Place, Skip, Slip, Step, What, Which, Work
from convert.fabric.cells import PAIR, SPACE, STITCH, Cell, Loop, Run, Strip, flattened
from convert.fabric.faults import RanOut
from convert.fabric.remembered import remembered
from convert.fabric.rows.readings import flat_steps
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said

BLOCK = "group"
"""What the stitches of such a group are marked with, as those worked into one place are."""


def with_blocks(base: Strip, steps: tuple[Step, ...], *, flat: bool) -> Strip:
    """The row below with its groups marked, if the steps speak of groups and it has none of another kind: two stitches
    in one place are an increase.

    Unchanged where not every stitch is sure to belong to one group alone: where a round may begin in the middle of one,
    or something else stands between the stitches.
    """
    if not base.length or not _speaks_of_groups(steps):
        return base
    cells = [cell for loop in base.loops for cell, _ in loop.runs]
    if any(cell.size > PAIR or cell.sort not in (STITCH, SPACE) for cell in cells):
        return base
    ends = base.at(0)[0].sort, base.at(base.length - 1)[0].sort
    if all(cell.sort == STITCH for cell in cells) or (not flat and ends == (STITCH, STITCH)):
        return base
    if base.length > _LONGEST:
        return base
    out: list[Loop] = []
    for stretch in _stretches(flattened(base.loops)):
        if out and out[-1].runs == stretch:
            out[-1] = Loop(stretch, out[-1].times + 1)
        else:
            out.append(Loop(stretch, 1))
    return Strip.of(tuple(out))


_LONGEST = 5_000
"""Places of a row that are looked at one by one."""


def _stretches(runs: tuple[Run, ...]) -> Iterator[tuple[Run, ...]]:
    """Stitches side by side, each of two or more told which of the group it is, and the spaces behind them."""
    side_by_side: list[Cell] = []
    spaces: list[Run] = []
    for cell, number in (*runs, (Cell("", STITCH), 1)):
        if cell.sort != STITCH:
            spaces.append((cell, number))
            continue
        if spaces:
            yield (*_told(side_by_side), *spaces)
            side_by_side, spaces = [], []
        side_by_side += [cell] * number
    if side_by_side[:-1]:
        yield tuple(_told(side_by_side[:-1]))


def _told(side_by_side: list[Cell]) -> Iterator[Run]:
    size = len(side_by_side)
    for part, cell in enumerate(side_by_side):
        in_group = (BLOCK, part, size) if size > 1 else ("", 0, 0)
        yield cell._replace(unit=in_group[0], part=in_group[1], size=in_group[2]), 1


@remembered
def _speaks_of_groups(steps: tuple[Step, ...]) -> bool:
    places = (place for step in flat_steps(steps) for place in _places(step))
    return any(_names_group(place) for place in places)


def _places(step: Step) -> tuple[Place, ...]:
    if isinstance(step, Decrease):
        return step.places
    place = step.place if isinstance(step, Work | Group | Skip | Slip) else None
    return () if place is None else (place, place.within) if place.within is not None else (place,)


def _names_group(place: Place) -> bool:
    return (place.what is What.GROUP and place.of is None) or _is_between(place)


def _is_between(place: Place) -> bool:
    """ "Sc in the single dc between groups"."""
    return place.what is What.STITCH and place.which is Which.NEXT and bool(_between().fullmatch(place.words))


@cache
def _between() -> re.Pattern[str]:
    return re.compile(rf"{said('between')}\s(?:{said('the')}\s)?{said('group')}", re.IGNORECASE)


def single_between(worker: Worker, place: Place, span: Span) -> bool:
    """Goes into the next stitch that stands in no group; false (and nothing done) where that is not told."""
    if place.number != 1 or not _is_between(place):
        return False
    test = worker.test(place)

    def stands_alone(cell: Cell) -> bool:
        return not cell.unit and test(cell)

    if worker.base.find(stands_alone, 0) is None or worker.base.find(lambda cell: cell.size > 1, 0) is None:
        return False
    found = worker.base.find(stands_alone, worker.position)
    if found is None:
        raise RanOut(span, what=place, wanted=1, left=0)
    worker.last, worker.position, worker.spaced = found, found + 1, True
    return True
