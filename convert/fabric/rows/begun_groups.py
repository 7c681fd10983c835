"""Groups that begin a round with its chain: "(ch 3, 2 dc, ch 2, 3 dc) in corner sp", "beg shell".

The chain in them stands for a stitch as one in front of the group does: the round is worked as "ch 3, (2 dc, ch 2, 3
dc) in same sp". Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Group,
    Marker,
    Place,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.steps.definitions import Definitions
from convert.source import NOWHERE
from convert.trade.stitches import stitches

_LEADS = Slip | Begin | ChangeColour | Marker | Turn


def with_begun_group(steps: tuple[Step, ...], definitions: Definitions, *, flat: bool) -> tuple[Step, ...]:
    """The steps with the chain of the first group in front of it; the same steps where no such group begins them."""
    at = next((i for i, s in enumerate(steps) if not (isinstance(s, _LEADS) or _is_remark(s))), len(steps))
    first = steps[at] if at < len(steps) else None
    if isinstance(first, Chain):
        return _in_slipped_corner(steps, at)
    inside, place = _group_of(first, definitions) if first is not None else ((), Place())
    chain, *rest = inside or (None,)
    if not isinstance(chain, Chain) or chain.skipped or not rest or not isinstance(rest[0], Work):
        return steps
    if place.which is Which.EACH or (flat and place.which not in (Which.SAME, Which.FIRST)):
        return steps
    moved: tuple[Step, ...] = ()
    if place.which is not Which.SAME and place.what is not What.RING:
        moved = () if flat else (Slip(place, place.span),)
        place = Place(place.what, Which.SAME, span=place.span)
    group: Step = Group(tuple(rest), place, first.span) if first is not None else chain
    if len(rest) == 1:
        group = replace(rest[0], place=place)
    return (*steps[:at], *moved, chain, group, *steps[at + 1 :])


def _in_slipped_corner(steps: tuple[Step, ...], at: int) -> tuple[Step, ...]:
    """ "Sl st to corner sp, ch 3, (2 dc, ch 2, 3 dc) in corner": the corner that the slip stitch led to, in which the
    chain stands; it would stand there alone otherwise.
    """
    led = next((step for step in reversed(steps[:at]) if isinstance(step, Slip)), None)
    group = steps[at + 1] if at + 1 < len(steps) else None
    if led is None or led.place.what not in (What.CORNER, What.SPACE) or not isinstance(group, Group):
        return steps
    place, first = group.place, group.steps[0]
    alone = place.which is Which.NEXT and place.number == 1 and place.nth is None and place.within is None
    tall = isinstance(first, Work) and first.stitch in stitches() and stitches()[first.stitch].counts
    if not alone or not tall or place.what is not What.CORNER:
        return steps
    same = replace(group, place=Place(place.what, Which.SAME, span=place.span))
    return (*steps[: at + 1], same, *steps[at + 2 :])


def _is_remark(step: Step) -> bool:
    return isinstance(step, Verbatim) and step.inert


def _group_of(step: Step, definitions: Definitions) -> tuple[tuple[Step, ...], Place]:
    """What a group, or a stitch that the pattern explains as one, puts into its place."""
    if isinstance(step, Group):
        return step.steps, step.place
    defined = definitions.steps(step.stitch) if isinstance(step, Work) and step.each == 1 else None
    group = defined[0] if defined and isinstance(defined[0], Group) else None
    if group is None or not isinstance(step, Work) or any(not _is_remark(other) for other in (defined or ())[1:]):
        return (), Place()
    said = step.place is not None and step.place.span != NOWHERE
    if said and step.place is not None:
        return (group.steps, step.place) if step.place.number == 1 else ((), Place())
    return group.steps, replace(group.place, which=Which.SAME)
