"""Reads places told behind work that is complete without them: "... and in each ch across", "[dc] 11 times in ring"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, Extent, Group, Place, Repeat, Slip, Step, Verbatim, What, Which, Work
from convert.instructions.places.place import as_space, read_place
from convert.instructions.places.work_places import read_places
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.source import NOWHERE


def carried_on(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """ "And in each ch across" behind a remark: the last stitch goes on into further places. So do slip stitches:
    "sl st in next dc, in next dc and in next sp".
    """
    last = next((item for item in reversed(items) if not (isinstance(item, Chain) or _is_remark(item))), None)
    if not isinstance(last, Work | Slip) or not cur.is_word("in", "each", "across", "around"):
        return None
    if isinstance(items[-1], Chain) and cur.is_listed("over_spaces"):
        return None  # "ch 1 over each ch-1 sp" tells where the chain lies
    start = cur.at
    if cur.is_word("each") and not _behind_and(cur):
        return None
    places = read_places(cur)
    if isinstance(last, Work) and last.place is not None and last.place.what is What.CHAIN:
        places = tuple(replace(p, what=What.CHAIN) if p.which is Which.EACH and not p.of else p for p in places)
    if any(place.what is What.PIECE for place in places):
        places = ()
    ends = cur.done or cur.peek().kind == "mark"
    if not places or not ends:
        cur.at = start
        return None
    if isinstance(last, Slip):
        return [Slip(place, cur.span(start)) for place in places]
    return [Work(last.stitch, last.each, place, span=cur.span(start)) for place in places]


def group_carried_on(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """ "(Sc, 3 dc, sc) in same loop and in each loop around": the same group into further places."""
    last = items[-1] if items else None
    if not isinstance(last, Group) or not _behind_and(cur) or not cur.is_word("in", "each"):
        return None
    start = cur.at
    place = read_place(cur)
    several = place is not None and (place.which is Which.EACH or place.number != 1)
    if place is None or not several or place.what is What.PIECE or not _ends(cur):
        cur.at = start
        return None
    return [Group(last.steps, as_space(place), cur.span(start))]


def _behind_and(cur: Cursor) -> bool:
    return cur.at > 0 and cur.is_word("and", ahead=-1)


def _ends(cur: Cursor) -> bool:
    """Whether the clause ends here, and no list or bracket follows that would go into the place just told."""
    return cur.done or cur.is_mark(",", ".", ";", ")", "]")


def _is_remark(item: Item) -> bool:
    return isinstance(item, Verbatim) and item.inert


def placed_behind(cur: Cursor, repeat: Repeat) -> Step:
    """ "(Dc, ch 1) 11 times in ring": the place of everything in a bracket, behind its number of times."""
    start = cur.at
    if repeat.extent is not Extent.TIMES or repeat.ending is not None or not cur.is_word("in", "form-ring"):
        return repeat
    inside = _without_places(repeat.steps)
    place = read_place(cur) if inside else None
    if place is None or place.what is What.PIECE or place.words:
        cur.at = start
        return repeat
    span = repeat.span.to(cur.span(start))
    if place.what is What.RING:
        return replace(repeat, steps=(Group(inside, place, repeat.span),), span=span)
    return Group((replace(repeat, steps=inside),), as_space(place), span)


def _without_places(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps of a group, if none of them has said where it goes: "3 dc" are three in the place told later."""
    out: list[Step] = []
    for step in steps:
        if isinstance(step, Work) and (step.place is None or _is_unsaid(step.place)):
            many = step.place.number if step.place is not None else 1
            if many != 1 and step.each != 1:
                return ()
            out.append(replace(step, each=step.each if many == 1 else many, place=None))
        elif isinstance(step, Chain) or _is_remark(step):
            out.append(step)
        else:
            return ()
    return tuple(out) if any(isinstance(step, Work) for step in out) else ()


def _is_unsaid(place: Place) -> bool:
    return place.span == NOWHERE and place.what is What.STITCH and place.which is Which.NEXT and not place.of
