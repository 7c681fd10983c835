"""Reads what is said in passing between the steps: how the work is held and stitches are made, where the last lands."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import (
    Chain,
    Extent,
    Group,
    Join,
    JoinBy,
    Place,
    Repeat,
    Slip,
    Step,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import words_of_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, Item, RepeatFrom
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.remarks import is_inert
from convert.instructions.words.said import said_from
from convert.source import NOWHERE


def read_rotate(cur: Cursor) -> list[Step] | None:
    """ "Rotate", "rotate to work in opposite side of ch": the piece is turned in its plane, and the row goes on."""
    start = cur.at
    if not cur.take_words("rotate"):
        return None
    behind = cur.at
    cur.take_words("to", "and")
    leads_on = cur.is_word("work") and cur.is_word("other-side", "in", ahead=1)
    if not leads_on and not (cur.at == behind and (cur.done or cur.peek().kind == "mark" or cur.is_word("other-side"))):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, behind),), True, cur.span(start, behind))]


def read_manner(cur: Cursor) -> Verbatim | None:
    """ "Sl st loosely in each st", "shell as before in next sp": how the stitch is made, in front of its place."""
    start = cur.at
    told = cur.is_word("manner") and cur.is_listed("as_before")
    if told and cur.is_word("in", "around", ahead=1):
        cur.at += 1
        return Verbatim((cur.text(start, cur.at),), True, cur.span(start))
    if cur.peek().kind != "unknown" or not cur.is_word("in", "around", "across", "each", "next", ahead=1):
        return None
    if not is_inert(cur.peek().text):
        return None
    cur.at += 1
    return Verbatim((cur.text(start, cur.at),), True, cur.span(start))


def into_beginning(cur: Cursor, items: list[Item], steps: list[Step]) -> list[Step]:
    """ "Ss into 3rd ch" at the end of a round that a chain began: that chain's, and the round is joined to it.

    Behind chains it goes into one of them, and makes a picot.
    """
    slip = steps[0] if len(steps) == 1 else None
    if not isinstance(slip, Slip):
        return steps
    place = slip.place
    if _closes_alone(cur, items, place):
        return [Join(None, JoinBy.SLIP, slip.span)]
    if place.what is not What.CHAIN or place.which is not Which.NTH:
        return steps
    first = [step for item in items[:_LEADING] for step in (item.steps[:1] if isinstance(item, Group) else (item,))]
    begun = [step.number for step in first if isinstance(step, Chain)]
    plain = place.origin is None and not place.words and (place.within is None or _of_these(place.within, begun, cur))
    if not plain or not begun or isinstance(items[-1], Chain) or not (cur.done or cur.is_mark(*_ENDS)):
        return steps
    return [Join(Place(What.BEGINNING_CHAIN, nth=place.nth, span=place.span), JoinBy.SLIP, slip.span)]


def _closes_alone(cur: Cursor, items: list[Item], place: Place) -> bool:
    """ "Rnd 4: Ch 3, ... rep from * to end, ss.": a bare slip stitch, the last of a round that a chain began."""
    if place.span != NOWHERE:
        return False
    bare = place == Place()
    last = cur.done or (cur.is_mark(".", ";", "(", "[", "–") and "ch" not in cur.ids[cur.at :])
    begun = len(items) > 1 and isinstance(items[0], Chain) and not isinstance(items[-1], Chain)
    return bare and cur.around is True and last and begun


def _of_these(whole: Place, begun: list[Number], cur: Cursor) -> bool:
    """ "3rd of 3 ch": the chain as long as that which began the round, and no other that is told as the next."""
    before = cur.at - 1
    while before and cur.ids[before] not in ("of", "next"):
        before -= 1
    return whole == Place(What.SPACE, chains=whole.chains) and whole.chains in begun and cur.ids[before] == "of"


_ENDS = (".", ";", "(", "[", "{", "<", "=", "–", ":")
"""Marks behind the last slip stitch of a round: its end, or the count that follows."""
_LEADING = 4
"""How far from the row's beginning its chain may stand: behind the yarn, a ring, a turn."""


_OMITS = frozenset({"omitting", "last_repeat"})


