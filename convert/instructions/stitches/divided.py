"""Reads chains that stand between the stitches just told of: "1 dc on each tr, 3 ch between"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, Ending, EndingKind, Extent, Place, Repeat, Slip, Step, What, Which, Work
from convert.instructions.moves import read_skip
from convert.instructions.stitches.clusters import read_between
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.phrases import takes_sign
from convert.source import NOWHERE, Span
from convert.trade.words import words


def divided_all_along(cur: Cursor, items: list[Item]) -> bool:
    """ "1 dc on each tr, 3 ch between", "... with ch 3 after each": the chains stand between all the stitches of the
    row just told of.

    In a round they stand behind the last one too; where nothing tells which it is, the words are not read.
    """
    last = items[-1] if items and (cur.is_word("with") or "between" in cur.holds) else None
    if not isinstance(last, Work | Slip) or last.place is None:
        return False
    start = cur.at
    cur.take_words("with")
    between = read_between(cur)
    told = between is not None and (cur.take_words("between") > 0 or takes_sign(cur, "behind_each"))
    cur.take_words("each", "it", "stitch")
    cur.take_kind("stitch")
    ends = told and (cur.done or cur.peek().kind == "mark")
    if between is None or not ends or not _divide(cur, items, last, last.place, between, cur.span(start)):
        cur.at = start
        return False
    return True


def _divide(cur: Cursor, items: list[Item], last: Work | Slip, place: Place, between: Step, behind: Span) -> bool:
    """Puts the chains between the stitches of the last step; false where it is not one stitch after the other."""
    span = last.span.to(behind)
    if isinstance(last, Work) and _several(last, place):
        passed = _passed_under(cur, between)
        if place.span == NOWHERE and not passed:
            return False  # "3 tr" alone may all go into one place
        items[-1:] = _counted(last, place, (between, *passed), span)
        return True
    if not isinstance(between, Chain):
        return False
    other = items[-2] if len(items) > 1 else None
    if isinstance(other, Work) and other.place is not None and _stand_by_turns(other.place, place):
        flat = _goes_around(cur) is False
        items[-2:] = [_by_turns(other, last, place, between, other.span.to(behind), flat=flat)]
        return True
    if _each_in_words(place):
        items[-1] = Repeat((_next_in_words(last, place), between), Extent.END, span=span)
        return True
    spread = place.which is Which.EACH and (place.every > 1 or bool(place.also)) and not place.words
    around = _goes_around(cur)
    if around is None or not isinstance(last, Work) or not (_each_once(place) or spread):
        return False
    ending = None if around else Ending(EndingKind.AT, after=1)
    if spread:
        items[-1] = Repeat((last, between), Extent.END, ending=ending, span=span)
        if isinstance(other, Work) and other.stitch == last.stitch and _is_first(other.place):
            items.insert(-1, between)  # "a puff in first st, and in every 3rd st, 1 chain between"
        return True
    items[-1] = Repeat((_next(last, place), between), Extent.END, ending=ending, span=span)
    return True


def _is_first(place: Place | None) -> bool:
    return place is not None and place.which is Which.FIRST and place.number == 1


def _goes_around(cur: Cursor) -> bool | None:
    """Whether the row goes around, as far as its label, its own join or the rows before it tell."""
    if cur.around is not None:
        return cur.around
    return True if cur.context.around or "join" in cur.ids[cur.at :] else None


def _stand_by_turns(one: Place, other: Place) -> bool:
    """Whether two kinds of place are told, each of which stands behind one of the other."""
    return bool(_each_once(one) and one.of) and (_each_in_words(other) or (_each_once(other) and other.of != one.of))


def _by_turns(one: Work, other: Work | Slip, place: Place, between: Chain, span: Span, *, flat: bool) -> Repeat:
    """ "1 tr on each tr, 1 dc in each dc, 2 ch between": the two kinds stand by turns, since they are told together."""
    assert one.place is not None
    second = _next_in_words(other, place) if _each_in_words(place) else _next(other, place)
    ending = Ending(EndingKind.FITTING) if flat else None  # a row ends with a stitch, and either may be the last
    return Repeat((_next(one, one.place), between, second, between), Extent.END, ending=ending, span=span)


def _several(step: Work, place: Place) -> bool:
    """Whether so many places may be told, with one stitch in each."""
    counted = isinstance(place.number, int) and place.number > 1 and place.which is not Which.EACH
    return counted and step.each == 1 and not place.also and not place.words


def _passed_under(cur: Cursor, between: Step) -> list[Step]:
    """ ", missing 2 stitches under the 2 chain": what is passed under each of the chains."""
    start = cur.at
    cur.take_mark(",")
    skip = read_skip(cur) if isinstance(between, Chain) and cur.is_word("skip") else None
    under = any(word.id == "under-it" for word in cur.words[start : cur.at])
    if skip is None or not under or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return []
    return skip


def _counted(step: Work, place: Place, between: tuple[Step, ...], span: Span) -> list[Item]:
    assert isinstance(place.number, int)
    first = replace(step, place=replace(place, number=1), said_doubtful=False)
    then = replace(first, place=replace(place, number=1, which=Which.NEXT))
    if place.number == 2:
        return [first, *between, then]
    return [first, Repeat((*between, then), Extent.TIMES, place.number - 1, span=span)]


def _next(step: Work | Slip, place: Place) -> Work | Slip:
    return replace(step, place=replace(place, which=Which.NEXT))


def _next_in_words(step: Work | Slip, place: Place) -> Work | Slip:
    """ "Center st of next leaf", where the repeat comes to each of them in turn."""
    if place.what is not What.STITCH:
        return step
    each = words()["each"].forms
    said = (words()["next"].us if word in each else word for word in place.words.split())
    return replace(step, place=replace(place, words=" ".join(said)))


def _each_in_words(place: Place) -> bool:
    """ "The tip of each leaf": several places, which only the words tell."""
    return any(word in words()["each"].forms for word in place.words.split())


def _each_once(place: Place) -> bool:
    return (
        place.which is Which.EACH and place.every == 1 and not place.also and place.within is None and not place.words
    )
