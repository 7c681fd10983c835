"""A line that tells of several rows or rounds without labels: "join, ch 1, sc in each st around, join"."""

from __future__ import annotations

from convert.document.steps import (
    Chain,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Repeat,
    Slip,
    Step,
    Turn,
    What,
    Which,
    Work,
)


def rows_in(steps: tuple[Step, ...]) -> tuple[tuple[Step, ...], ...]:
    """The steps, cut where a round is joined or the work is turned and more is worked behind it."""
    steps = _written_out(steps)
    rows: list[tuple[Step, ...]] = []
    start = 0
    for index, step in enumerate(steps):
        if isinstance(step, Join | Turn) and index >= start and _ends(step, steps[start:index]):
            end = _behind_moves(steps, index)
            if any(_works(s) or (isinstance(step, Turn) and isinstance(s, Slip)) for s in steps[end:]):
                rows.append(steps[start:end])
                start = end
    return (*rows, steps[start:]) if rows else (steps,)


_MANY = 60
"""More rows in one line than anyone writes."""


def _written_out(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "(Ch 1, turn, sc in each st across) 4 times": so many rows, one behind the other."""
    if not any(isinstance(step, Repeat) and _turns(step) for step in steps):
        return steps
    out: list[Step] = []
    for step in steps:
        times = step.times if isinstance(step, Repeat) and _turns(step) else 0
        if isinstance(step, Repeat) and isinstance(times, int) and 0 < times <= _MANY:
            out.extend(step.steps * times)
        else:
            out.append(step)
    return tuple(out)


def _turns(step: Step) -> bool:
    """Whether the work is turned in each working of a repeat."""
    if not isinstance(step, Repeat) or step.extent is not Extent.TIMES or step.ending is not None:
        return False
    return any(isinstance(inner, Turn) for inner in step.steps) and any(map(_works, step.steps))


def _ends(step: Join | Turn, before: tuple[Step, ...]) -> bool:
    """Whether the join or turn ends the row that these steps began."""
    if isinstance(step, Turn):
        return any(_works(s) for s in before)
    return _closes(step) and any(_works(s) or isinstance(s, Chain) for s in before)


def _behind_moves(steps: tuple[Step, ...], index: int) -> int:
    """Behind the join or turn and what belongs to it: fastening off, turning, the turning chain."""
    end = index + 1
    while end < len(steps):
        chained = isinstance(steps[end], Chain) and end + 1 < len(steps) and isinstance(steps[end + 1], Turn)
        if not (chained or isinstance(steps[end], FastenOff | Turn)):
            break
        end += 1
    return end


def _closes(step: Join) -> bool:
    """Whether a join closes a round, and does not fasten the row to another piece on its way."""
    place = step.place
    if place is None:
        return True
    return not place.words and (
        place.what is What.BEGINNING_CHAIN or place.which is Which.FIRST or place.nth is not None
    )


def _works(step: Step) -> bool:
    return isinstance(step, Work | Group | Decrease | Repeat)
