"""How often a repeat goes around an edge that nobody tells, where the stated count decides it.

"*40 sc to next corner, 3 sc in it; rep from * around (172 sc)": no row tells the edge, and only four
sides make as many. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import Chain, EndingKind, Extent, Repeat, Step
from convert.fabric.cells import STITCH
from convert.fabric.counts import agrees
from convert.fabric.rows.jobs import Outcome, RowJob

_MOST = 1000
"""More turns than any edging has."""


def decided_by_count(job: RowJob, work: Callable[[RowJob], Outcome]) -> Outcome | None:
    """The row with its one open repeat worked as often as its count says; None where that is no whole number, or where
    more than one way of ending the last turn would do.
    """
    at = [i for i, step in enumerate(job.steps) if isinstance(step, Repeat) and step.extent is Extent.END]
    if len(at) != 1 or not job.stated:
        return None
    repeat = job.steps[at[0]]
    assert isinstance(repeat, Repeat)
    found = [one for last in _lasts(repeat) if (one := _as_often(job, at[0], repeat, last, work)) is not None]
    return found[0] if len(found) == 1 else None


def _lasts(repeat: Repeat) -> list[tuple[Step, ...]]:
    """How the last turn may go: to its end, or up to what the round began with; otherwise as the text says."""
    body = repeat.steps
    if repeat.ending is None:
        short = [body[:-1]] if len(body) > 1 and not isinstance(body[-1], Chain) else []
        return [body, *short]
    if repeat.ending.kind is EndingKind.WITH:
        return []
    return [body[: repeat.ending.after] if repeat.ending.kind is EndingKind.AT else body[:-1]]


def _as_often(
    job: RowJob, at: int, repeat: Repeat, last: tuple[Step, ...], work: Callable[[RowJob], Outcome]
) -> Outcome | None:
    """The row with as many turns as the count says, the last of them as given."""

    def turned(times: int) -> Outcome:
        full = (replace(repeat, extent=Extent.TIMES, times=times - 1, ending=None),) if times > 1 else ()
        return work(replace(job, steps=(*job.steps[:at], *full, *last, *job.steps[at + 1 :]), stated=()))

    one, two = _stitches(turned(1)), _stitches(turned(2))
    wanted = next((item.number for item in job.stated if isinstance(item.number, int)), None)
    if one is None or two is None or two <= one or wanted is None or (wanted - one) % (two - one):
        return None
    times = (wanted - one) // (two - one) + 1
    outcome = turned(times) if 1 < times < _MOST else None
    made = outcome.made if outcome is not None else None
    if outcome is None or made is None or outcome.faults:
        return None
    return outcome if all(agrees(made, item, job.size) for item in job.stated) else None


def _stitches(outcome: Outcome) -> int | None:
    made = outcome.made
    if made is None or outcome.faults:
        return None
    return made.count(lambda cell: cell.sort == STITCH)
