"""Repeats that name every place and a chain: "*dc in each ch-1 sp, ch 1; rep from * around".

The stitch goes into one of them at a time, and the chain stands between. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, EndingKind, Extent, Place, Repeat, Step, What, Which, Work
from convert.fabric.faults import RanOut
from convert.fabric.steps.turns import Doer
from convert.fabric.steps.worker import Worker


def one_at_a_time(step: Repeat) -> Repeat:
    """The repeat with the next place in each turn, where it says each."""
    each = _of_each(step)
    if each is None or _spreads(each):
        return step
    also = tuple(replace(other, which=Which.NEXT) for other in each.also)
    first = replace(step.steps[0], place=replace(each, which=Which.NEXT, also=also))
    return replace(step, steps=(first, *step.steps[1:]))


def as_they_come(worker: Worker, step: Repeat) -> Repeat:
    """ "1 sc on each sc, 1 dc on each dc, 3 ch between": the kinds stand by turns in a row, and it begins with the one
    that comes first.
    """
    fitting = step.ending is not None and step.ending.kind is EndingKind.FITTING
    if not fitting or not worker.flat or worker.position or len(step.steps) != _BY_TURNS:
        return step
    one, between, other, behind = step.steps
    places = [s.place for s in (one, other) if isinstance(s, Work)]
    tests = [worker.test(place) for place in places if place is not None and _is_next_of_kind(place)]
    if len(tests) != _HALF or between != behind or not isinstance(between, Chain):
        return step
    first, second = (worker.base.find(test, 0) for test in tests)
    later = first is None or (second is not None and second < first)
    return replace(step, steps=(other, between, one, behind)) if second is not None and later else step


_BY_TURNS, _HALF = 4, 2
"""The steps of a repeat of two kinds with a chain behind each, and how many of them work into the row."""


def _is_next_of_kind(place: Place) -> bool:
    return place.which is Which.NEXT and place.of is not None and not place.words


def works_spread(worker: Worker, step: Repeat, do: Doer) -> bool:
    """Works "*dc in each sp and in every 3rd dc, ch 1; rep from * around": as many as there are, with chains between.
    Says whether the repeat is one of these.
    """
    each = _of_each(step)
    if each is None or not _spreads(each):
        return False
    many = sum(_many(worker, place) for place in (each, *each.also))
    if not many:
        raise RanOut(step.span, what=each, wanted=1, left=0)
    turn: tuple[Step, ...] = (replace(step.steps[0], place=None), *step.steps[1:])
    for _ in range(many - 1):
        worker.tick(step.span)
        do(worker, turn)
    do(worker, turn if step.ending is None else turn[:1])
    worker.position = worker.base.length
    worker.last = worker.base.length - 1
    worker.spaced = True
    return True


def _of_each(step: Repeat) -> Place | None:
    """The places that the repeat works one stitch into each of, if there is nothing but a chain behind it."""
    first, *rest = step.steps or (None,)
    place = first.place if isinstance(first, Work) else None
    if step.extent is not Extent.END or place is None or place.which is not Which.EACH or place.words:
        return None
    chains = bool(rest) and all(isinstance(other, Chain) for other in rest)
    return place if chains and place.what in (What.STITCH, What.SPACE) and place.within is None else None


def _spreads(place: Place) -> bool:
    return any(one.every > 1 for one in (place, *place.also))


def _many(worker: Worker, place: Place) -> int:
    return worker.remaining(worker.test(replace(place, also=(), every=1))) // place.every
