"""Repeats all around an edge that nobody tells: "join in any loop, *ch 5, sc in next loop; rep from * around".

Such a round holds for every edge: what each turn makes is told, and only how many turns there are is not. It is worked
so many times, which stand for any number; the rows on it are worked on that, and never called wrong, nor are their
counts given out as those of the piece. Common practice, no source: so edgings, casings and the rounds of a piece are
written whose beginning another page tells.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from convert.document.steps import (
    Begin,
    Chain,
    Decrease,
    EndingKind,
    Extent,
    Group,
    Repeat,
    Start,
    Step,
    What,
    Which,
    Work,
)
from convert.document.walking import unread
from convert.fabric.faults import OTHER_EDGE, PIECE_EDGE, TOLD_ELSEWHERE, UNTOLD, Unknown
from convert.fabric.parts.run import Run
from convert.fabric.rows.corners import UNEVEN
from convert.fabric.rows.evenly import goes_evenly
from convert.fabric.rows.readings import flat_steps
from convert.fabric.steps.far_ends import leads_away
from convert.fabric.steps.rounds import demands
from convert.fabric.steps.turns import Doer, Turns, note
from convert.fabric.steps.worker import Worker

_ELSEWHERE = (TOLD_ELSEWHERE, OTHER_EDGE, UNTOLD, PIECE_EDGE)
"""Why the edge is not known, where the row that makes it was understood and stands elsewhere."""
TURNS = 24
"""So many turns: a number that many others divide, so that what goes over several of them comes out."""
_MORE = 13
"""So many further numbers are tried where a row goes over several turns and does not come out."""


def on_open_turns(worked: Callable[[int], Run]) -> Run:
    """The rows of a part with the first number of turns at which the most of them come out: such rounds hold for every
    number that suits the rows on them.
    """
    best = worked(TURNS)
    for turns in range(TURNS + 1, TURNS + _MORE):
        if not _lacks(best):
            break
        run = worked(turns)
        best = run if _known(run) > _known(best) else best
    return best


def _known(run: Run) -> int:
    return sum(1 for worked in run.results if worked.outcome is not None and worked.outcome.made is not None)


def _lacks(run: Run) -> bool:
    """Whether a row does not come out right on one that goes around an edge that nobody tells."""
    outcomes = [worked.outcome for worked in run.results if worked.outcome is not None]
    return any(
        below.edge.turns and one.made is None and one.why in ("", UNEVEN) and not one.unread
        for below, one in pairwise(outcomes)
    )


def goes_around_open(worker: Worker, step: Repeat) -> bool:
    """Whether a repeat all around an edge that nobody tells is worked a number of times that stands for any."""
    whole = step.extent is Extent.END and step.place is None
    stands = whole and worker.untold and not worker.beyond and worker.turns > 0
    return stands and demands(step.steps) and not any(map(_goes_along_side, flat_steps(step.steps)))


def _goes_along_side(step: Step) -> bool:
    """Whether each turn goes along a side of the piece: it has three or four, and no number stands for them."""
    place = getattr(step, "place", None)
    return place is not None and place.what in (What.CORNER, What.PIECE, What.ROW_END)


def turn_around(worker: Worker, step: Repeat, do: Doer) -> None:
    """Works such a repeat. Raises `Unknown` where it is open how the last turn goes."""
    last = _last_turn(step, begun=worker.out.made > 0)
    if last is None:
        raise Unknown(step.span, why=UNTOLD)
    start, made = worker.position, worker.out.made
    turns = Turns(worker, step.steps, do)
    while turns.done < worker.turns:
        worker.tick(step.span)
        turns.once()
    note(worker, step, turns, start, made)
    do(worker, last)
    worker.closed = worker.closed or _closes_round(last, step.steps)


def _closes_round(last: tuple[Step, ...], body: tuple[Step, ...]) -> bool:
    """Whether the round is closed by a stitch on the one that closed the last: "*ch 8, sc in next loop; rep from *
    around, ending with ch 3, tr in tr".
    """
    chain, closing = last[-2:] if len(last) > 1 else (None, None)
    place = closing.place if isinstance(closing, Work) and isinstance(chain, Chain) else None
    if not isinstance(closing, Work) or place is None or place.of != closing.stitch or place.which is not Which.NEXT:
        return False
    return not any(isinstance(step, Work) and step.stitch == closing.stitch for step in flat_steps(body))


def _last_turn(step: Repeat, *, begun: bool) -> tuple[Step, ...] | None:
    """What is worked behind all whole turns; None where the words leave open where in a turn they begin. Where the
    round has `begun` with the last stitch or group of a turn, one that ends "to correspond" goes up to it.
    """
    ending = step.ending
    if ending is None:
        return ()
    if ending.kind is EndingKind.AT:
        return step.steps[: ending.after]
    if ending.kind is EndingKind.FITTING:
        return step.steps[:-1] if begun and isinstance(step.steps[-1], Work | Group) else None
    as_begun = step.steps[: len(ending.steps)] == ending.steps
    in_all = len(ending.steps) >= len(step.steps)
    return ending.steps if as_begun or in_all else None


def turns_for(run: Run, steps: tuple[Step, ...], *, missing: bool) -> int:
    """How often the repeats of a row may be worked all around an edge that nobody tells; 0 where the edge is one whose
    rows were not understood, and the yarn is not joined anew, or is told by a round that is `missing`. What goes evenly
    along a piece asks for no row of it.
    """
    anywhere = _joins(steps) or _told_elsewhere(run) or goes_evenly(steps)
    return run.turns if not missing and anywhere else 0


def _joins(steps: tuple[Step, ...]) -> bool:
    """Whether yarn is joined for the row, or it leaves for another edge, in front of all its work."""
    for step in flat_steps(steps):
        if isinstance(step, Begin):
            return step.start in (Start.EDGE, Start.ALONG)
        if leads_away(step):
            return True
        if isinstance(step, Work | Group | Decrease):
            return False
    return False


def _told_elsewhere(run: Run) -> bool:
    """Whether the text sends the maker elsewhere for what stands on the hook, and no words since then stay unread."""
    if run.edge.strip is not None or run.tainted:
        return False
    why = TOLD_ELSEWHERE if run.sent else ""
    for worked in () if run.sent else reversed(run.results):
        outcome = worked.outcome
        if outcome is None:
            continue
        if outcome.made is not None and not worked.unknown_after:
            break
        if outcome.unread or outcome.faults or any(unread(worked.row.steps)):
            return False
        why = outcome.why
    return why in _ELSEWHERE
