"""Reads where work into every chain begins: "starting in 2nd ch from hook, sc in each ch across"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Origin, Place, Slip, Step, What, Which, Work
from convert.instructions.places.place import read_place
from convert.instructions.rows.passes import read_pick_up
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.source import Span


def read_from_chain(cur: Cursor) -> list[Step] | None:
    """ "Starting in 2nd ch from hook, sc in each ch across": one in that chain, and one in each of the rest."""
    start = cur.at
    place = _first_chain(cur)
    steps = None
    if place is not None and (cur.take_mark(",", ":") or cur.is_word("work")):
        cur.take_words("and", "then")
        steps = read_pick_up(cur) or read_work(cur)
    only = steps[0] if steps is not None and len(steps) == 1 else None
    if place is None or not isinstance(only, Work | Slip):
        cur.at = start
        return None
    if isinstance(only, Work) and _is_each_chain(only):
        return [replace(only, place=place, said_doubtful=False, span=cur.span(start)), only]
    counted = _from_there(only, place, cur.span(start))
    if counted is None:
        cur.at = start
    return counted


def _from_there(work: Work | Slip, first: Place, span: Span) -> list[Step] | None:
    """ "Starting in 2nd ch from hook, sc in next 5 ch": the first of them goes into that chain."""
    place = work.place
    if place is None or place.words or place.within is not None or place.origin is not None:
        return None
    if place.what not in (What.STITCH, What.CHAIN) or place.which not in (Which.NEXT, Which.FIRST):
        return None
    if not isinstance(place.number, int) or (isinstance(work, Work) and work.each != 1 and place.number != 1):
        return None
    begun: Step = replace(work, place=first, span=span)
    if place.number == 1:
        return [begun]
    return [begun, replace(work, place=replace(place, which=Which.NEXT, number=place.number - 1), span=span)]


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
    begun = cur.take_words("beginning") > 0 or cur.is_word("from")
    cur.at += begun and cur.is_word("from")
    place = read_place(cur, preposition=not cur.is_word("from", ahead=-1)) if begun else None
    if place is None or place.what is not What.CHAIN or place.nth is None or place.within is not None:
        return None
    return replace(place, origin=Origin.HOOK, which=Which.NTH) if place.nth > 1 else None


def _is_each_chain(work: Work) -> bool:
    place = work.place
    return place is not None and place.what is What.CHAIN and place.which is Which.EACH and not place.also
