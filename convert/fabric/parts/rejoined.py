"""Rows that begin where an earlier row left stitches on purpose: the second shoulder, a front behind the other.

Common practice of garments: a row is turned early and "leaves the remaining sts unworked"; later the yarn is joined in
the next of these, perhaps after some are skipped for the neck.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import Begin, ChangeColour, Join, Marker, Skip, Start, Step, Turn, Verbatim, What, Which
from convert.fabric.cells import Strip
from convert.fabric.parts.onward import FREE
from convert.fabric.places.place import is_workable
from convert.fabric.remembered import remembered

_PLAIN = (Which.NEXT, Which.FIRST)


class Rejoined(Struct, frozen=True):
    """How many of the stitches that were left are skipped, and the row without the words that say so."""

    skipped: Number
    steps: tuple[Step, ...]


def rejoined(steps: tuple[Step, ...]) -> Rejoined | None:
    """Whether the row begins in stitches that were left: "skip next 8 sts, join yarn in next st", "join yarn in next
    unworked st".
    """
    skipped: Number = 0
    for index, step in enumerate(steps):
        if isinstance(step, ChangeColour | Marker) or (isinstance(step, Verbatim) and step.inert):
            continue
        if isinstance(step, Skip) and not step.leave and skipped == 0 and _is_of_row(step):
            skipped = step.place.number
            continue
        place = step.place if isinstance(step, Begin) and step.start is Start.EDGE else None
        if not isinstance(step, Begin) or place is None or place.what is not What.STITCH or place.which not in _PLAIN:
            return None
        free = place.words.split(" ", 1)[0] == FREE
        if not free and (skipped == 0 or place.words):
            return None
        lead = tuple(s for s in steps[:index] if not isinstance(s, Skip))
        return Rejoined(skipped, (*lead, replace(step, place=replace(place, words="")), *steps[index + 1 :]))
    return None


def _is_of_row(step: Skip) -> bool:
    """Whether stitches are skipped; what words stand with them only tells where they are ("next 8 sts of the back")."""
    place = step.place
    return place.what is What.STITCH and place.which in (*_PLAIN, Which.CENTER)


def behind(strip: Strip, many: int) -> Strip:
    """What is left of a strip behind so many stitches; empty where there are not as many."""
    position = 0
    for _ in range(many):
        found = strip.find(is_workable, position)
        if found is None:
            return Strip()
        position = found + 1
    return Strip.of(strip.cut(position, strip.length))


@remembered
def leaves_some(steps: tuple[Step, ...]) -> bool:
    """Whether a row says that stitches are left unworked."""
    return any(isinstance(step, Skip) and step.leave for step in steps)


@remembered
def leave_before_turn(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """ "..., turn, leaving the last 3 sts unworked": what is left is left before the work is turned or joined."""
    kept = [step for step in steps if not (isinstance(step, Verbatim) and step.inert)]
    if len(kept) < _PAIR or not (isinstance(kept[-1], Skip) and kept[-1].leave and isinstance(kept[-2], Turn | Join)):
        return steps
    turn, leave = kept[-2], kept[-1]
    return (*(step for step in steps if step is not turn and step is not leave), leave, turn)


_PAIR = 2
