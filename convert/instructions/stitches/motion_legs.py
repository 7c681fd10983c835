"""The legs of a stitch that is spelled out in motions, and which stitch of the trade they are.

Wraps before the hook goes in make the height of a stitch: none a single (US), one a double, two a treble. A stitch of
one wrap that is drawn off in one go is a half double. Legs that are left on the hook and drawn off together are one
stitch. Common practice, no source.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.trade.stitches import of_height

UNTOLD = Place(What.PIECE, words="untold")
"""The place of a leg that is still to be told."""


class Leg(Struct):
    """One entry of the hook: wraps before it, where it goes in, and how often two loops were drawn off since."""

    wraps: int
    place: Place
    drawn: bool = False
    drawn_off: int = 0
    bare: bool = False
    """ "In st", and not "in next st": once more, it is the same one."""


class Spelled(Struct):
    """What has been read so far. `wraps` are those not used yet, `closed` tells that all loops were drawn off."""

    legs: list[Leg]
    wraps: int = 0
    closed: bool = False
    sign: str = ""
    """The mark in front of the first motion."""
    placed_behind: bool = False
    """The place may stand behind the bracket of the motions: "(yo, insert hook, pull up a loop) 3 times in same st"."""
    may_be_untold: bool = False
    """Nothing stands in front: "yo, insert hook, pull up a loop" tells no place, and means the one of the stitch."""
    lengthened: bool = False
    """The loop on the hook was drawn up long first, and is one leg of the stitch."""


def is_drawn_up(spelled: Spelled) -> bool:
    """Whether the last leg is on the hook, and no wrap for another one yet."""
    return bool(spelled.legs) and spelled.legs[-1].drawn and not (spelled.wraps or spelled.closed)


def like(leg: Leg, place: Place | None) -> Leg:
    """The same leg again, in the place told if one is."""
    if place is None:
        return replace(leg, place=replace(leg.place, which=Which.SAME)) if leg.bare else replace(leg)
    return replace(leg, place=place)


def in_one_place(spelled: Spelled) -> bool:
    """Gives legs of which nothing tells where they go the place of the stitch; false where others go elsewhere."""
    if not any(leg.place == UNTOLD for leg in spelled.legs):
        return True
    if any(leg.place != UNTOLD and leg.place.which is not Which.SAME for leg in spelled.legs):
        return False
    for index, leg in enumerate(spelled.legs):
        if leg.place == UNTOLD:
            leg.place = Place(which=Which.SAME) if index else Place()
    return True


def on_hook(spelled: Spelled) -> int:
    """How many loops are on the hook: the one that is always there, and wraps and loops of the legs."""
    return 1 + sum(leg.wraps + leg.drawn - leg.drawn_off for leg in spelled.legs)


def is_complete(spelled: Spelled) -> bool:
    """Whether there is one leg, drawn off two loops at a time to its end."""
    return len(spelled.legs) == 1 and spelled.legs[0].drawn_off == spelled.legs[0].wraps + 1


def stitch_of(spelled: Spelled) -> str | None:
    """The id of the stitch whose legs these are; None where they are of no kind, unlike, or not finished."""
    if not spelled.legs or spelled.wraps or not all(leg.drawn for leg in spelled.legs):
        return None
    first = spelled.legs[0]
    if any((leg.wraps, leg.drawn_off) != (first.wraps, first.drawn_off) for leg in spelled.legs):
        return None
    if not spelled.closed:
        return of_height(_height(first.wraps)) if is_complete(spelled) else None
    if first.drawn_off == first.wraps:
        return of_height(_height(first.wraps))
    return of_height(_ONE_WRAP) if first.wraps == 1 and not first.drawn_off else None


def places_of(legs: list[Leg]) -> tuple[Place, ...]:
    """The places of the legs; equal ones that follow on are one with their number, and the same place stands once."""
    places = [leg.place for leg in legs]
    first = places[0]
    if first.what is What.RING and all(place == first for place in places):
        return (first,)
    alike = first.which is Which.NEXT and first.what in (What.STITCH, What.SPACE) and first.number == 1
    alike = alike and first.within is None
    if alike and all(place == first for place in places) and not first.words:
        return (replace(first, number=len(places)),)
    if all(place.which is Which.SAME for place in places[1:]):
        return (first,)
    return tuple(places)


_ONE_WRAP = 2
"""Height of the stitch of one wrap that is drawn off in one go."""


def _height(wraps: int) -> int:
    """Height in chains of a stitch drawn off two loops at a time: 1 without a wrap, 3 with one, 4 with two."""
    return wraps + 2 if wraps else 1
