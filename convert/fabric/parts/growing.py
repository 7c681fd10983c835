"""Rows that go on like the last one with more, or fewer, plain stitches between their shapings.

"Sc in next 3 sts, 2 sc in next st" is followed by "sc in next 4 sts, 2 sc in next st". Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Decrease, Extent, Place, Reached, ReachedIn, Repeat, Step, What, Which, Work
from convert.trade.stitches import stitches

_MOST = 200
"""So many rows at most are looked ahead."""


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


def rows_to_reach(steps: tuple[Step, ...], more: int, reached: Reached, stitches_now: int) -> tuple[int, ...]:
    """How many rows it takes to come to a number of stitches, each with so many more between its shapings.

    The first goes on from these steps; `stitches_now` is what the last row made. A section may be meant with its
    shaping or without, so that there are two answers; empty where the rows never come to the number.
    """
    made = _section(steps)
    times = stitches_now // made[1] if made is not None and made[1] and not stitches_now % made[1] else 0
    found: list[int] = []
    also: list[int] = []
    for count in range(1, _MOST):
        steps = grown(steps, more)
        section = _section(steps)
        if section is None:
            break
        plain, whole = section
        have = {ReachedIn.ROW: times * whole, ReachedIn.SECTION: whole, ReachedIn.BETWEEN: plain}[reached.within]
        found += [count] * (have == reached.number)
        also += [count] * (reached.within is ReachedIn.SECTION and plain == reached.number)
    return (*found, *also)


def _section(steps: tuple[Step, ...]) -> tuple[int, int] | None:
    """The plain stitches between two shapings, and what is made from one shaping to the next."""
    step = next((step for step in steps if isinstance(step, Repeat) or _goes_around(step)), None)
    if isinstance(step, Work) and _shapes(step) and isinstance(step.each, int) and step.place is not None:
        entry = stitches().get(step.stitch)
        plain = step.place.every - 1
        return plain, plain + (2 if entry is not None and entry.prevailing else step.each)
    if not isinstance(step, Repeat):
        return None
    plain = whole = 0
    for one in step.steps:
        many = _makes(one)
        if many is None:
            return None
        plain += 0 if _shapes(one) else many
        whole += many
    return plain, whole


def _makes(step: Step) -> int | None:
    """How many stitches a counted step makes."""
    if isinstance(step, Decrease):
        return 1
    if not isinstance(step, Work) or step.place is None or not _counts(step.place) or not isinstance(step.each, int):
        return None
    entry = stitches().get(step.stitch)
    prevailing = entry is not None and entry.prevailing
    each = (2 if entry is not None and entry.takes == 1 else 1) if prevailing else step.each
    assert isinstance(step.place.number, int)
    return each * step.place.number


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
