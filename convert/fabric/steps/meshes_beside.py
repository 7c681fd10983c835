"""Meshes of filet made beside the end of a row: "ch 5, dc in same dc. Ch 5, turn. Skip 2 ch, dc in next ch. Turn."

Each chain is a stitch and the chains of a space; the work goes back over those of the space, into what stands for the
stitch. The row is longer by so many meshes, and its end is the chain that stands for the last stitch. Common practice
of filet crochet, no source.
"""

from __future__ import annotations

from convert.document.steps import Chain, Place, Skip, Step, Turn, Verbatim, What, Which, Work
from convert.fabric.remembered import remembered
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import stitches


class OuterStitch(Work, frozen=True, eq=False):
    """A stitch at the end of a row for which chains stand."""


def make_outer(worker: Worker, step: OuterStitch) -> None:
    """The chain that stands for the stitch, which the next row may climb chain by chain."""
    worker.make(step.stitch, chains=stitches()[step.stitch].height or 0)


@remembered
def with_meshes_beside(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with such meshes at their end as spaces and stitches one behind the other, and one turn behind all."""
    if sum(isinstance(step, Turn) for step in steps) < _TURNS:
        return steps
    first = next((i for i in range(1, len(steps)) if _over(steps[i - 1], steps[i])), 0)
    stitch = steps[first]
    if not first or not isinstance(stitch, Work):
        return steps
    over = _over(steps[first - 1], stitch)
    end, meshes = first + 1, 1
    while end + 4 <= len(steps) and _is_further(steps[end : end + 4], stitch, over):
        end, meshes = end + 4, meshes + 1
    turned = end < len(steps) and isinstance(steps[end], Turn)
    if meshes < _TURNS or not turned or not all(isinstance(s, Verbatim) and s.inert for s in steps[end + 1 :]):
        return steps
    chain = Chain(over, span=stitch.span)
    inner = (chain, stitch) * (meshes - 1)
    outer = OuterStitch(stitch.stitch, 1, stitch.place, span=stitch.span)
    return (*steps[: first - 1], *inner, chain, outer, *steps[end:])


_TURNS = 2
"""The turn at the end of the row, and one in front of at least one of the meshes."""


def _over(chain: Step, stitch: Step) -> int:
    """How many chains go over the space of a mesh that begins in the place of the last stitch; 0 where none does."""
    if not isinstance(chain, Chain) or not isinstance(stitch, Work) or not isinstance(chain.number, int):
        return 0
    place, entry = stitch.place, stitches().get(stitch.stitch)
    here = place is not None and place.which is Which.SAME and place.what is What.STITCH and stitch.each == 1
    height = entry.height if entry is not None else None
    return max(0, chain.number - height) if here and height else 0


def _is_further(steps: tuple[Step, ...], stitch: Work, over: int) -> bool:
    """Whether these steps are one more mesh of the kind: chain, turn, skip the chains of the space, a stitch."""
    chain, turn, skip, one = steps
    if not (isinstance(chain, Chain) and isinstance(turn, Turn) and isinstance(skip, Skip) and isinstance(one, Work)):
        return False
    height = stitches()[stitch.stitch].height or 0
    alike = chain.number == over + height and one.stitch == stitch.stitch and one.each == 1
    return alike and _is_next_chain(skip.place, over) and _is_next_chain(one.place, 1)


def _is_next_chain(place: Place | None, number: int) -> bool:
    plain = place is not None and place.what is What.CHAIN and place.which is Which.NEXT and place.number == number
    return plain and place is not None and place.origin is None and place.within is None
