"""Reads stitches spelled out in motions of the hook: "yo, insert hook in next st, pull up a loop, yo, draw through"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Decrease, Place, Step, Verbatim, What, Which, Work
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import said_of_place
from convert.instructions.repeats.repeat import is_sign, read_times
from convert.instructions.stitches.motion_legs import (
    UNTOLD,
    Leg,
    Spelled,
    in_one_place,
    is_complete,
    is_drawn_up,
    like,
    on_hook,
    places_of,
    stitch_of,
)
from convert.instructions.stitches.motion_runs import MOTIONS, WRAP
from convert.instructions.stitches.spelled_names import explain, named_further_on, takes_lengthened, told_by_motions
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number, times_word

_TWO = 2
"""Loops drawn off at a time."""


def read_motions(cur: Cursor) -> list[Step] | None:
    """One stitch or cluster told motion by motion."""
    return _read(cur, Spelled([]))


def _read(cur: Cursor, spelled: Spelled, begun: int | None = None) -> list[Step] | None:
    """The stitch whose motions go on at the position; `begun` is where the first of them stands, if that is before."""
    start, end = cur.at if begun is None else begun, cur.at
    if not cur.is_word(*MOTIONS) and not (cur.is_word("hook") and spelled.legs):
        return None
    spelled.may_be_untold = spelled.may_be_untold or start == 0
    while not spelled.closed and _motion(cur, spelled):
        _loops_told(cur)
        end = cur.at
        if is_complete(spelled) and not _goes_on(cur):
            break
        if not cur.take_mark(",", ";"):
            cur.take_words("and", "then")
        cur.take_words("and", "then")
    cur.at = end
    span = cur.span(start)
    if spelled.closed and not spelled.legs and not spelled.lengthened:
        return [Verbatim((cur.text(start, end),), True, span)]
    if not in_one_place(spelled):
        cur.at = start
        return None
    made = stitch_of(spelled)
    own = _of_row(cur, spelled, start) if made is None or spelled.lengthened else None
    if own is not None:
        return [own]
    if made is None:
        cur.at = start
        return None
    places = places_of(spelled.legs)
    if len(spelled.legs) == 1:
        return [Work(made, 1, places[0], span=span)]
    return [Decrease(made, len(spelled.legs), places, span)]


def _of_row(cur: Cursor, spelled: Spelled, start: int) -> Work | None:
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
    steps = _read(cur, Spelled([], sign=sign))
    if steps is None or not any(word.kind == "mark" and word.id == sign for word in cur.words[start + 1 : cur.at]):
        cur.at = start
        return None
    return steps


def read_bracketed_motions(cur: Cursor) -> list[Step] | None:
    """ "(Insert hook in next st, pull up a loop) twice, yo and draw through all 3 loops": one stitch."""
    start, spelled = cur.at, Spelled([], placed_behind=True)
    times = _legs_in_bracket(cur, spelled) if cur.peek().kind == "mark" else 0
    if times < _TWO:
        cur.at = start
        return None
    spelled.legs.extend([like(leg, None) for _ in range(times - 1) for leg in spelled.legs])
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


def _legs_in_bracket(cur: Cursor, inner: Spelled) -> int:
    """Reads motions in a bracket with a number of times behind it into `inner`; how often, or 0 where it is none."""
    closer = {"(": ")", "[": "]"}.get(cur.peek().id, "")
    if not closer or not cur.is_word(*MOTIONS, ahead=1):
        return 0
    cur.at += 1
    while _motion(cur, inner) and not cur.is_mark(closer):
        cur.take_mark(",", ";")
        cur.take_words("and", "then")
    found = read_times(cur) if is_drawn_up(inner) and cur.take_mark(closer) else None
    return found[0] if found is not None and isinstance(found[0], int) and 0 < found[0] <= _MOST else 0


def _place_behind(cur: Cursor, spelled: Spelled, start: int) -> bool:
    """Reads the place of all legs behind their bracket; false where a leg has none at all. Where nothing stands in
    front that "same" could refer to, it is the place that the stitch is worked in.
    """
    spelled.placed_behind = False
    place = read_place(cur) if cur.is_word("in", "around") else None
    first = spelled.legs[0].place
    if place is None:
        return all(leg.place != UNTOLD for leg in spelled.legs)
    if first != UNTOLD and place.which is not Which.SAME:
        return False
    if first == UNTOLD:
        anew = place.which is Which.SAME and start == 0
        first = replace(place, which=Which.NEXT) if anew else place
    for index, leg in enumerate(spelled.legs):
        leg.place = replace(place, which=Which.SAME) if index else first
    return True


def _repeats(cur: Cursor, spelled: Spelled) -> bool:
    """ "Repeat from * once": the legs so far once more."""
    start = cur.at
    if not spelled.sign or not cur.is_mark(spelled.sign, ahead=2):
        return False
    cur.at += 3
    times = times_word(cur)
    if times is None and cur.peek().kind == "num" and cur.is_word("times", "more", ahead=1):
        times = cur.peek().value
        cur.at += 2
    cur.take_words("more", "times")
    place = read_place(cur) if cur.is_word("in", "around") else None
    same = place is None or (place.which is Which.SAME and place.number == 1)
    if not times or times > _MOST or not same or not is_drawn_up(spelled):
        cur.at = start
        return False
    spelled.legs.extend([like(leg, place) for _ in range(times) for leg in spelled.legs])
    return True


def _legs_again(cur: Cursor, spelled: Spelled) -> bool:
    """ "[yo, insert hook in same st, pull up a loop] 3 times" behind the first leg: so many legs more."""
    start, inner = cur.at, Spelled([], placed_behind=True)
    times = _legs_in_bracket(cur, inner) if is_drawn_up(spelled) else 0
    place = read_place(cur) if times and cur.is_word("in", "around") else None
    if not times or (place is not None and place.which is not Which.SAME):
        cur.at = start
        return False
    untold = any(leg.place == UNTOLD for leg in inner.legs)
    place = Place(which=Which.SAME) if untold and place is None else place
    spelled.legs.extend([like(leg, place) for _ in range(times) for leg in inner.legs])
    return True


def _closes_legs(cur: Cursor, spelled: Spelled) -> bool:
    """ "*Yo, insert hook in st, pull up a loop* 4 times": the sign closes what it opened."""
    start = cur.at
    if not spelled.sign or cur.peek().id != spelled.sign or not is_drawn_up(spelled):
        return False
    cur.at += 1
    found = read_times(cur)
    if found is None or not isinstance(found[0], int) or not 1 < found[0] <= _MOST:
        cur.at = start
        return False
    spelled.legs.extend([like(leg, None) for _ in range(found[0] - 1) for leg in spelled.legs])
    return True


def _legs_marked(cur: Cursor, spelled: Spelled) -> bool:
    """ "..., *yo, insert hook in same st, pull up a loop; rep from * 3 more times": further legs behind a mark."""
    start = cur.at
    if spelled.sign or not is_drawn_up(spelled) or not cur.is_word(*MOTIONS, ahead=1):
        return False
    inner = Spelled([], sign=cur.peek().id, placed_behind=True)
    cur.at += 1
    before = 0
    while _motion(cur, inner):
        if before and len(inner.legs) > before and is_drawn_up(inner):  # the repeat has been read
            spelled.legs.extend(inner.legs)
            return True
        before = len(inner.legs) if is_drawn_up(inner) else 0
        cur.take_mark(",", ";")
        cur.take_words("and", "then")
    cur.at = start
    return False


def _loops_told(cur: Cursor) -> None:
    """Goes past "(2 loops on hook)": what the motions so far come to."""
    start = cur.at
    cur.take_mark(",")
    if cur.take_mark("("):
        number, loops = cur.take_kind("num"), cur.take_words("loop", "now", "on-hook", "remaining", "total-of")
        if number is not None and loops and cur.take_mark(")"):
            return
    cur.at = start


_MOST = 20
"""The most legs of one stitch that are told by a repeat."""


def _motion(cur: Cursor, spelled: Spelled) -> bool:
    if cur.is_word("repeat") and cur.is_word("from", ahead=1):
        return _repeats(cur, spelled)
    if is_sign(cur):
        return _closes_legs(cur, spelled) or _legs_marked(cur, spelled)
    if cur.is_mark("(", "["):
        return _several_times(cur, spelled) or _legs_again(cur, spelled)
    if cur.take_words("yarn-over") or _wraps_again(cur):
        times = times_word(cur)
        if times is None and cur.peek().kind == "num" and cur.is_word("times", ahead=1):
            times = cur.peek().value
            cur.at += 2
        spelled.wraps += times or 1
        return True
    if cur.take_words("insert") or _hook_in(cur):
        untold, start = spelled.placed_behind or (spelled.may_be_untold and cur.peek().kind == "mark"), cur.at
        place = read_place(cur) or (UNTOLD if untold else None)
        return _enters(spelled, place, bare="next" not in cur.ids[start : cur.at])
    if not spelled.legs and not spelled.wraps and takes_lengthened(cur):
        spelled.lengthened = True
        return True
    if cur.take_words("work-off"):
        return _draws_off(cur, spelled)
    if cur.take_words("draw-up"):
        if _draws_off(cur, spelled):
            return True
        place = read_place(cur, preposition=False) or (read_place(cur) if cur.is_word("in") else None)
        if place is not None and (place.what is What.SPACE or not _enters(spelled, place)):
            return False  # a loop on the hook, or a second entry before the first was drawn up
        return _draws_up(spelled) and _shared_with(cur, spelled.legs[-1])
    return False


def _wraps_again(cur: Cursor) -> bool:
    """ "..., over, draw a loop through next stitch": the bare word before a comma or the next motion."""
    if cur.peek().text.lower() != WRAP or not (cur.is_mark(",", ahead=1) or cur.is_word("draw-up", "and", ahead=1)):
        return False
    cur.at += 1
    return True


def _shared_with(cur: Cursor, leg: Leg) -> bool:
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


def _several_times(cur: Cursor, spelled: Spelled) -> bool:
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


def _enters(spelled: Spelled, place: Place | None, *, bare: bool = False) -> bool:
    if place is None or (spelled.legs and not spelled.legs[-1].drawn):
        return False
    one = place.which is Which.NEXT and place.number == 1 and place.what is What.STITCH
    spelled.legs.append(Leg(spelled.wraps, place, bare=bare and one))
    spelled.wraps = 0
    return True


def _draws_up(spelled: Spelled) -> bool:
    if not spelled.legs or spelled.legs[-1].drawn:
        return False
    spelled.legs[-1].drawn = True
    spelled.wraps = 0
    return True


def _draws_off(cur: Cursor, spelled: Spelled) -> bool:
    """ "2 loops", "all loops on hook at one time"."""
    start = cur.at
    every = cur.take_words("each", "remaining", "the") > 0
    cur.take_words("last", "first")
    number = read_number(cur) if cur.peek().kind == "num" else _TWO if cur.is_word("both-loops") else None
    every = every or (isinstance(number, int) and number > _TWO and number == on_hook(spelled))
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


def _hook_in(cur: Cursor) -> bool:
    """ "..., hook in ring, draw loop through": the hook goes in, without a word for it."""
    if not (cur.is_word("hook") and cur.is_word("in", ahead=1)):
        return False
    cur.at += 1
    return True


def _may_draw_off(spelled: Spelled, *, every: bool) -> bool:
    if not spelled.legs:
        return every
    return spelled.legs[-1].drawn


def _goes_on(cur: Cursor) -> bool:
    """Whether another motion follows, so that a stitch drawn off to its last loop is not the end."""
    ahead = 0
    while cur.is_mark(",", ahead=ahead) or cur.is_word("and", "then", ahead=ahead):
        ahead += 1
    return cur.is_word("draw-up", "work-off", ahead=ahead)
