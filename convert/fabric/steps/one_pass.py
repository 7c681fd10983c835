"""One pass over a row told in several clauses: "sc in each dc, sc in each ch-1 sp and (sc, ch 2, sc) in each corner".

The places are met in turn, and not one kind after the other. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Group, Place, Step, What, Which, Work
from convert.fabric.remembered import remembered


@remembered
def in_one_pass(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with the same stitch in each of two kinds of place as one, where a third kind is worked as well;
    the same steps where there is none.
    """
    for at in range(len(steps) - 2):
        first, other, behind = steps[at : at + 3]
        if not (isinstance(first, Work) and isinstance(other, Work) and isinstance(behind, Work | Group)):
            continue
        one, two, three = (_each(step) for step in (first, other, behind))
        alike = (first.stitch, first.each) == (other.stitch, other.each)
        if one is not None and two is not None and three is not None and alike and one.what is not two.what:
            joint = replace(first, place=replace(one, also=(*one.also, two)), span=first.span)
            return in_one_pass((*steps[:at], joint, *steps[at + 2 :]))
    return steps


def _each(step: Work | Group) -> Place | None:
    """Where the step goes, if into each such place and nothing else is said of it."""
    place = step.place
    if place is None or place.which is not Which.EACH or place.what not in (What.STITCH, What.SPACE, What.CORNER):
        return None  # ends of rows and chains of the foundation are other edges
    return place if place.every == 1 and place.within is None and not (place.words or place.below) else None
