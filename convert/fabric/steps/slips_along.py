"""Slip stitches that lead along the last row to where the work begins: "sl st over next sp up to tr".

They come to that stitch and end in it, so that the one behind it is the next. Common practice, no source.
"""

from __future__ import annotations

from itertools import takewhile

from msgspec.structs import replace

from convert.document.steps import Chain, Decrease, Extent, Group, Loops, Repeat, Slip, Step, Turn, What, Which, Work
from convert.fabric.cells import SLIP, SPACE, STITCH
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Reading, RowJob
from convert.fabric.rows.readings import flat_steps
from convert.fabric.steps.filet import begins_with_meshes
from convert.fabric.steps.worker import Worker


@remembered
def slips_told(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with slips over one space up to the next stitch as a slip into each of the two."""
    if not steps or not isinstance(steps[0], Repeat):
        return _onto_next(steps)
    first = steps[0]
    slip = first.steps[0] if len(first.steps) == 1 else None
    to = first.place
    if not isinstance(slip, Slip) or first.extent is not Extent.TO_PLACE or to is None:
        return steps
    over = slip.place.what is What.SPACE and slip.place.number == 1 and slip.place.which in (Which.FIRST, Which.NEXT)
    onto = to.what is What.STITCH and to.which is Which.NEXT and to.number == 1 and not (to.words or slip.place.words)
    return (slip, Slip(to, first.span), *steps[1:]) if over and onto else steps


def _onto_next(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with "ss across 5 tr and into 6th tr" as slips into five and the next one."""
    slips = _slips(steps)
    if len(slips) != 2 or slips[1].place.which is not Which.NTH or not isinstance(slips[0].place.number, int):
        return steps
    if slips[1].place.nth != slips[0].place.number + 1 or slips[1].place.within is not None:
        return steps
    at = steps.index(slips[1])
    onto = replace(slips[1], place=replace(slips[1].place, which=Which.NEXT, nth=None))
    return (*steps[:at], onto, *steps[at + 1 :])


def _slips(steps: tuple[Step, ...]) -> tuple[Slip, ...]:
    """The slip stitches into stitches with which steps begin; none where they go into anything else."""
    begun = tuple(takewhile(lambda step: isinstance(step, Slip | Turn), steps))
    slips = tuple(step for step in begun if isinstance(step, Slip))
    along = all(
        slip.place.what is What.STITCH and not slip.place.words and slip.place.which in _ALONG for slip in slips
    )
    return slips if along else ()


_ALONG = (Which.NEXT, Which.FIRST, Which.NTH)


def slipped_past(lead: tuple[Step, ...]) -> tuple[int, ...]:
    """How many stitches a flat row that begins with slip stitches may pass at its beginning, and so leave at its end
    without saying so: all that it slips along, or those in front of the one on which its chain stands. Common practice
    of shaping, no source.
    """
    numbers = [slip.place.number for slip in _slips(lead)]
    whole = sum(number for number in numbers if isinstance(number, int))
    return (whole, whole - 1) if whole > 1 and all(isinstance(number, int) for number in numbers) else ()


def with_led(options: tuple[Reading, ...], job: RowJob) -> tuple[Reading, ...]:
    """The readings of a row with where its chain stands behind slip stitches: on the last one where that has a place
    of its own ("ss across first 5 tr and into next tr, 3 ch"), otherwise there if the row does not come out on the
    stitch behind it.
    """
    slips = _slips(job.steps) if job.flat else ()
    behind = next((step for step in job.steps if not isinstance(step, Slip | Turn)), None)
    if not slips or not isinstance(behind, Chain):
        return options
    own = len(slips) > 1 and slips[-1].place.number == 1 and slips[-2].place.number != 1
    led = tuple(replace(option, led=True) for option in options)
    if own:
        return led
    return (*options, *led) if slips[-1].place.number != 1 else options


def slips_travel(steps: tuple[Step, ...]) -> bool:
    """Whether slip stitches lead to other work, so that they are no row of their own. In one loop each, they make a
    ribbing, which is worked on like any other stitches.
    """
    slips = [leaf for leaf in flat_steps(steps) if isinstance(leaf, Slip)]
    if any(slip.place.loops in (Loops.BACK, Loops.FRONT) for slip in slips):
        return False
    return any(isinstance(leaf, Work | Group | Decrease) for leaf in flat_steps(steps)) or begins_with_meshes(steps)


def stands_where_led(worker: Worker) -> bool:
    """Whether the chain that begins a flat row stands on the stitch that slip stitches led to: a space is behind it, on
    which it cannot stand.
    """
    made, at = worker.out.last(), worker.position
    if not worker.flat or made is None or made.sort != SLIP or worker.last is None or worker.last + 1 != at:
        return False
    here, behind = (worker.base.at(p)[0] if p < worker.base.length else None for p in (worker.last, at))
    return here is not None and behind is not None and here.sort == STITCH and behind.sort == SPACE
