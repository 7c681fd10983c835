"""Reads how often a repeat is worked, and ties "rep from *" to its mark."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.numbers import Formula, Number, PerSize
from convert.document.steps import (
    Extent,
    Place,
    Repeat,
    Step,
    What,
    Which,
)
from convert.instructions.counts.stated_marks import closes_open, is_between_signs
from convert.instructions.places.far_ends import to_far_end
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import said_of_place
from convert.instructions.repeats.repeat_ends import closes_behind, ends_elsewhere
from convert.instructions.repeats.sides import passes_side, read_for_sides
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import HowOften, Item, RepeatFrom
from convert.instructions.words.numbers import read_number, times_word
from convert.instructions.words.phrases import takes_sign
from convert.trade.patterns import listed

_TAIL = re.compile(r"(.+) ([+-] \d{1,7})\Z")
_SIGNS = frozenset((*("*" * n for n in range(1, 12)), "+", "#", "•", "^", "§"))
_SINGLE = "*"
"""The sign that people call the asterisk."""
_STOPS = (",", ";", ".", ":", ")", "]")


def is_sign(cur: Cursor, ahead: int = 0) -> bool:
    """Whether a sign stands there that repeats refer to."""
    lexeme = cur.peek(ahead)
    return lexeme.kind == "mark" and lexeme.id in _SIGNS


def is_one(number: Number) -> bool:
    """Whether the number is 1 in every size."""
    return number == 1


def plus(number: Number, more: int) -> Number:
    """The number and `more`, in every size.

    >>> plus(PerSize((3, None, 5)), 1)
    PerSize(values=(4, None, 6))
    """
    if isinstance(number, int):
        return number + more
    if isinstance(number, PerSize):
        return PerSize(tuple(None if v is None else v + more for v in number.values))
    return _formula_plus(number.text, more)


def _formula_plus(text: str, more: int) -> Formula:
    """The formula and `more`, with a whole number at its end taken together with it: "pairs + 1" and -1 is
    "pairs".
    """
    tail = _TAIL.match(text)
    if tail:
        text, more = tail.group(1), more + int(tail.group(2).replace(" ", ""))
    return Formula(text if more == 0 else f"{text} + {more}" if more > 0 else f"{text} - {-more}")


def read_how_often(cur: Cursor, *, total: bool) -> HowOften | None:
    """ "6 times", "x 6", "twice", "around", "to last 2 sts", "once more".

    `total` tells whether a bare "3 times" includes the first working: it does behind brackets, it is doubtful
    after "rep from *".
    """
    start = cur.at
    if cur.ids[start] in _STOPS:
        return None  # behind most clauses; asked so often that the rest would cost a good part of the reading
    how = read_for_sides(cur, total=total) or _times(cur, total=total) or _distance(cur)
    if how is None:
        cur.at = start
    return how


def _times(cur: Cursor, *, total: bool) -> HowOften | None:
    found = read_times(cur)
    if found is None:
        return None
    number, more, in_all = found
    if more:
        return HowOften(Extent.TIMES, plus(number, 1))
    if total or in_all:
        return HowOften(Extent.TIMES, number)
    return HowOften(Extent.TIMES, plus(number, 1), doubtful=not is_one(number))


def read_times(cur: Cursor) -> tuple[Number, bool, bool] | None:
    """ "3 times more", "x 6", "twice", "4 times in all": the number, whether it is said to be further ones, or
    in all.
    """
    cur.take_words("for", "the")
    in_all = (
        cur.is_word("total-of", "in-all")
        and cur.peek(1).kind in ("num", "word")
        and cur.take_words("total-of", "in-all") > 0
    )
    crossed = cur.take_word("times") or (_crosses(cur) and cur.take_mark("*"))
    more = cur.take_word("more")
    number: Number | None = times_word(cur)
    if number is None and more and cur.is_word("times"):
        number = 1
    if number is None:
        number = read_number(cur)
        if cur.peek().text in listed("crosses") and cur.peek(1).kind in ("stitch", "tog"):
            return None  # "*3x sc, inc; rep from * around"
        if number is None or not (cur.take_word("times") or crossed or cur.is_word("more")):
            return None
    more = cur.take_words("more") > 0 or more
    cur.take_words("times")
    more = cur.take_words("more") > 0 or more
    in_all = cur.take_words("in-all") > 0 or in_all
    return number, more, in_all


def said_repeated(cur: Cursor) -> HowOften | None:
    """ "(sc, inc) rep 6 times", "[...], repeat around": the word behind a bracket, where it names no mark."""
    start = cur.at
    cur.take_mark(",", "–", "-")
    if cur.take_words("repeat"):
        how = read_how_often(cur, total=False)
        if how is None and (cur.done or cur.is_mark(".", ";") or closes_behind(cur)):
            how = HowOften(Extent.END)
    else:
        how = read_how_often(cur, total=True) if cur.at > start else None  # "(sc, inc) - 6 times"
        how = how if how is not None and how.extent is Extent.TIMES else None
    if how is None:
        cur.at = start
    return how


def without_first(how: HowOften, steps: tuple[Step, ...], before: Sequence[Item]) -> HowOften:
    """How often a bracket is worked "3 more times": so often and no more where its steps stand right before it, or it
    stands there itself; else once besides.
    """
    last = before[-1] if before else None
    told = isinstance(last, Repeat) and last.steps == steps
    told = told or tuple(before[-len(steps) :]) == steps
    return HowOften(how.extent, plus(how.times, -1), how.place) if told and how.extent is Extent.TIMES else how


def _crosses(cur: Cursor) -> bool:
    """Whether an asterisk multiplies ("* 6"); in "* 6 times" it is the mark where the repeat ends, as it is behind one
    that begins a repeat, and in "*24*" a count stands between two.
    """
    bracketed = cur.at > 0 and cur.is_mark(")", "]", "}", ahead=-1)  # "[sc, inc] * 6 times"
    told = cur.is_word("times", ahead=2) and not bracketed
    multiplies = cur.is_mark("*") and cur.peek(1).kind == "num" and not told
    multiplies = multiplies and cur.peek(2).kind not in ("stitch", "tog")  # "ch 2, *1 dc in ring"
    return multiplies and not closes_open(cur, "*") and not is_between_signs(cur)


def _distance(cur: Cursor) -> HowOften | None:
    start = cur.at
    if passes_side(cur):
        how = _to(cur)
        if how is not None and how.place is not None and how.place.what is What.CORNER:
            return how
        cur.at = start
    if cur.take_words("around", "across"):
        if cur.is_word("to"):
            return _to(cur) or HowOften(Extent.END)
        cur.take_words("row", "round", "in")
        if cur.is_word("ring"):
            cur.at += 1
        return HowOften(Extent.END)
    if cur.is_word("to"):
        far = to_far_end(cur)
        return HowOften(Extent.TO_PLACE, place=far) if far is not None else _to(cur)
    if cur.is_word("in", "for", "from") and cur.is_word("each", ahead=1):
        cur.at = start
    return None


def _to(cur: Cursor) -> HowOften | None:
    start = cur.at
    open_ended = cur.is_listed("until")
    cur.at += 1
    cur.take_words("the")
    if cur.is_word("end"):
        cur.at += 1
        if cur.take_words("of"):
            if cur.peek().kind == "ord":
                cur.at = start
                return None
            cur.take_words("the", "row", "round")
        return HowOften(Extent.END)
    if cur.is_word("last", "remaining"):
        place = read_place(cur, preposition=False)
        if place is not None:
            return HowOften(Extent.TO_LAST, place=place)
    if cur.peek().kind == "num":
        place = _in_front_of(cur) or read_place(cur, preposition=False)
        if place is not None and place.within is not None and place.within.what is What.MARKER:
            return HowOften(Extent.TO_PLACE, place=place)
        if place is not None and (cur.take_words("of") or cur.is_word("end", "marker", "remaining")):
            if cur.take_words("end", "remaining"):
                return HowOften(Extent.TO_LAST, place=replace(place, which=Which.LAST))
            marker = read_place(cur, preposition=False)
            if marker is not None:
                return HowOften(Extent.TO_PLACE, place=replace(place, within=marker))
    cur.at = start + 1
    place = read_place(cur, preposition=False) if not cur.is_word("turn", "join", "work") else None
    told = place is not None and place.what is What.PIECE  # "until you have worked six", "to form the point"
    named = not told or not (open_ended or cur.words[start + 1].kind == "unknown")
    if (
        place is not None
        and named
        and place.which in (Which.NEXT, Which.LAST, Which.FIRST, Which.CENTER)
        and place.number == 1
    ):
        return HowOften(Extent.TO_PLACE, place=place)
    cur.at = start
    return _until(cur) if open_ended else None


def _in_front_of(cur: Cursor) -> Place | None:
    """ "2 sts before marker": so many stitches in front of a place."""
    start = cur.at
    number = read_number(cur)
    stitch = cur.take_kind("stitch") if number is not None else None
    noun = stitch is not None or (number is not None and cur.take_words("stitch") > 0)
    before = noun and takes_sign(cur, "before_place")
    outer = read_place(cur, preposition=False) if before and not cur.is_word("end") else None
    if number is None or outer is None or outer.what is not What.MARKER:
        cur.at = start
        return None
    return Place(number=number, of=stitch.id if stitch is not None else None, within=outer, span=cur.span(start))


def _until(cur: Cursor) -> HowOften | None:
    """ "Until 12 motifs are joined": up to the end of the clause, in words."""
    start = cur.at
    cur.at += 1
    first = cur.at
    while not (cur.done or cur.peek().kind == "mark"):
        cur.at += 1
    if cur.at == first:
        cur.at = start
        return None
    words = f"until {said_of_place(cur, first)}"
    return HowOften(Extent.TO_PLACE, place=Place(What.PIECE, words=words, span=cur.span(start)))


def _asterisk(cur: Cursor, start: int) -> bool:
    """Whether the mark is called by its name: "between asterisks"."""
    return cur.is_word("asterisk") and _SINGLE in cur.ids[:start]


def _between(cur: Cursor, start: int, sign: str) -> bool:
    """Reads the marks at the position; whether they are said to stand around what is repeated: "* to *", "*s"."""
    said = "between" in cur.ids[start : cur.at]
    between = said or sign != cur.peek().id
    cur.at += 1
    if (cur.is_word("to", "and") or cur.is_mark("-", "–", "—")) and cur.is_mark(sign, ahead=1):
        cur.at += 2
        between = True
    elif cur.is_mark(sign) and said:
        cur.at += 1
        between = True
    apostrophe = 1 if cur.is_mark("'", "’") else 0
    if cur.peek(apostrophe).kind == "unknown" and cur.peek(apostrophe).id == "s":
        cur.at += 1 + apostrophe
        between = True
    return between


def _sign(cur: Cursor, start: int) -> str:
    """The sign that stands there: "between **" names two marks of one asterisk where the row has no double ones."""
    sign = cur.peek().id
    half = sign[: len(sign) // 2]
    doubled = half + half == sign and "between" in cur.ids[start : cur.at]
    return half if doubled and sign not in cur.ids[:start] and half in cur.ids[:start] else sign


def read_repeat_from(cur: Cursor) -> RepeatFrom | None:
    """ "rep from * around", "repeat from * to * twice more", "repeat between *s 3 times"."""
    start = cur.at
    goes_on = cur.is_word("go-on") and cur.is_word("from", ahead=1) and is_sign(cur, 2)
    if not (goes_on and cur.take_words("go-on")) and not cur.take_words("repeat"):
        return None
    begun = cur.at
    cur.take_words("the", "from", "between")
    named = any(word.id in ("from", "between") for word in cur.words[begun : cur.at])
    if cur.at > begun and not named and cur.is_listed("told_before"):
        cur.at += 1  # "repeat this sequence 5 times"
    if named and cur.take_words("beginning"):
        cur.take_words("of", "the", "row", "round")
        far = read_how_often(cur, total=False) or HowOften(Extent.END)
        return RepeatFrom("", far, whole=True, first=True, span=cur.span(start))
    first = False
    if cur.peek().kind == "ord" and is_sign(cur, 1):
        first = cur.peek().value == 1
        cur.at += 1
    elif cur.is_word("last") and is_sign(cur, 1):
        cur.at += 1
    if not is_sign(cur) and not _asterisk(cur, start):
        alone = not named and (cur.done or cur.is_mark(".", ";") or closes_behind(cur))
        if alone:
            return RepeatFrom("", HowOften(Extent.END), whole=True, span=cur.span(start))
        how = None if named else read_how_often(cur, total=False)
        if how is not None and cur.take_words("from") and is_sign(cur):
            cur.at += 1
            return RepeatFrom(cur.peek(-1).id, how, span=cur.span(start))
        counted = cur.peek().kind == "num" and cur.at + 1 == len(cur.words)  # "repeat 5 times 15"
        if how is not None and (cur.done or cur.peek().kind == "mark" or counted):
            return RepeatFrom("", how, whole=True, span=cur.span(start))
        cur.at = start
        return None
    sign = _SINGLE if _asterisk(cur, start) else _sign(cur, start)
    between = _between(cur, start, sign)
    if ends_elsewhere(cur):
        cur.at = start
        return None
    cur.take_mark(",")
    how = read_how_often(cur, total=False) or HowOften(Extent.END)
    return RepeatFrom(sign, how, between, first=first, span=cur.span(start))
