"""Places told in words that the row below makes plain: groups told by how many stitches they have."""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.group_size import said_size
from convert.document.steps import Chain, Place, Repeat, What, Which
from convert.fabric.cells import PETAL, SPACE, STITCH, Strip
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.trade.patterns import chain, said, signs
from convert.trade.stitches import stitches


@cache
def _sized() -> re.Pattern[str]:
    before = rf"(?:(?:{said('the', 'next', 'both')}|two|2)\s)*"
    return re.compile(rf"{before}(\d+)[-\s]\{{?([A-Za-z][\w-]*)\}}?\s{said('group')}")


def in_next_group(worker: Worker, place: Place) -> int | None:
    """ "Center sc of 5-sc group": where it is in the next group of that size; None where that is not told, or no such
    group is there.
    """
    outer = place.within
    told = said_size(outer.words) if outer is not None and outer.which is Which.NEXT else None
    if told is None or place.what is not What.STITCH:
        return None
    size, of = told
    begin = worker.base.find(
        lambda cell: cell.size == size and cell.part == 0 and base_kind(cell.kind) == of, worker.position
    )
    inside = {Which.FIRST: 0, Which.CENTER: size // 2, Which.LAST: size - 1}.get(place.which)
    if begin is None or inside is None or (place.which is Which.CENTER and size % 2 == 0):
        return None
    return begin + inside


def first_of_groups(base: Strip, step: Repeat, place: Place) -> bool:
    """Whether "*dc in 1st sc of last round, ch 9; rep from * around" means one stitch of each group: the row below has
    nothing but groups, each begins with that stitch and has more of it, and nothing else of the repeat works into them.
    """
    cells = [cell for loop in base.loops for cell, _ in loop.runs]
    others = any(isinstance(other, Chain) for other in step.steps[1:])
    if place.of is None or not cells or not others or not all(isinstance(other, Chain) for other in step.steps[1:]):
        return False
    if not all(cell.sort == STITCH and cell.size >= PETAL for cell in cells):
        return False
    begins = all(base_kind(cell.kind) == place.of for cell in cells if cell.part == 0)
    return begins and any(base_kind(cell.kind) == place.of for cell in cells if cell.part)


def names_groups(place: Place) -> bool:
    """Whether the words tell groups of the work itself by their size, and no other piece."""
    return place.what is What.GAP and _sized().fullmatch(place.words) is not None


def between_groups(worker: Worker, place: Place) -> Place | None:
    """ "Between 3-dc groups": the gap between groups, if those of the row below are so many of the stitch."""
    match = _sized().fullmatch(place.words) if place.what is What.GAP and place.within is None else None
    if match is None:
        return None
    size, of = int(match[1]), match[2]
    if not _looks_so(worker.base, size, of):
        return None
    first = worker.base.find(lambda cell: cell.size > 1, worker.position)
    if first is not None:
        worker.position = worker.gap_used = first  # the gap in front of the first group lies between none
    return Place(What.GAP, place.which, place.number, within=Place(What.GROUP), span=place.span)


def _looks_so(base: Strip, size: int, of: str) -> bool:
    """Whether the groups of a row are so many stitches of a kind, corners so many on each side of their space."""
    groups = [cell for loop in base.loops for cell, _ in loop.runs if cell.size and cell.part == 0]
    sides = {size, *range(2 * size, 2 * size + _CORNER + 1)}  # a corner begun with a chain has a stitch outside
    alike = [cell.size in sides and base_kind(cell.kind) == of for cell in groups]
    return bool(groups) and all(alike)


_CORNER = 3
"""The most spaces between the two sides of a corner."""


@cache
def _by_look() -> re.Pattern[str]:
    which = rf"(?P<which>{said('next', 'last', 'same', 'each')})"
    return re.compile(rf"{said('of')}\s(?:{said('the')}\s)?(?:{which}\s)?{signs('groups')}", re.IGNORECASE)


_INSIDE = (Which.NEXT, Which.CENTER, Which.NTH, Which.FIRST, Which.LAST)


def in_group_by_look(worker: Worker, place: Place) -> Place | None:
    """ "Center dc of next petal": the stitch of a group, if the row below has groups of one size alone."""
    match = _by_look().fullmatch(place.words)
    if match is None or place.what is not What.STITCH or place.which not in _INSIDE or place.within is not None:
        return None
    sizes = {cell.size for loop in worker.base.loops for cell, _ in loop.runs if cell.unit and cell.part == 0}
    if len(sizes) != 1 or min(sizes) < PETAL:
        return None
    named = (match["which"] or "").casefold()
    which = next((which for which in _WHICH if re.fullmatch(said(which.value), named)), Which.NEXT)
    inside = Which.FIRST if place.which is Which.NEXT else place.which
    if inside is not place.which and which is not Which.NEXT:
        return None
    return replace(place, which=inside, words="", within=Place(What.GROUP, which, span=place.span))


def next_by_look(worker: Worker, place: Place) -> Place | None:
    """ "Ch-3 sp of next point", "first shell of next leaf": the next space so long, the next such group, whatever it is
    called that it stands in.
    """
    space = place.what is What.SPACE and place.which is Which.NEXT and bool(place.chains)
    unit = place.what is What.STITCH and place.which in (Which.NEXT, Which.FIRST) and _is_unit(place.of)
    match = _by_look().fullmatch(place.words) if (space or unit) and place.within is None else None
    if match is None or not re.fullmatch(rf"(?:{said('next')})?", match["which"] or ""):
        return None
    return replace(place, which=Which.NEXT, words="")


def _is_unit(of: str | None) -> bool:
    entry = stitches().get(of or "")
    return entry is not None and entry.unit and not entry.decoration


@cache
def _loop() -> re.Pattern[str]:
    """A loop called by its look: "next scallop", "the scallop formed of 5 chain in the preceding row"."""
    which = rf"(?P<which>{said('next', 'last', 'same', 'each')}|first|1st)"
    formed = rf"\s{said('told')}\s{said('of', 'with', 'from')}\s(?:{said('the')}\s)?(?P<chains>\d+)\s{chain()}"
    row = rf"\s{said('in', 'of')}\s(?:{said('the')}\s)?{said('previous')}"
    name = rf"(?:{said('the')}\s)?(?:{which}\s)?{signs('groups')}(?:{formed})?(?:{row})?"
    return re.compile(rf"(?P<of>{said('of')}\s)?{name}", re.IGNORECASE)


def is_by_look(place: Place) -> bool:
    """Whether a stitch of a loop or group of the row below is meant that is called by its look: "middle st of next
    scallop".
    """
    match = _loop().fullmatch(place.words) if place.within is None and place.which in _INSIDE else None
    return match is not None and bool(match["of"]) and place.what in (What.STITCH, What.CHAIN)


def loop_by_look(worker: Worker, place: Place) -> Place | None:
    """A loop of chains that is called a scallop and the like, or a stitch of it, where the row below has no groups,
    and loops of the length told, or of one length alone.
    """
    match = _loop().fullmatch(place.words) if place.within is None else None
    if match is None:
        return None
    cells = [cell for loop in worker.base.loops for cell, _ in loop.runs]
    lengths = {cell.chains for cell in cells if cell.sort == SPACE}
    length = int(match["chains"]) if match["chains"] else min(lengths, default=0)
    if any(cell.unit for cell in cells) or length not in lengths or (not match["chains"] and len(lengths) > 1):
        return None
    named = (match["which"] or "").casefold()
    which = next((which for which in _WHICH if re.fullmatch(said(which.value), named)), Which.NEXT)
    if place.what is What.PIECE and not match["of"]:
        return replace(place, what=What.SPACE, which=which, chains=length, words="")
    inside = place.what in (What.STITCH, What.CHAIN) and place.which in _INSIDE and match["of"]
    if not inside or which is Which.EACH:
        return None
    return replace(place, what=What.CHAIN, words="", within=Place(What.SPACE, which, chains=length, span=place.span))


_WHICH = (Which.LAST, Which.SAME, Which.EACH)


@cache
def _other_side() -> re.Pattern[str]:
    return re.compile(rf"(?:of |on )?(?:the )?{said('other-side')}", re.IGNORECASE)


def names_other_side(place: Place) -> bool:
    """Whether stitches on another side of the piece are meant: "sc in each of the 9 sts of opposite side"."""
    return place.what is What.STITCH and place.which is Which.NEXT and _other_side().fullmatch(place.words) is not None
