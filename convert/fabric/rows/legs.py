"""Takes a row along the edges of a piece apart: which of its steps go along which side.

"Sc in each st across, 3 sc in corner, working down the side, 2 sc in each row end, ..." goes along the top, then down a
side. Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.steps import Begin, Extent, Group, Place, Repeat, Start, Step, Verbatim, What, Which, Work
from convert.fabric.remembered import remembered
from convert.trade.patterns import listed, said, signs

TOP, SIDE, BOTTOM, EDGE = "top", "side", "bottom", "edge"
"""The last row, the ends of rows, the foundation, and an edge that nobody tells."""
_FEW = 8
"""More turns than a piece has edges are no repeat from edge to edge."""


class Leg(Struct):
    """The steps along one edge. `whole` legs have gone to its end; `loose` ones turn at a corner of which it is open
    whether it is a stitch of the edge.
    """

    side: str
    steps: list[Step] = field(default_factory=list)
    whole: bool = False
    loose: bool = False


@remembered
def goes_along(steps: tuple[Step, ...]) -> bool:
    """Whether the row may go along other edges than the last row."""
    return any(_names_edge(step) for step in steps)


@remembered
def leaves_row(steps: tuple[Step, ...]) -> bool:
    """Whether the row surely goes along other edges, or is worked folded, so that the last row cannot lack a place for
    it.
    """
    return any((_names_edge(step) and not isinstance(step, Begin)) or _folds(step) for step in steps)


def _folds(step: Step) -> bool:
    """ "Fold flat": what is worked then may go through both sides, whatever else is said of it."""
    first = step.words[0] if isinstance(step, Verbatim) and step.inert and step.words else None
    return isinstance(first, str) and first.split(maxsplit=1)[0].lower() in listed("folding")


def _names_edge(step: Step) -> bool:
    if isinstance(step, Repeat):
        return any(map(_names_edge, step.steps))
    if isinstance(step, Begin):
        return step.start in (Start.ALONG, Start.OTHER_SIDE)
    place = step.place if isinstance(step, Work | Group) else None
    if place is None:
        return False
    edge = place.what is What.PIECE and place.which is Which.EACH
    return edge or place.what is What.ROW_END or _said(place.words) is not None


@remembered
def legs_of(steps: tuple[Step, ...]) -> tuple[Leg, ...]:
    """The legs of a row, in order; nothing where it is open which edge a step goes along."""
    legs: list[Leg] = []
    before: list[Step] = []
    written = _one_by_one(steps)
    for index, step in enumerate(written):
        side = None if _comes_round(written, index) and legs else _side_of(step, legs)
        if side == "" or (_goes_around(step) and any(leg.side != EDGE for leg in legs)):
            return ()  # behind a side, all the way around is one more round
        if side is not None and _begins(step, side, legs):
            legs.append(Leg(side, before))
            before = []
        if isinstance(step, Begin) and step.start is not Start.EDGE:
            continue
        if legs:
            _take(legs[-1], step)
        else:
            before.append(step)
    if not legs:
        return ()
    return _from_top(legs)


def _comes_round(steps: tuple[Step, ...], index: int) -> bool:
    """ "..., 2 sc in same st as first sc": the last stitches go where the round began."""
    place = _place(steps[index])
    first = place is not None and place.what is What.STITCH and place.which is Which.FIRST
    return first and not any(isinstance(step, Work | Group | Repeat) for step in steps[index + 1 :])


def _from_top(legs: list[Leg]) -> tuple[Leg, ...]:
    """What is worked in front of the first edge told, where that are stitches of the last row, goes along the top."""
    first = legs[0]
    at = next((i for i, step in enumerate(first.steps) if _on(step, first.side)), 0)
    lead = first.steps[:at]
    if first.side == TOP or not any(isinstance(s, Work | Group) and not _is_corner(s) for s in lead):
        return tuple(legs)
    legs[0] = Leg(first.side, first.steps[at:], first.whole, first.loose)
    return (Leg(TOP, lead), *legs)


def _on(step: Step, side: str) -> bool:
    place = _place(step)
    if place is None:
        return False
    return place.what in (What.ROW_END, What.PIECE) or (side == BOTTOM and place.what is What.CHAIN)


def _one_by_one(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with repeats from edge to edge written out, and "around, 3 sc in each corner" as four sides."""
    out: list[Step] = []
    for index, step in enumerate(steps):
        times = _turns(step)
        if isinstance(step, Repeat) and times:
            out.extend(_one_by_one(step.steps) * times)
            continue
        corner = steps[index + 1] if index + 1 < len(steps) else None
        if _goes_around(step) and corner is not None and _is_each_corner(corner):
            out.extend((step, _with_place(corner, which=Which.NEXT)) * _CORNERS)
        elif not (_is_each_corner(step) and index and _goes_around(steps[index - 1])):
            out.append(step)
    return tuple(out)


