"""Reads where work into every chain begins: "starting in 2nd ch from hook, sc in each ch across"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Origin, Place, Step, What, Which, Work
from convert.instructions.cursor import Cursor
from convert.instructions.items import Item
from convert.instructions.passes import read_pick_up
from convert.instructions.places import read_place
from convert.instructions.work import read_work


def read_from_chain(cur: Cursor) -> list[Step] | None:
    """ "Starting in 2nd ch from hook, sc in each ch across": one in that chain, and one in each of the rest."""
    start = cur.at
    place = _first_chain(cur)
    work = None
    if place is not None and cur.take_mark(","):
        cur.take_words("and", "then")
        steps = read_pick_up(cur) or read_work(cur)
        work = steps[0] if steps is not None and len(steps) == 1 else None
    if place is None or not isinstance(work, Work) or not _is_each_chain(work):
        cur.at = start
        return None
    return [replace(work, place=place, said_doubtful=False, span=cur.span(start)), work]


def begun_in_chain(cur: Cursor, items: list[Item]) -> bool:
    """ "Hdc in each ch across, beginning in 3rd ch from hook": said behind; the last of the items becomes two."""
    start = cur.at
    work = items[-1] if items else None
    if not isinstance(work, Work) or not _is_each_chain(work):
        return False
    place = _first_chain(cur)
    if place is None or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return False
    items[-1:] = [replace(work, place=place, said_doubtful=False, span=cur.span(start)), work]
    return True


def _first_chain(cur: Cursor) -> Place | None:
    """ "Beginning in 3rd ch from hook": the chain."""
    place = read_place(cur) if cur.take_words("beginning") else None
    return place if place is not None and place.origin is Origin.HOOK else None


def _is_each_chain(work: Work) -> bool:
    place = work.place
    return place is not None and place.what is What.CHAIN and place.which is Which.EACH and not place.also
