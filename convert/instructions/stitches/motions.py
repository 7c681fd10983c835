"""Reads stitches spelled out in motions of the hook: "yo, insert hook in next st, pull up a loop, yo and draw through".

Wraps before the hook goes in make the height of a stitch: none a single (US), one a double, two a treble. A stitch of
one wrap that is drawn off in one go is a half double. Legs that are left on the hook and drawn off together are one
stitch. Common practice, no source.
"""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.document.steps import Decrease, Place, Step, Verbatim, What, Which, Work
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import said_of_place
from convert.instructions.repeats.repeat import is_sign, read_times
from convert.instructions.stitches.motion_runs import MOTIONS, WRAP
from convert.instructions.stitches.spelled_names import explain, named_further_on, takes_lengthened, told_by_motions
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number, times_word
from convert.trade.stitches import of_height

_TWO = 2
"""Loops drawn off at a time."""


class _Leg(Struct):
    """One entry of the hook: wraps before it, where it goes in, and how often two loops were drawn off since."""

    wraps: int
    place: Place
    drawn: bool = False
    drawn_off: int = 0


class _Spelled(Struct):
    """What has been read so far. `wraps` are those not used yet, `closed` tells that all loops were drawn off."""

    legs: list[_Leg]
    wraps: int = 0
    closed: bool = False
    sign: str = ""
    """The mark in front of the first motion."""
    placed_behind: bool = False
    """The place may stand behind the bracket of the motions: "(yo, insert hook, pull up a loop) 3 times in same st"."""
    lengthened: bool = False
    """The loop on the hook was drawn up long first, and is one leg of the stitch."""


def read_motions(cur: Cursor) -> list[Step] | None:
    """One stitch or cluster told motion by motion."""
    return _read(cur, _Spelled([]))


def _read(cur: Cursor, spelled: _Spelled, begun: int | None = None) -> list[Step] | None:
    """The stitch whose motions go on at the position; `begun` is where the first of them stands, if that is before."""
    start, end = cur.at if begun is None else begun, cur.at
    if not cur.is_word(*MOTIONS) and not (cur.is_word("hook") and spelled.legs):
        return None
    while not spelled.closed and _motion(cur, spelled):
        end = cur.at
        if _is_complete(spelled) and not _goes_on(cur):
            break
        if not cur.take_mark(",", ";"):
            cur.take_words("and", "then")
        cur.take_words("and", "then")
    cur.at = end
    span = cur.span(start)
    if spelled.closed and not spelled.legs and not spelled.lengthened:
        return [Verbatim((cur.text(start, end),), True, span)]
    made = _stitch(spelled)
    own = _of_row(cur, spelled, start) if made is None or spelled.lengthened else None
    if own is not None:
        return [own]
    if made is None:
        cur.at = start
        return None
    places = _places(spelled.legs)
    if len(spelled.legs) == 1:
        return [Work(made, 1, places[0], span=span)]
    return [Decrease(made, len(spelled.legs), places, span)]


def _of_row(cur: Cursor, spelled: _Spelled, start: int) -> Work | None:
    """The author's stitch whose motions these are, which the row names further on; all its legs are in one place."""
    place, *others = (leg.place for leg in spelled.legs) if spelled.legs else (None,)
    one = place is not None and all(other in (place, replace(other, which=Which.SAME)) for other in others)
    drawn = spelled.closed and not spelled.wraps and all(leg.drawn for leg in spelled.legs)
    own = named_further_on(cur) if one and drawn else None
    if one and drawn and own is None and spelled.lengthened:
        own = told_by_motions(cur)
    if own is None:
        return None
    explain(cur, own, start)
    return Work(own.id, 1, place, span=cur.span(start))


def read_marked_motions(cur: Cursor) -> list[Step] | None:
    """ "*Insert hook in next loop, draw up a loop; rep from * once more, yo and draw through all 3 loops":
    one stitch over several places, with a mark inside.
    """
    start, sign = cur.at, cur.peek().id
    if cur.peek().kind != "mark" or not cur.is_word(*MOTIONS, ahead=1) or not is_sign(cur):
        return None
    cur.at += 1
    steps = _read(cur, _Spelled([], sign=sign))
    if steps is None or not any(word.kind == "mark" and word.id == sign for word in cur.words[start + 1 : cur.at]):
        cur.at = start
        return None
    return steps


