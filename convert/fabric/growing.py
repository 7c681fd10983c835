"""Rows that go on like the last one with more, or fewer, plain stitches between their shapings.

"Sc in next 3 sts, 2 sc in next st" is followed by "sc in next 4 sts, 2 sc in next st". Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Decrease, Extent, Place, Repeat, Step, What, Which, Work
from convert.trade.stitches import stitches


def grown(steps: tuple[Step, ...], more: int) -> tuple[Step, ...]:
    """The steps with so many more plain stitches in their one repeat around; empty where nobody can tell which."""
    at = [i for i, step in enumerate(steps) if isinstance(step, Repeat) or _goes_around(step)]
    if len(at) != 1:
        return ()
    step = steps[at[0]]
    further = (
        _longer(step, more) if isinstance(step, Repeat) else _parted(step, more) if isinstance(step, Work) else None
    )
    return (*steps[: at[0]], further, *steps[at[0] + 1 :]) if further is not None else ()


def _goes_around(step: Step) -> bool:
    return isinstance(step, Work) and step.place is not None and step.place.which is Which.EACH


def _shapes(step: Step) -> bool:
    """Whether the step puts several stitches into one place, or draws several together."""
    if isinstance(step, Decrease):
        return True
    if not isinstance(step, Work):
        return False
    entry = stitches().get(step.stitch)
    return (isinstance(step.each, int) and step.each > 1) or (entry is not None and entry.prevailing)


def _longer(step: Repeat, more: int) -> Repeat | None:
    """ "Sc in next 3 sts, 2 sc in next st" all around, with 4 in the place of the 3."""
    plain = [i for i, one in enumerate(step.steps) if not _shapes(one)]
    if step.extent is not Extent.END or step.ending is not None or len(step.steps) != 2 or len(plain) != 1:
        return None
    one = step.steps[plain[0]]
    place = one.place if isinstance(one, Work) else None
    if not isinstance(one, Work) or one.each != 1 or place is None or not _counts(place):
        return None
    assert isinstance(place.number, int)
    number = place.number + more
    if number < 1:
        return None
    longer = replace(one, place=replace(place, number=number))
    return replace(step, steps=tuple(longer if index in plain else other for index, other in enumerate(step.steps)))


def _counts(place: Place) -> bool:
    simple = place.what is What.STITCH and place.which is Which.NEXT and place.every == 1 and place.within is None
    return simple and isinstance(place.number, int)


def _parted(step: Work, more: int) -> Step | None:
    """ "2 sc in each st" with a stitch between the increases; "inc in every 4th sc" as one in every 5th."""
    place = step.place
    if place is None or place.what is not What.STITCH or place.also or not _shapes(step) or place.within is not None:
        return None
    entry = stitches().get(step.stitch)
    if entry is not None and entry.prevailing:
        every = place.every + more
        return replace(step, place=replace(place, every=every)) if entry.takes == 1 and every > 0 else None
    if place.every != 1 or more < 1:
        return None
    next_one = replace(place, which=Which.NEXT)
    plain = Work(step.stitch, 1, replace(next_one, number=more), span=step.span)
    return Repeat((plain, replace(step, place=next_one, said_doubtful=False)), Extent.END, span=step.span)
