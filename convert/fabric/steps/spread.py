"""Shaping spread over a row: "inc in every 4th sc", "dec in any 3 sc", and rows that leave their last stitches.

Which stitches the shaping meets may be open; how many the row makes is not. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent, Place, Repeat, Skip, Step, Verbatim, What, Which, Work
from convert.fabric.faults import RanOut, Unknown
from convert.fabric.steps.worker import RepeatFact, Worker
from convert.trade.stitches import stitches


def left_behind(tail: tuple[Step, ...]) -> int:
    """How many of its last stitches a row leaves on purpose, by the step behind the one that goes to its end: "sc in
    each st across, leaving 4 sts unworked".
    """
    skip = next((step for step in tail if not (isinstance(step, Verbatim) and step.inert)), None)
    if not isinstance(skip, Skip) or skip.place.what is not What.STITCH or not isinstance(skip.place.number, int):
        return 0
    last = skip.place.which is Which.LAST or (skip.leave and skip.place.which is Which.NEXT)
    return skip.place.number if last else 0


def short_of(step: Work, many: int) -> Repeat:
    """A stitch into every place but the last so many."""
    assert step.place is not None
    one = replace(step, place=replace(step.place, which=Which.NEXT))
    return Repeat((one,), Extent.TO_LAST, place=Place(which=Which.LAST, number=many), span=step.span)


def is_spread(step: Work) -> bool:
    """Whether the step is shaping that meets some of the row's stitches, the others being worked plain."""
    if step.place is None or step.stitch not in stitches():
        return False
    place = step.place
    spread = (place.which is Which.EACH and place.every > 1) or (place.which is Which.ANY and place.number != 1)
    return spread and stitches()[step.stitch].prevailing


def do_spread(worker: Worker, step: Work, leave: int) -> None:
    """Works a row with an increase in every so many stitches, or with so many increases or decreases anywhere; `leave`
    stitches are left at its end. What stands between them, and what is left behind the last one, is worked plain.
    """
    assert step.place is not None
    place, entry = step.place, stitches()[step.stitch]
    left = worker.base.length - worker.position - leave
    many = worker.remaining(worker.test(place)) - leave
    if many + leave == 0 and place.which is Which.ANY and entry.takes == 1:
        many = worker.remaining() - leave  # the stitch named is the one worked, on a row of another
    if many != left:
        raise Unknown(step.span, why="shaping among stitches of other kinds")
    if place.which is Which.EACH:
        times, taken = many // place.every, place.every
    else:
        times, taken = worker.number(place.number, step.span), entry.takes
    if many < taken * max(1, times):
        raise RanOut(step.span, what=place, wanted=taken * max(1, times), left=many)
    more = worker.number(step.each, step.span) * entry.makes - entry.takes
    worker.make(place.of or worker.kind, many + times * more)
    worker.repeats.append(RepeatFact(taken, taken + more, times, step.span))
    worker.position += many
    worker.last = worker.position - 1
