"""Arches over the row's own stitches: "ch 9, turn, skip 5 sc, sl st in next sc, turn, 12 sc in loop".

The chain goes back over stitches that the row has just made and is fastened to one of them, and its stitches cover
them: later rows meet those of the arch. An arch may go over a part of one that is not finished yet. Common practice of
Irish crochet and of old edgings, no source.
"""

from __future__ import annotations

from typing import TypeGuard

from msgspec.structs import replace

from convert.document.steps import (
    Chain,
    Group,
    Origin,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import ARCH, PICOT, SLIP, SPUR, STITCH, Cell, Loop, Run, Strip, flattened
from convert.fabric.remembered import remembered
from convert.fabric.steps.worker import Worker

_SHORTEST = 3
"""Fewer chains turn the work, and are no arch."""


class Arch(Chain, frozen=True, eq=False):
    """A chain that is fastened to the last of the `over` stitches made before it."""

    over: int = 0


def make_arch(worker: Worker, step: Arch) -> None:
    """Notes where the arch begins and how many stitches it covers."""
    worker.close_chains()
    worker.out.loop(((Cell("ch", ARCH, step.over), 1),), 1)
    worker.spurred = True


@remembered
def with_arches(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with each arch as one, and its stitches behind it; the same steps where there is none."""
    if not any(isinstance(step, Turn) or _turns(step) for step in steps):
        return steps
    found = _arched(steps, steps[-1:])
    return steps if found == list(steps) else tuple(found)


def _arched(steps: tuple[Step, ...], before: tuple[Step, ...]) -> list[Step]:
    out: list[Step] = []
    at = 0
    while at < len(steps):
        step = steps[at]
        arch = _arch(steps, at, steps[at - 1 : at] or before[-1:])
        if arch is None:
            out.append(replace(step, steps=tuple(_arched(step.steps, step.steps))) if _turns(step) else step)
            at += 1
            continue
        over, begin = arch
        end = _over_arch(steps, begin)
        out.append(Arch(over.number, over=over.over, span=over.span))
        for inner in _arched(steps[begin:end], ()):
            out += _placeless(inner)
        at = end
    return out


def _turns(step: Step) -> TypeGuard[Repeat]:
    return isinstance(step, Repeat) and any(isinstance(inner, Turn) for inner in step.steps)


def _arch(steps: tuple[Step, ...], at: int, before: tuple[Step, ...]) -> tuple[Arch, int] | None:
    """The arch that begins there, and where the stitches over it begin; None where none does."""
    chain, turn = steps[at], steps[at + 1] if at + 1 < len(steps) else None
    if not isinstance(chain, Chain) or not isinstance(turn, Turn) or not isinstance(chain.number, int):
        return None
    skip = steps[at + 2] if at + 2 < len(steps) else None
    passed = skip.place.number if isinstance(skip, Skip) and skip.place.what is What.STITCH else 0
    behind = at + 2 + isinstance(skip, Skip)
    if not isinstance(passed, int) or chain.number < _SHORTEST or not _is_fastened(steps[behind : behind + 2]):
        return None
    if isinstance(skip, Skip) and skip.place.words:
        passed += _in_ring(before)  # those on the petal or spoke are told, behind what went into the ring
    if _over_arch(steps, behind + 2) == behind + 2:
        return None
    return Arch(chain.number, over=passed + 1, span=chain.span), behind + 2


def _is_fastened(steps: tuple[Step, ...]) -> bool:
    """ "Sl st in next sc, turn"."""
    if len(steps) < _PAIR or not isinstance(steps[0], Slip) or not isinstance(steps[1], Turn):
        return False
    place = steps[0].place
    return place.what is What.STITCH and place.which is Which.NEXT and place.number == 1 and place.within is None


_PAIR = 2


def _in_ring(before: tuple[Step, ...]) -> int:
    """How many stitches went into the ring right before."""
    last = before[-1] if before else None
    ring = isinstance(last, Work) and last.place is not None and last.place.what is What.RING
    return last.each if ring and isinstance(last, Work) and isinstance(last.each, int) else 0


def _over_arch(steps: tuple[Step, ...], begin: int) -> int:
    """Where the stitches end that are worked over the arch, with the arches over them."""
    at = end = begin
    while at < len(steps):
        further = _arch(steps, at, steps[at - 1 : at]) if at > begin else None
        if further is not None:
            at = end = _over_arch(steps, further[1])
        elif _is_over(steps[at], first=at == begin):
            at = end = at + 1
        elif at > begin and _is_aside(steps[at]):
            at += 1
        else:
            break
    return end


def _is_over(step: Step, *, first: bool) -> bool:
    place = step.place if isinstance(step, Work | Group) else None
    if place is None or place.what is not What.SPACE or place.number != 1 or place.chains is not None:
        return False
    return place.which in (Which.SAME, Which.MADE) or (place.which is Which.NEXT and (first or bool(place.words)))


def _is_aside(step: Step) -> bool:
    """A picot, or a remark, between stitches over one arch."""
    place = step.place if isinstance(step, Work | Slip) else None
    knob = place is not None and (place.origin is Origin.HOOK or place.which is Which.MADE)
    return isinstance(step, Chain) or knob or (isinstance(step, Verbatim) and step.inert)


def _placeless(step: Step) -> list[Step]:
    """A step over the arch, without that place."""
    if isinstance(step, Group) and step.place.what is What.SPACE:
        return list(step.steps)
    if isinstance(step, Work) and step.place is not None and step.place.what is What.SPACE:
        return [replace(step, place=None)]
    return [step]


def with_covered(strip: Strip) -> Strip | None:
    """The row with the stitches under its arches as standing out from it; None where an arch is longer than that."""
    runs: list[Run] = []
    for cell, number in flattened(strip.loops):
        if cell.sort != ARCH:
            runs.append((cell, number))
            continue
        for _ in range(number):
            if not _cover(runs, cell.chains):
                return None
    return Strip.of(tuple(Loop((run,), 1) for run in runs))


def _cover(runs: list[Run], over: int) -> bool:
    """Covers so many of the last stitches; says whether there are as many."""
    at, left = len(runs) - 1, over
    while left and at >= 0:
        cell, number = runs[at]
        taken = min(left, number) if cell.sort in (STITCH, SPUR) else number
        if cell.sort not in (STITCH, SPUR, PICOT, SLIP):
            return False
        under = (cell._replace(sort=SPUR, unit="", part=0, size=0), taken) if cell.sort != PICOT else (cell, number)
        runs[at : at + 1] = [(cell, number - taken), under] if taken < number else [under]
        left -= taken if cell.sort in (STITCH, SPUR) else 0
        at -= 1
    return not left
