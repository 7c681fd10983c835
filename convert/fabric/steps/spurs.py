"""Stitches worked back along a chain that the row has just made: petals, tentacles, stems, ribs.

"Ch 9, sc in 2nd ch from hook and in next 7 ch, sc in next sc": the eight stand out from the round. The next one goes on
behind them, and a count may or may not take them in. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Decrease,
    Group,
    Marker,
    Origin,
    Place,
    Repeat,
    Slip,
    Start,
    Step,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import CHAIN, SPACE, SPUR, Builder, Cell, Strip, flattened
from convert.fabric.faults import NotFound, RanOut, Unknown
from convert.fabric.rows.beginnings import foundation_of
from convert.fabric.steps.worker import Worker

Doer = Callable[[Worker, tuple[Step, ...]], None]
_ASIDE = (Chain, ChangeColour, Marker, Verbatim)


def spur_length(worker: Worker, steps: tuple[Step, ...], index: int) -> int:
    """How many steps from there on are worked along a chain just made; 0 where none is begun."""
    # Asked of every step behind a chain: what is told soonest is asked first.
    first = _place(steps[index]) if worker.pending > 1 and index + 1 < len(steps) else None
    if first is None or first.origin is not Origin.HOOK:
        return 0
    left = worker.pending - (first.nth or 1)
    on_chain = not worker.in_ring and worker.base.find(lambda cell: cell.sort == CHAIN, 0) is not None
    if left < 1 or on_chain or not (_is_along(steps[index + 1]) or _is_next(steps[index + 1])):
        return 0
    end = index + 1
    for at in range(index + 1, len(steps)):
        step = steps[at]
        if isinstance(step, Begin) and step.start is Start.OTHER_SIDE:
            left = worker.pending
        elif not isinstance(step, _ASIDE):
            many = _along(step, left)
            if many is None:
                break
            left -= many
        if not isinstance(step, _ASIDE):
            end = at + 1
    return end - index if any(map(_is_along, steps[index + 1 : end])) else 0


def without_spurs(leaves: tuple[Step, ...], base: Strip) -> tuple[Step, ...]:
    """The steps of a repeat that are worked into the row below, and not along a chain that it makes itself."""
    at = next((i for i, step in enumerate(leaves[:-1]) if _is_from_hook(step) and _goes_along(leaves[i + 1 :])), None)
    if at is None or base.find(lambda cell: cell.sort == CHAIN, 0) is not None:
        return leaves
    first = next(i for i in range(at + 1, len(leaves)) if _is_along(leaves[i]))
    return tuple(
        step
        for i, step in enumerate(leaves)
        if not (_is_from_hook(step) or _is_along(step) or (at < i < first and _is_next(step)))
    )


def _goes_along(steps: tuple[Step, ...]) -> bool:
    """Whether the steps name chains one by one, the first of them perhaps as "next" alone."""
    behind = next((step for step in steps if not _is_next(step)), None)
    return behind is not None and _is_along(behind)


def _is_next(step: Step) -> bool:
    """ "Hdc in next": one stitch into whatever comes."""
    place = _place(step)
    plain = place is not None and place.what is What.STITCH and place.of is None and place.which is Which.NEXT
    return plain and place is not None and place.number == 1


def _is_from_hook(step: Step) -> bool:
    place = _place(step)
    return place is not None and place.origin is Origin.HOOK


def _place(step: Step) -> Place | None:
    if isinstance(step, Decrease):
        return step.places[0]
    if isinstance(step, Repeat):
        return _place(step.steps[0]) if step.steps else None
    return step.place if isinstance(step, Work | Group | Slip) else None


def _is_along(step: Step) -> bool:
    """Whether the step names chains one by one, and not one of the chain that it stands in."""
    place = _place(step)
    if place is None or place.what is not What.CHAIN or place.origin is not None:
        return False
    return place.within is None and place.nth is None and place.which is not Which.SAME and not place.words


def _along(step: Step, left: int) -> int | None:
    """How many of the chains that are left a step takes; None where it is worked elsewhere."""
    place = _place(step)
    if place is None:
        return None
    if place.which is Which.SAME:
        return 0
    if not _is_along(step) and not (_is_next(step) and left):
        return None
    if place.which in (Which.EACH, Which.REST) or isinstance(step, Repeat):
        return left
    return place.number if isinstance(place.number, int) else left


def work_spur(worker: Worker, steps: tuple[Step, ...], do: Doer) -> None:
    """Works the steps along the chain. Raises `Unknown` where it is shorter than the work along it."""
    kept = worker.base, worker.position, worker.last, worker.chain_inside, worker.hooked, worker.entered
    around, travels, passed, out = worker.around, worker.travels, worker.passed, worker.out
    in_ring, worker.in_ring = worker.in_ring, False
    worker.base, worker.pending = foundation_of(worker.pending), 0
    worker.position, worker.last, worker.chain_inside, worker.hooked, worker.travels = 0, None, 0, False, False
    worker.out = Builder(colour=out.colour)
    try:
        do(worker, steps)
        stem = worker.base.length - worker.position
        made = flattened(tuple(worker.out.loops))
    except (RanOut, NotFound) as stop:
        raise Unknown(stop.span, why="a chain that is shorter than the work along it") from None
    finally:
        out.colour, worker.out = worker.out.colour, out
        worker.base, worker.position, worker.last, worker.chain_inside, worker.hooked, worker.entered = kept
        worker.around, worker.travels, worker.passed, worker.in_ring = around, travels, passed, in_ring
    if stem:
        out.add(Cell("ch", SPACE, stem, worker.unit[0]))
    for cell, number in made:
        out.add(cell._replace(sort=SPUR, unit=worker.unit[0], part=0, size=0), number)
    worker.spurred = True