def read_bracketed_motions(cur: Cursor) -> list[Step] | None:
    """ "(Insert hook in next st, pull up a loop) twice, yo and draw through all 3 loops": one stitch."""
    start, closer = cur.at, {"(": ")", "[": "]"}.get(cur.peek().id, "")
    if cur.peek().kind != "mark" or not closer or not cur.is_word(*MOTIONS, ahead=1):
        return None
    cur.at += 1
    spelled = _Spelled([], placed_behind=True)
    while _motion(cur, spelled) and not cur.is_mark(closer):
        cur.take_mark(",", ";")
        cur.take_words("and", "then")
    drawn = bool(spelled.legs) and spelled.legs[-1].drawn and not (spelled.wraps or spelled.closed)
    found = read_times(cur) if drawn and cur.take_mark(closer) else None
    if found is None or not isinstance(found[0], int) or not 1 < found[0] <= _MOST:
        cur.at = start
        return None
    spelled.legs = [replace(leg) for _ in range(found[0]) for leg in spelled.legs]
    if not _place_behind(cur, spelled, start):
        cur.at = start
        return None
    cur.take_mark(",", ";")
    cur.take_words("and", "then")
    steps = _read(cur, spelled, start)
    if steps is None or not spelled.closed:
        cur.at = start
        return None
    return steps


def _place_behind(cur: Cursor, spelled: _Spelled, start: int) -> bool:
    """Reads the place of all legs behind their bracket; false where a leg has none at all. Where nothing stands in
    front that "same" could refer to, it is the place that the stitch is worked in.
    """
    spelled.placed_behind = False
    place = read_place(cur) if cur.is_word("in", "around") else None
    first = spelled.legs[0].place
    if place is None:
        return all(leg.place != _UNTOLD for leg in spelled.legs)
    if first != _UNTOLD and place.which is not Which.SAME:
        return False
    if first == _UNTOLD:
        anew = place.which is Which.SAME and start == 0
        first = replace(place, which=Which.NEXT) if anew else place
    for index, leg in enumerate(spelled.legs):
        leg.place = replace(place, which=Which.SAME) if index else first
    return True


_UNTOLD = Place(What.PIECE, words="untold")
"""The place of a leg that is still to be told."""


def _repeats(cur: Cursor, spelled: _Spelled) -> bool:
    """ "Repeat from * once": the legs so far once more."""
    start = cur.at
    if not spelled.sign or not cur.is_mark(spelled.sign, ahead=2):
        return False
    cur.at += 3
    times = times_word(cur)
    if times is None and cur.peek().kind == "num" and cur.is_word("times", "more", ahead=1):
        times = cur.peek().value
        cur.at += 2
    cur.take_words("more")
    if not times or times > _MOST or not spelled.legs or not spelled.legs[-1].drawn or spelled.wraps:
        cur.at = start
        return False
    spelled.legs.extend([replace(leg) for _ in range(times) for leg in spelled.legs])
    return True


_MOST = 20
"""The most legs of one stitch that are told by a repeat."""


def _motion(cur: Cursor, spelled: _Spelled) -> bool:
    if cur.is_word("repeat") and cur.is_word("from", ahead=1):
        return _repeats(cur, spelled)
    if cur.is_mark("(", "["):
        return _several_times(cur, spelled)
    if cur.take_words("yarn-over") or _wraps_again(cur):
        times = times_word(cur)
        if times is None and cur.peek().kind == "num" and cur.is_word("times", ahead=1):
            times = cur.peek().value
            cur.at += 2
        spelled.wraps += times or 1
        return True
    if cur.take_words("insert") or _hook_in(cur):
        return _enters(cur, spelled, read_place(cur) or (_UNTOLD if spelled.placed_behind else None))
    if not spelled.legs and not spelled.wraps and takes_lengthened(cur):
        spelled.lengthened = True
        return True
    if cur.take_words("work-off"):
        return _draws_off(cur, spelled)
    if cur.take_words("draw-up"):
        if _draws_off(cur, spelled):
            return True
        place = read_place(cur, preposition=False) or (read_place(cur) if cur.is_word("in") else None)
        if place is not None and (place.what is What.SPACE or not _enters(cur, spelled, place)):
            return False  # a loop on the hook, or a second entry before the first was drawn up
        return _draws_up(spelled) and _shared_with(cur, spelled.legs[-1])
    return False


def _wraps_again(cur: Cursor) -> bool:
    """ "..., over, draw a loop through next stitch": the bare word before a comma or the next motion."""
    if cur.peek().text.lower() != WRAP or not (cur.is_mark(",", ahead=1) or cur.is_word("draw-up", "and", ahead=1)):
        return False
    cur.at += 1
    return True


def _shared_with(cur: Cursor, leg: _Leg) -> bool:
    """ "Draw a loop through same stitch with last loop of previous comb": where another stitch went, which only the
    words tell. The place has been read as far as "last".
    """
    start = cur.at - 1
    while start > 0 and not (cur.words[start].kind == "mark" or cur.words[start].id == "with"):
        start -= 1
    behind = 1 if cur.is_word("loop", "stitch") else 0
    if leg.place.which is not Which.SAME or cur.words[start].id != "with" or not cur.is_word("of", ahead=behind):
        return True
    while not (cur.done or cur.peek().kind == "mark"):
        cur.at += 1
    leg.place = replace(leg.place, words=said_of_place(cur, start))
    return True