def said_in_passing(cur: Cursor, items: list[Item]) -> Verbatim | Ends | None:
    """What is said behind work that is repeated: what changes nothing of it, or what its last working leaves out."""
    if not cur.begun.isdisjoint(_OMITS) and (omitted := _read_omitted(cur, items)) is not None:
        return omitted
    if cur.is_word("but"):
        return _read_joined_on(cur, items)
    lands = cur.is_word("work", "with", "ending") or cur.is_listed("exceptions") or _names_last(cur)
    return _read_last_in_chain(cur, items) if lands else None


def _read_omitted(cur: Cursor, items: list[Item]) -> Ends | None:
    """ "Rep from * around, omitting last sc", "omitting last ch-3 on last rep", "but on the last repeat leave out the
    ch 3".
    """
    start = cur.at
    repeat = items[-1] if items else None
    if not isinstance(repeat, RepeatFrom) or repeat.how.extent is not Extent.END:
        return None
    cur.take_words("but", "and")
    there = takes_sign(cur, "last_repeat")
    cur.take_mark(",") if there else None
    if not (takes_sign(cur, "omitting") or (cur.at > start and cur.take_words("skip"))):
        cur.at = start
        return None
    place = read_place(cur, preposition=False)
    if place is not None and there and place.which is Which.NEXT and place.number == 1:
        place = replace(place, which=Which.LAST)
    if place is not None and place.what is What.CHAIN and isinstance(place.number, int) and place.number > 1:
        place = replace(place, what=What.SPACE, chains=place.number, number=1)  # "the last 3 ch"
    if place is None or place.which is not Which.LAST or (place.what is What.STITCH and place.of is None):
        cur.at = start
        return None
    behind = cur.at
    while not (cur.done or cur.peek().kind == "mark"):
        cur.at += 1
    told = cur.words[behind : cur.at]
    if told and not (told[-1].id == "repeat" and any(word.id == "last" for word in told)):
        cur.at = start
        return None
    return Ends(omits=place, words=cur.text(start, cur.at), span=cur.span(start))


def _read_joined_on(cur: Cursor, items: list[Item]) -> Verbatim | None:
    """ "Rep from * once but joining to next star": the same work, joined to another piece than before."""
    start = cur.at
    if not items or not isinstance(items[-1], Repeat | RepeatFrom) or not cur.is_listed("joining", 1):
        return None
    cur.at += 2
    if not cur.take_words("to") or not words_of_place(cur, loose=True):
        cur.at = start
        return None
    return Verbatim(said_from(cur, start), True, cur.span(start))


def _names_last(cur: Cursor) -> bool:
    """Whether the last stitch is spoken of: "the last sc goes in top of ch 2"."""
    return cur.is_word("last") or (cur.is_word("the") and cur.is_word("last", ahead=1))


def _read_last_in_chain(cur: Cursor, items: list[Item]) -> Verbatim | None:
    """ "..., working last sc in top of turning ch", "..., last sc goes in top of ch 2", "... in last loop" behind work
    that goes to the end of the row.

    A beginning chain that counts as a stitch is the last place of the row anyway, so that nothing is worked otherwise.
    """
    start = cur.at
    last = items[-1] if items else None
    each = isinstance(last, Work) and last.place is not None and last.place.which is Which.EACH
    if not (each or isinstance(last, Repeat | RepeatFrom)):
        return None
    named = _names_last(cur)
    if not named and not cur.take_words("work", "with", "put", "ending"):
        cur.at += 1
    if not cur.take_words("the", "last"):
        cur.at = start
        return None
    if cur.is_word("the", "last"):
        cur.take_words("the", "last")
    stitch = cur.take_kind("stitch") is not None or cur.take_words("stitch") > 0
    takes_sign(cur, "landing")
    place = read_place(cur) if stitch else None
    chain = place is not None and place.what in (What.BEGINNING_CHAIN, What.CHAIN) and place.number == 1
    anyway = chain or (place is not None and _goes_there_anyway(items, place))
    if not anyway or not (cur.done or cur.peek().kind == "mark" or cur.is_word("and")):
        cur.at = start
        return None
    return Verbatim(said_from(cur, start), True, cur.span(start))


def _goes_there_anyway(items: list[Item], place: Place) -> bool:
    """Whether the last of such places is where the last stitch of a repeat goes that works into each of them."""
    before = items[-2] if len(items) > 1 and isinstance(items[-1], RepeatFrom) else items[-1]
    into = before.place if isinstance(before, Work) else None
    one = place.which is Which.LAST and place.number == 1 and not place.words and place.within is None
    return one and into is not None and into.what is place.what and into.which in (Which.NEXT, Which.EACH)
