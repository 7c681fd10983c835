"""Loops that stand out from the piece: "join yarn in any st, ch 14, sl st in same st, turn, 20 sc in ch-14 loop".

A chain that is fastened at both ends is covered with stitches, to hang the piece up or to button it. How many they are
is told, wherever the loop is; the last row of the piece stays as it is. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Decrease,
    FastenOff,
    Group,
    Join,
    Marker,
    Origin,
    Place,
    Repeat,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import SPACE, Cell, Loop, Strip
from convert.fabric.faults import OTHER_EDGE
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge, Outcome, RowJob

_SHORTEST = 4
"""Fewer chains turn the work, or are a picot."""
_LONG = 8
"""So many chains may hang the piece up without a stitch over them."""
_FEWEST = 5
"""So many stitches in one loop cover it."""


def over_handle(job: RowJob, edge: Edge, work: Callable[[RowJob, Edge], Outcome]) -> Outcome | None:
    """What a row makes that is nothing but such a loop, or a chain that hangs from the piece; None for any other."""
    steps = tuple(step for step in job.steps if not _is_quiet(step))
    begun = bool(steps) and isinstance(steps[0], Begin) and steps[0].start is Start.EDGE
    if not begun and (job.labelled or edge.fresh):
        return None
    steps = steps[1:] if begun else steps
    chain = steps[0] if steps else None
    if not isinstance(chain, Chain) or not isinstance(chain.number, int) or chain.number < _SHORTEST:
        return None
    if begun and all(isinstance(step, FastenOff) for step in steps[1:]) and len(steps) > 1:
        return _apart(Strip.of((Loop(((Cell("ch", "chain"), 1),), chain.number),)), Outcome(edge))
    founds = chain.number >= _LONG and len(steps) == 1  # "attach yarn to side of hat, ch 41", and row 1 below
    if begun and (founds or _works_back(steps[1:])):
        tie = work(replace(job, steps=steps, flat=True), Edge())
        known = tie.made is not None and not tie.faults
        edge = replace(tie.edge, untested=True)
        return replace(tie, edge=edge, base=None, why=OTHER_EDGE) if known else None
    over = _over_loop(steps[1:], chain.number)
    if not over:
        return None
    loop = Strip.of((Loop(((Cell("ch", SPACE, chain.number), 1),), 1),))
    covered = work(replace(job, steps=over, flat=True), Edge(loop, fresh=False, flat=True))
    return _apart(covered.made, covered) if covered.made is not None and not covered.faults else None


def _works_back(steps: tuple[Step, ...]) -> bool:
    """Whether the chain is worked back along from the hook: "join yarn at a corner, ch 51, sl st in 2nd ch from hook
    and in each ch across" makes a tie, wherever that is.
    """
    first = steps[0] if steps else None
    return isinstance(first, Work | Slip) and first.place is not None and first.place.origin is Origin.HOOK


def _apart(made: Strip, outcome: Outcome) -> Outcome:
    edge = Edge(made, fresh=False, flat=True, untested=True)
    return replace(outcome, edge=edge, base=None, why=OTHER_EDGE, apart=True)


def _is_quiet(step: Step) -> bool:
    return isinstance(step, ChangeColour | Marker) or (isinstance(step, Verbatim) and step.inert)


def _over_loop(steps: tuple[Step, ...], chains: int) -> tuple[Step, ...]:
    """The stitches that cover the chain, of the steps behind it; empty where it is not fastened, or more is worked."""
    at = 1 if steps and isinstance(steps[0], Skip) else 0
    if at >= len(steps) or not isinstance(steps[at], Slip | Join):
        return ()
    at += 1
    while at < len(steps) and (isinstance(steps[at], Turn | Chain) or _is_along(steps[at])):
        at += 1
    end = at
    while end < len(steps) and _covers(steps[end], chains, first=end == at):
        end += 1
    closes = (Slip, Join, Turn, FastenOff, Skip)
    return steps[at:end] if all(isinstance(step, closes) for step in steps[end:]) else ()


def _is_along(step: Step) -> bool:
    """ "Sl st on other side of the leaf": where the chain is fastened, told as an edge."""
    return isinstance(step, Begin) and step.start is Start.ALONG


@remembered
def before_handle(steps: tuple[Step, ...]) -> tuple[Step, ...] | None:
    """The steps of a round without the loop that is made behind its join; None where none is."""
    at = next((i for i, step in enumerate(steps) if isinstance(step, Join)), None)
    if at is None or not any(isinstance(step, Work | Group | Repeat | Decrease) for step in steps[:at]):
        return None
    behind = tuple(step for step in steps[at + 1 :] if not _is_quiet(step))
    if len(behind) > 1 and isinstance(behind[0], Slip):
        behind = behind[1:]
    chain = behind[0] if behind else None
    if not isinstance(chain, Chain) or not isinstance(chain.number, int) or chain.number < _SHORTEST:
        return None
    bare = chain.number >= _LONG and len(behind) > 1 and isinstance(behind[1], Slip | Join)
    ends = bare and all(isinstance(step, FastenOff) for step in behind[2:])
    return (*steps[: at + 1], FastenOff()) if ends or _over_loop(behind[1:], chain.number) else None


def _covers(step: Step, chains: int, *, first: bool) -> bool:
    if not isinstance(step, Work | Group) or step.place is None:
        return False
    place = step.place
    many = not first or not isinstance(step, Work) or (isinstance(step.each, int) and step.each >= _FEWEST)
    which = (Which.NEXT, Which.SAME) if first else (Which.SAME,)
    return many and _is_loop(place, chains) and place.which in which


def _is_loop(place: Place, chains: int) -> bool:
    one = place.what is What.SPACE and place.number == 1 and place.within is None
    return one and not place.words and place.chains in (None, chains)


def into_ring_called_loop(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "Ch 16, join to form a ring, 24 sc over loop": the ring is meant, where so many go into one "loop"."""
    at = next((i for i, step in enumerate(steps) if isinstance(step, Begin) and step.start is Start.CHAIN_RING), None)
    behind = at + 1 if at is not None else 0
    while at is not None and behind < len(steps) and (isinstance(steps[behind], Chain) or _is_quiet(steps[behind])):
        behind += 1
    ring = steps[at] if at is not None else None
    step = steps[behind] if behind < len(steps) else None
    if not isinstance(ring, Begin) or not isinstance(ring.number, int) or not isinstance(step, Work):
        return steps
    if step.place is None or not _covers(step, ring.number, first=True):
        return steps
    inside = replace(step, place=Place(What.RING, span=step.place.span))
    return (*steps[:behind], inside, *steps[behind + 1 :])
