"""Rows worked on an edge that nobody tells, and which count all they make.

"Ch 5, * dc in next loop, ch 2, repeat from * 7 times, join" makes 8 dc and 8 spaces wherever it is worked. What it
makes is known; whether the edge has so many places is not. So the rows on it are executed and never called wrong, until
a stated count bears them out. Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Begin, Chain, Origin, Place, Repeat, Slip, Start, Step, Verbatim, What, Which, Work
from convert.fabric.cells import Strip
from convert.fabric.faults import UNTOLD, Unknown
from convert.fabric.rows.jobs import Edge, RowJob
from convert.fabric.rows.layers import names_pieces, slips_together
from convert.fabric.rows.readings import first_stitch
from convert.fabric.rows.row_parts import demands_places, take_apart
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said

_TOLD_HERE = (Start.EDGE, Start.ALONG, Start.OTHER_SIDE)


def untold_edge(job: RowJob, edge: Edge) -> Edge | None:
    """The edge on which the row may be counted by itself; None where that would be a guess.

    A piece of work must have begun, and the row must begin with the yarn joined or a chain of its own, unless its
    first stitch is so low that no turning chain stands for one, or nobody tells how many stitches go along.
    """
    begins = [step for step in job.steps if isinstance(step, Begin)]
    works = demands_places(job.steps) or slips_together(job.steps) or _makes_loop(job.steps)
    if any(step.start not in _TOLD_HERE for step in begins) or not works:
        return None
    begun = any(step.start is Start.EDGE for step in begins) or names_pieces(job.steps) or ring_unsaid(job)
    if edge.fresh and not begun:
        return None
    parts = take_apart(job, edge)
    bare = job.flat and parts.chain is None and not parts.lead and not _begins_along(job.steps)
    if bare and (first_stitch(job.steps)[1] or 0) > 1:
        return None
    return Edge(Strip(), fresh=False, flat=job.flat, pending=edge.pending, untested=True)


def _makes_loop(steps: tuple[Step, ...]) -> bool:
    """Whether chains are fastened where they began: "join yarn in any corner, ch 12, sl st in same corner"."""
    chained = next((at for at, step in enumerate(steps) if isinstance(step, Chain)), len(steps))
    begun = any(isinstance(step, Begin) and step.start is Start.EDGE for step in steps[:chained])
    return begun and any(isinstance(s, Slip) and s.place.which is Which.SAME for s in steps[chained + 1 :])


def _begins_along(steps: tuple[Step, ...]) -> bool:
    """Whether the first stitches go along an edge that words name, as many as that takes."""
    place = next((step.place for step in steps if isinstance(step, Work)), None)
    return place is not None and place.what is What.PIECE and place.which is Which.EACH


def ring_unsaid(job: RowJob) -> bool:
    """Whether a first round only says how many stitches it has ("Rnd 1: 6 sc"); the ring is left unsaid."""
    made = [step for step in job.steps if not isinstance(step, Verbatim)]
    only = made[0] if len(made) == 1 else None
    place = only.place if isinstance(only, Work) else None
    return not job.flat and place is not None and place == Place(number=place.number) and place.number != 1


def is_anywhere(worker: Worker, place: Place) -> bool:
    """Whether the place is one of the edge that nobody tells, and not one that this row made itself."""
    return worker.untold and place.which is not Which.MADE and place.origin is not Origin.HOOK


def goes_beyond(worker: Worker) -> bool:
    """Turns from the last row, once it is used up, to another edge, which nobody tells: what is counted there is known.
    Says whether the row goes on so.
    """
    if worker.untold or not worker.base.length or worker.position < worker.base.length or worker.in_ring:
        return False
    worker.untold = worker.beyond = True
    return True


def share_of(worker: Worker, step: Work, each: int) -> int | None:
    """How many stitches go along an edge of which the row says only "evenly"; None where that is not the case."""
    if each != 1 or worker.shares is None or step.place is None or not counts_along(worker, step, 2):
        return None
    if worker.shared >= len(worker.shares):
        raise Unknown(step.span, why=UNTOLD)
    worker.shared += 1
    return worker.shares[worker.shared - 1]


def counts_along(worker: Worker, step: Work, each: int) -> bool:
    """Whether so many stitches are worked in all: "work 40 sc evenly down the side", "work 12 tufts in the row"."""
    place = step.place
    if place is not None and step.each != 1 and _is_whole_row(place):
        worker.left = True
        worker.position = worker.base.length
        return True
    return worker.untold and place is not None and place.what is What.PIECE and place.which is Which.EACH and each > 1


def _is_whole_row(place: Place) -> bool:
    """Whether the row that is worked is told as the place: the stitches are those that it has in all."""
    return place.what is What.PIECE and place.which is Which.NEXT and _row().fullmatch(place.words) is not None


@cache
def _row() -> re.Pattern[str]:
    return re.compile(rf"{said('the')}\s{said('row', 'round')}", re.IGNORECASE)


def into_anywhere(worker: Worker, place: Place, span: Span) -> int:
    """How many places are named. Raises `Unknown` where that depends on the edge."""
    if _leaves_open(place) or place.also:
        raise Unknown(span, why=UNTOLD)
    closes = place.which is Which.FIRST or place.what is What.BEGINNING_CHAIN
    worker.closed = closes and not worker.flat and worker.out.made > 0
    worker.last, worker.spaced = 0, True
    return worker.number(place.number, span)


def _leaves_open(place: Place | None) -> bool:
    if place is None:
        return False
    open_ended = place.which in (Which.EACH, Which.REST) or place.every != 1
    return open_ended or "each" in place.words.split() or _leaves_open(place.within)


def stops_at_edge(worker: Worker, step: Step) -> None:
    """Raises `Unknown` for what goes on as far as the edge does, if nobody tells the edge."""
    if worker.untold:
        raise Unknown(step.span, why=UNTOLD)


def may_begin_later(step: Repeat) -> bool:
    """ "* Sc in next loop; rep from * twice, ch 9, sc in next loop; rep from * 4 times": behind a repeat of the same
    mark either all of it is meant or only the last steps, which are those that were repeated. The edge would tell.
    """
    first = step.steps[0] if step.steps else None
    if not isinstance(first, Repeat):
        return False
    many = len(first.steps)
    return len(step.steps) > many + 1 and step.steps[-many:] == first.steps
