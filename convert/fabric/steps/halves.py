"""Corners met as the two groups that they look like: "sc in center dc of next group" goes into each half of "(3 dc,
ch 2, 3 dc)", where the other groups of the row below are as large as the halves. Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Place, Step, What, Which, Work
from convert.fabric.cells import SPACE, Cell, Loop, Strip
from convert.fabric.remembered import remembered
from convert.fabric.rows.readings import flat_steps

_Run = tuple[Cell, int]


def with_halves(base: Strip, steps: tuple[Step, ...]) -> Strip:
    """The strip with such corners parted at their space, for a row that goes into the middles of groups."""
    if not _into_middles(steps):
        return base
    units = [unit for loop in base.loops for unit in _units(loop.runs)]
    plain = {len(unit) for unit in units if not any(cell.sort == SPACE for cell, _ in unit)}
    if not any(_half(unit) in plain for unit in units):
        return base
    return Strip.of(tuple(Loop(_parted(loop.runs, plain), loop.times) for loop in base.loops))


@remembered
def _into_middles(steps: tuple[Step, ...]) -> bool:
    """Whether a row goes into the middle stitch of groups that it calls by no name."""
    places = (step.place for step in flat_steps(steps) if isinstance(step, Work))
    return any(place is not None and _is_middle(place) for place in places)


def _is_middle(place: Place) -> bool:
    within = place.within
    return place.which is Which.CENTER and within is not None and within.what is What.GROUP and within.of is None


def _units(runs: tuple[_Run, ...]) -> list[tuple[_Run, ...]]:
    """The groups that stand in a run of cells, each of which has its stitches one by one."""
    return [runs[at : at + cell.size] for at, (cell, _) in enumerate(runs) if cell.size > 1 and cell.part == 0]


def _half(unit: tuple[_Run, ...]) -> int:
    """How many stitches stand on each side of the one space in the middle of a group; 0 where it has no such space."""
    spaces = [at for at, (cell, _) in enumerate(unit) if cell.sort == SPACE]
    return spaces[0] if len(spaces) == 1 and 2 * spaces[0] + 1 == len(unit) else 0


def _parted(runs: tuple[_Run, ...], plain: set[int]) -> tuple[_Run, ...]:
    out = list(runs)
    for at, (cell, _) in enumerate(runs):
        half = _half(runs[at : at + cell.size]) if cell.size > 1 and cell.part == 0 else 0
        if half not in plain:
            continue
        for offset, (one, many) in enumerate(runs[at : at + cell.size]):
            part, size = (0, 0) if offset == half else (offset % (half + 1), half)
            out[at + offset] = (one._replace(unit=one.unit if size else "", part=part, size=size), many)
    return tuple(out)
