"""What stands between the steps while a row is read: repeat marks, "repeat from" clauses, sentence ends."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import Extent, Place, Skip, Step, Which, Work
from convert.source import NOWHERE, Span


class Mark(Struct, frozen=True):
    """A sign such as `*` or `**` that a repeat refers to."""

    sign: str
    span: Span = NOWHERE
    used: bool = False
    """A repeat refers to it already; a later one may refer to it again, around the first."""


class Ends(Struct, frozen=True):
    """The end of a sentence, or (`ending`) the words "ending with", which tell how the last repeat differs."""

    ending: bool = False
    fitting: bool = False
    """ "Ending to correspond"."""
    at_sign: str = ""
    omits: Place | None = None
    """ "Omitting last sc": what the last working leaves out at its end."""
    up_to: Number | None = None
    """ "The last time only to ch 2": the chains that the last working ends with."""
    words: str = ""
    """The clause as typed, to be kept where the working does not end so."""
    span: Span = NOWHERE


class HowOften(Struct, frozen=True):
    """How often or how far a repeat goes."""

    extent: Extent
    times: Number = 1
    place: Place | None = None
    doubtful: bool = False
    ending_sign: str = ""


class RepeatFrom(Struct, frozen=True):
    """ "Rep from * around": refers back to the last mark with this sign.

    `between` tells that the repeat is of what stands between two such marks.
    """

    sign: str
    how: HowOften
    between: bool = False
    whole: bool = False
    """The word "repeat" alone: everything since the last mark or the row's beginning."""
    first: bool = False
    """ "From 1st *": the first mark with this sign."""
    words: str = ""
    """The clause as typed, to be kept where there is nothing to repeat."""
    span: Span = NOWHERE


Item = Step | Mark | Ends | RepeatFrom


def counted_on(items: list[Item], steps: list[Step]) -> list[Step]:
    """ "Miss 3, 1 treble in the 4th": the ordinal goes on from what is passed, and means the next one."""
    passed = items[-1] if items else None
    first = steps[0] if steps else None
    if not isinstance(passed, Skip) or passed.leave or not isinstance(first, Work) or first.place is None:
        return steps
    before, place = passed.place, first.place
    plain = place.within is None and place.origin is None and before.which is Which.NEXT
    if not plain or place.what is not before.what or not isinstance(before.number, int):
        return steps
    if place.nth != before.number + 1:
        return steps
    return [replace(first, place=replace(place, which=Which.NEXT, nth=None)), *steps[1:]]
