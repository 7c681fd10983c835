"""Increases said to go into the same stitch that go into the next one.

"(Sc, 2 sc in same st) x 6" means six increases on twelve stitches to those who count the two stitches of an increase as
sharing one: the same for both, and not the one worked before. Common practice, no source; literally it is three
stitches in one place. So it is a second reading, for rows that do not come out as they stand.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from msgspec.structs import replace

from convert.document.steps import Place, Repeat, Step, What, Which, Work
from convert.fabric.remembered import remembered

_INCREASE = "inc"


@remembered
def says_same(steps: tuple[Step, ...]) -> tuple[Work, ...]:
    """The increases of a row that stand behind plain stitches of their kind and go into "the same" stitch."""
    return tuple(_increases(steps))


def in_next(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with those increases in the next stitch each."""
    if not says_same(steps):
        return steps
    meant = {id(step) for step in says_same(steps)}
    return tuple(_in_next(step, meant) for step in steps)


def into_next(step: Step) -> Step:
    """A stitch into any other place as one into the next."""
    if isinstance(step, Work) and step.place is not None:
        return replace(step, place=replace(step.place, which=Which.NEXT))
    return step


def _increases(steps: tuple[Step, ...]) -> Iterator[Work]:
    for before, step in pairwise(steps):
        if isinstance(before, Work) and isinstance(step, Work) and _goes_on(before, step):
            yield step
    for step in steps:
        if isinstance(step, Repeat):
            yield from _increases(step.steps)


def _goes_on(before: Work, step: Work) -> bool:
    increases = step.stitch == _INCREASE or (step.each != 1 and step.stitch == before.stitch)
    behind, place = before.place, step.place
    if not increases or behind is None or place is None or before.each != 1:
        return False
    return behind.what is What.STITCH and behind.which is Which.NEXT and _bare(place)


def _bare(place: Place) -> bool:
    return replace(place, span=Place().span) == Place(which=Which.SAME)


def _in_next(step: Step, meant: set[int]) -> Step:
    if isinstance(step, Repeat):
        return replace(step, steps=tuple(_in_next(inner, meant) for inner in step.steps))
    return into_next(step) if id(step) in meant else step
