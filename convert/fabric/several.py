"""A line that tells of several rows or rounds without labels: "join, ch 1, sc in each st around, join"."""

from __future__ import annotations

from convert.document.steps import Chain, Decrease, FastenOff, Group, Join, Repeat, Slip, Step, Turn, What, Which, Work


def rows_in(steps: tuple[Step, ...]) -> tuple[tuple[Step, ...], ...]:
    """The steps, cut where a round is joined or the work is turned and more is worked behind it."""
    rows: list[tuple[Step, ...]] = []
    start = 0
    for index, step in enumerate(steps):
        if isinstance(step, Join | Turn) and index >= start and _ends(step, steps[start:index]):
            end = _behind_moves(steps, index)
            if any(_works(s) or (isinstance(step, Turn) and isinstance(s, Slip)) for s in steps[end:]):
                rows.append(steps[start:end])
                start = end
    return (*rows, steps[start:]) if rows else (steps,)


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