def _several_times(cur: Cursor, spelled: _Spelled) -> bool:
    """ "(yo and draw through 2 loops) twice"."""
    start = cur.at
    closer = {"(": ")", "[": "]"}[cur.peek().id]
    before = spelled.legs[-1].drawn_off if spelled.legs else 0
    cur.at += 1
    if not cur.take_words("yarn-over"):
        _wraps_again(cur)
    cur.take_mark(",")
    cur.take_words("and")
    once = cur.take_words("draw-up", "work-off") > 0 and bool(spelled.legs) and _draws_off(cur, spelled)
    found = read_times(cur) if once and not spelled.closed and cur.take_mark(closer) else None
    if found is None or not isinstance(found[0], int):
        cur.at = start
        return False
    spelled.legs[-1].drawn_off = before + found[0]
    return True


def _enters(cur: Cursor, spelled: _Spelled, place: Place | None) -> bool:
    if place is None or (spelled.legs and not spelled.legs[-1].drawn):
        return False
    spelled.legs.append(_Leg(spelled.wraps, place))
    spelled.wraps = 0
    return True


def _draws_up(spelled: _Spelled) -> bool:
    if not spelled.legs or spelled.legs[-1].drawn:
        return False
    spelled.legs[-1].drawn = True
    spelled.wraps = 0
    return True


def _draws_off(cur: Cursor, spelled: _Spelled) -> bool:
    """ "2 loops", "all loops on hook at one time"."""
    start = cur.at
    every = cur.take_words("each", "remaining", "the") > 0
    number = read_number(cur) if cur.peek().kind == "num" else _TWO if cur.is_word("both-loops") else None
    every = every or (isinstance(number, int) and number > _TWO and number == _on_hook(spelled))
    if (
        not cur.take_words("loop", "stitch", "both-loops")
        or not (every or number == 2)
        or not _may_draw_off(spelled, every=every)
    ):
        cur.at = start
        return False
    cur.take_words("then", "on-hook", "at-once")
    if every and not spelled.legs and cur.peek().kind == "num" and cur.is_word("at-once", ahead=1):
        cur.at += 2  # "work off all loops two at a time", of stitches told elsewhere
    spelled.wraps = 0
    spelled.closed = every
    if not every:
        spelled.legs[-1].drawn_off += 1
    return True


def _on_hook(spelled: _Spelled) -> int:
    """How many loops are on the hook: the one that is always there, and wraps and loops of the legs."""
    return 1 + sum(leg.wraps + leg.drawn - leg.drawn_off for leg in spelled.legs)


def _hook_in(cur: Cursor) -> bool:
    """ "..., hook in ring, draw loop through": the hook goes in, without a word for it."""
    if not (cur.is_word("hook") and cur.is_word("in", ahead=1)):
        return False
    cur.at += 1
    return True


def _may_draw_off(spelled: _Spelled, *, every: bool) -> bool:
    if not spelled.legs:
        return every
    return spelled.legs[-1].drawn


def _goes_on(cur: Cursor) -> bool:
    """Whether another motion follows, so that a stitch drawn off to its last loop is not the end."""
    ahead = 0
    while cur.is_mark(",", ahead=ahead) or cur.is_word("and", "then", ahead=ahead):
        ahead += 1
    return cur.is_word("draw-up", "work-off", ahead=ahead)


def _is_complete(spelled: _Spelled) -> bool:
    return len(spelled.legs) == 1 and spelled.legs[0].drawn_off == spelled.legs[0].wraps + 1


def _stitch(spelled: _Spelled) -> str | None:
    """The id of the stitch whose legs these are; None where they are of no kind, unlike, or not finished."""
    if not spelled.legs or spelled.wraps or not all(leg.drawn for leg in spelled.legs):
        return None
    first = spelled.legs[0]
    if any((leg.wraps, leg.drawn_off) != (first.wraps, first.drawn_off) for leg in spelled.legs):
        return None
    if not spelled.closed:
        return of_height(_height(first.wraps)) if _is_complete(spelled) else None
    if first.drawn_off == first.wraps:
        return of_height(_height(first.wraps))
    return of_height(_ONE_WRAP) if first.wraps == 1 and not first.drawn_off else None


_ONE_WRAP = 2
"""Height of the stitch of one wrap that is drawn off in one go."""


def _height(wraps: int) -> int:
    """Height in chains of a stitch drawn off two loops at a time: 1 without a wrap, 3 with one, 4 with two."""
    return wraps + 2 if wraps else 1


def _places(legs: list[_Leg]) -> tuple[Place, ...]:
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