def _turns(step: Step) -> int:
    """How often a repeat goes from edge to edge; 0 where it does not, or too often."""
    if not isinstance(step, Repeat) or step.extent is not Extent.TIMES or step.ending is not None:
        return 0
    return step.times if isinstance(step.times, int) and step.times <= _FEW and _names_edge(step) else 0


_CORNERS = 4


def _goes_around(step: Step) -> bool:
    place = _place(step)
    if place is None or place.what is not What.PIECE or place.which is not Which.EACH:
        return False
    return _around().search(place.words) is not None and _said(place.words) in (None, SIDE)


def _is_each_corner(step: Step) -> bool:
    place = _place(step)
    return place is not None and place.what is What.CORNER and place.which is Which.EACH


def _is_corner(step: Step) -> bool:
    place = _place(step)
    return place is not None and place.what is What.CORNER


def _with_place(step: Step, **changes: object) -> Step:
    """The step with its place changed, if it has one."""
    place = _place(step)
    if place is None or not isinstance(step, Work | Group):
        return step
    return replace(step, place=replace(place, **changes))


def _place(step: Step) -> Place | None:
    return step.place if isinstance(step, Work | Group) else None


def _side_of(step: Step, legs: list[Leg]) -> str | None:
    """The edge that a step goes along; None where it goes on along the one before, empty where nobody can tell."""
    if isinstance(step, Begin):
        if step.start is Start.OTHER_SIDE:
            return BOTTOM
        return (_said(step.place.words) or "") if step.start is Start.ALONG and step.place is not None else None
    inner = step.steps[0] if isinstance(step, Repeat) and step.steps else step
    place = _place(inner)
    if place is None:
        return None
    if place.what is What.PIECE:
        return EDGE if place.which is Which.EACH else ""
    if place.what is What.ROW_END:
        return SIDE
    here = legs[-1].side if legs else None
    if place.what is What.CHAIN and place.origin is None and place.within is None and _said(place.words) is not TOP:
        return BOTTOM
    if place.words:
        return _said(place.words) or ""
    if place.what is not What.STITCH or place.which in (Which.SAME, Which.MADE):
        return None
    to_end = place.which in (Which.EACH, Which.REST) or isinstance(step, Repeat)
    if here in (None, SIDE, EDGE) or (to_end and legs[-1].whole):
        return TOP if here is None or any(leg.side == BOTTOM for leg in legs) else BOTTOM
    return None


def _begins(step: Step, side: str, legs: list[Leg]) -> bool:
    """Whether the step begins a new edge."""
    here = legs[-1] if legs else None
    if here is None or here.side != side:
        return True
    place = _place(step)
    several = place is not None and place.what is What.ROW_END and place.of is not None
    goes_on = place is not None and place.which not in (Which.EACH, Which.REST, Which.ANY, Which.FIRST)
    return here.whole and not several and not goes_on


def _take(leg: Leg, step: Step) -> None:
    """Puts a step to its leg, without the words that tell the edge."""
    place = _place(step)
    if place is not None and place.what not in (What.PIECE, What.CORNER) and place.words:
        step = _with_place(step, words="")
    if isinstance(step, Repeat):
        step, loose = _to_end(leg, step)
        leg.loose = leg.loose or loose
    to_end = isinstance(step, Repeat) and step.extent is not Extent.TIMES
    leg.whole = leg.whole or to_end or (place is not None and place.which in (Which.EACH, Which.REST, Which.ANY))
    leg.loose = leg.loose or (_is_corner(step) and leg.side in (TOP, BOTTOM))
    leg.steps.append(step)


def _to_end(leg: Leg, step: Repeat) -> tuple[Repeat, bool]:
    """ "To next corner", "to first st": to the end of this edge."""
    step = replace(step, steps=tuple(_with_place(inner, words="") for inner in step.steps))
    place = step.place
    turns = place is not None and (place.what is What.CORNER or place.which is Which.FIRST)
    if step.extent is not Extent.TO_PLACE or not turns:
        return step, False
    return replace(step, extent=Extent.END, place=None), leg.side != SIDE


@cache
def _sides() -> tuple[tuple[str, re.Pattern[str]], ...]:
    names = (
        (TOP, signs("top_edge")),
        (SIDE, rf"(?:{signs('side_edge')}|{said('row-ends', 'row-end')})"),
        (BOTTOM, rf"(?:{signs('bottom_edge')}|{said('foundation-chain', 'beginning-chain')})"),
    )
    return tuple((side, re.compile(rf"\b{name}\b", re.IGNORECASE)) for side, name in names)


@cache
def _around() -> re.Pattern[str]:
    return re.compile(rf"\b{said('around')}\b", re.IGNORECASE)


def names_bottom(words: str) -> bool:
    """Whether the words name the foundation."""
    return _said(words) == BOTTOM


def _said(words: str) -> str | None:
    """The edge that words name; None where they name none, or more than one."""
    found = [side for side, name in _sides() if name.search(words)] if words else []
    return found[0] if len(found) == 1 else None
