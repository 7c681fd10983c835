"""Reads how often a repeat is worked, and ties "rep from *" to its mark."""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.numbers import Formula, Number, PerSize
from convert.document.steps import (
    Again,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Join,
    Place,
    Repeat,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
)
from convert.findings import Finding, Severity
from convert.instructions.cursor import Cursor
from convert.instructions.items import Ends, HowOften, Item, Mark, RepeatFrom
from convert.instructions.numbers import read_number, times_word
from convert.instructions.place_words import said_of_place
from convert.instructions.places import read_place
from convert.trade.patterns import said

_TAIL = re.compile(r"(.+) ([+-] \d{1,7})\Z")
_SIGNS = (*("*" * n for n in range(1, 12)), "+", "#", "•", "^", "§")


def is_sign(cur: Cursor, ahead: int = 0) -> bool:
    """Whether a sign stands there that repeats refer to."""
    return cur.is_mark(*_SIGNS, ahead=ahead)


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
    how = _times(cur, total=total) or _distance(cur)
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
    crossed = cur.take_word("times") or (cur.is_mark("*") and cur.peek(1).kind == "num" and cur.take_mark("*"))
    more = cur.take_word("more")
    number: Number | None = times_word(cur)
    if number is None and more and cur.is_word("times"):
        number = 1
    if number is None:
        number = read_number(cur)
        if number is None or not (cur.take_word("times") or crossed or cur.is_word("more")):
            return None
    more = cur.take_words("more") > 0 or more
    cur.take_words("times")
    more = cur.take_words("more") > 0 or more
    in_all = cur.take_words("in-all") > 0
    return number, more, in_all


def _distance(cur: Cursor) -> HowOften | None:
    start = cur.at
    if cur.take_words("around", "across"):
        if cur.is_word("to"):
            return _to(cur) or HowOften(Extent.END)
        cur.take_words("row", "round", "in")
        if cur.is_word("ring"):
            cur.at += 1
        return HowOften(Extent.END)
    if cur.is_word("to"):
        return _to(cur)
    if cur.is_word("in", "for", "from") and cur.is_word("each", ahead=1):
        cur.at = start
    return None


def _to(cur: Cursor) -> HowOften | None:
    start = cur.at
    open_ended = cur.peek().text.lower() in UNTIL
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
        place = read_place(cur, preposition=False)
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
    if place is not None and named and place.which in (Which.NEXT, Which.LAST, Which.FIRST) and place.number == 1:
        return HowOften(Extent.TO_PLACE, place=place)
    cur.at = start
    return _until(cur) if open_ended else None


UNTIL = ("until", "till", "til")
"""The forms of "to" that what has to be reached may follow in any words."""


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


def read_repeat_from(cur: Cursor) -> RepeatFrom | None:
    """ "rep from * around", "repeat from * to * twice more", "repeat between *s 3 times"."""
    start = cur.at
    if not cur.take_words("repeat"):
        return None
    named = cur.take_words("the", "from", "between")
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
    if not is_sign(cur):
        alone = not named and (cur.done or cur.is_mark(".", ";") or _closes_behind(cur))
        if alone:
            return RepeatFrom("", HowOften(Extent.END), whole=True, span=cur.span(start))
        how = None if named else read_how_often(cur, total=False)
        if how is not None and cur.take_words("from") and is_sign(cur):
            cur.at += 1
            return RepeatFrom(cur.peek(-1).id, how, span=cur.span(start))
        if how is not None and (cur.done or cur.peek().kind == "mark"):
            return RepeatFrom("", how, whole=True, span=cur.span(start))
        cur.at = start
        return None
    sign = cur.peek().id
    cur.at += 1
    between = False
    if cur.is_word("to", "and") and cur.is_mark(sign, ahead=1):
        cur.at += 2
        between = True
    apostrophe = 1 if cur.is_mark("'", "’") else 0
    if cur.peek(apostrophe).kind == "unknown" and cur.peek(apostrophe).id == "s":
        cur.at += 1 + apostrophe
        between = True
    if ends_elsewhere(cur):
        cur.at = start
        return None
    cur.take_mark(",")
    how = read_how_often(cur, total=False) or HowOften(Extent.END)
    return RepeatFrom(sign, how, between, first=first, span=cur.span(start))


def _closes_behind(cur: Cursor) -> bool:
    """Whether the row is closed behind the comma: "repeat, join", "repeat, ending with 2 dc"."""
    return cur.is_mark(",") and cur.is_word("join", "turn", "do-not-turn", "fasten-off", "ending", ahead=1)


def ends_elsewhere(cur: Cursor) -> bool:
    """ "Rep from * of 9th rnd", "rep from ** to end of 1st point": of what another line tells."""
    if cur.is_word("of"):
        return True
    ahead = 2 if cur.is_word("to") and cur.is_word("end", ahead=1) else 1 if cur.is_word("around", "across") else 0
    if not ahead or not cur.is_word("of", ahead=ahead):
        return False
    return cur.peek(ahead + 1).kind == "ord" or cur.is_word("piece", "same", ahead=ahead + 1)


def settle(items: list[Item], cur: Cursor) -> tuple[Step, ...]:
    """The steps with every repeat in place.

    What refers to a missing mark, or a mark that nothing refers to, is reported.
    """
    out: list[Item] = []
    index = 0
    while index < len(items):
        item = items[index]
        if isinstance(item, RepeatFrom):
            index = _close(out, items, index, cur)
            continue
        if isinstance(item, Ends) and not (item.ending or item.at_sign or item.fitting):
            index += 1
            continue
        out.append(item)
        index += 1
    for at, item in enumerate(out):
        if isinstance(item, Mark) and not item.used and item.sign and not _may_close(out, at):
            cur.findings.append(_open_mark(item))
    return tuple(item for item in out if not isinstance(item, Mark | Ends | RepeatFrom))


def _may_close(out: list[Item], at: int) -> bool:
    """Whether the end of the repeat that begins at a mark may stand in words: unread ones, or work told elsewhere."""
    return any(map(_says_repeat, out)) or any(isinstance(x, Again) and not x.first for x in out[at + 1 :])


def _says_repeat(item: Item) -> bool:
    """Whether words that were not understood speak of repeating: they may well refer to the mark."""
    if not isinstance(item, Verbatim) or item.inert:
        return False
    return any(isinstance(part, str) and _repeat().search(part) for part in item.words)


@cache
def _repeat() -> re.Pattern[str]:
    return re.compile(rf"\b{said('repeat')}\b", re.IGNORECASE)


def _no_mark(sign: str, item: RepeatFrom) -> Finding:
    return Finding(
        "unopened-mark",
        Severity.ERROR,
        f"The row refers to {sign}, but no {sign} stands before it.",
        item.span,
        expected=f"a {sign} at the step that is meant",
        found="none",
        hint=f"Put the {sign} in front of the step that it stands for, or take the reference out.",
    )


def _nothing_to_repeat(item: RepeatFrom) -> Finding:
    return Finding(
        "unopened-mark",
        Severity.ERROR,
        "The row says to repeat, but no steps stand before that to be repeated.",
        item.span,
        expected="the steps of the repeat, from the mark where it begins",
        found="none",
        hint="Put a mark in front of the first step of the repeat.",
    )


def _open_mark(mark: Mark) -> Finding:
    return Finding(
        "unclosed-mark",
        Severity.ERROR,
        f"Nothing says how the repeat that begins at {mark.sign} goes on.",
        mark.span,
        expected=f'"rep from {mark.sign} ..." later in the row',
        found="the end of the row",
        hint=f'Say how often it is worked, such as "rep from {mark.sign} around", or take the {mark.sign} out.',
    )


def _close(out: list[Item], items: list[Item], index: int, cur: Cursor) -> int:
    """Puts the repeat for `items[index]` in the place of its body; returns where to go on."""
    item = items[index]
    assert isinstance(item, RepeatFrom)
    marks = [i for i, x in enumerate(out) if isinstance(x, Mark) and (x.sign == item.sign or item.whole)]
    if item.whole and (item.first or not marks):
        out.insert(0, Mark(""))
        marks = [0]
    if not marks:
        cur.findings.append(_no_mark(item.sign, item))
        out.append(_as_it_stands(item, cur))
        return index + 1
    begin = marks[0] if item.first else marks[-1]
    following = index + 1
    closed = item.whole and len(marks) > 1 and marks[-1] == len(out) - 1 and not isinstance(out[-2], Mark)
    if (item.between or closed) and len(marks) > 1:
        return _again_between(out, marks, item, following)
    body_items = out[begin + 1 :]
    ending, following = _read_ending(items, following, item, body_items, cur)
    body = tuple(x for x in body_items if not isinstance(x, Mark | Ends | RepeatFrom))
    how = item.how
    if item.between and how.doubtful:
        how = replace(how, doubtful=False, times=plus(how.times, -1))
    mark = out[begin]
    assert isinstance(mark, Mark)
    del out[begin:]
    out.append(replace(mark, used=True))
    if body:
        out.append(Repeat(body, how.extent, how.times, how.place, ending, how.doubtful, body[0].span.to(item.span)))
    else:
        cur.findings.append(_nothing_to_repeat(item))
        out.append(_as_it_stands(item, cur))
    return following


def _as_it_stands(item: RepeatFrom, cur: Cursor) -> Verbatim:
    """The words of a repeat that has nothing to repeat."""
    cur.verbatim += 1
    return Verbatim((item.words,), span=item.span)


def _again_between(out: list[Item], marks: list[int], item: RepeatFrom, following: int) -> int:
    """ "*A* B; rep from * to * twice": A is worked again, behind B; directly behind A the workings add up."""
    first, second = marks[-2], marks[-1]
    body = tuple(x for x in out[first + 1 : second] if not isinstance(x, Mark | Ends | RepeatFrom))
    tail = out[second + 1 :]
    how = item.how
    del out[first:]
    if not any(not isinstance(x, Mark | Ends) for x in tail):
        out.append(Repeat(body, how.extent, how.times, how.place, None, how.doubtful, item.span))
        return following
    out.extend(body)
    out.extend(tail)
    times = plus(how.times, -1) if how.extent is Extent.TIMES else how.times
    out.append(Repeat(body, how.extent, times, how.place, None, False, item.span))
    return following


def _read_ending(
    items: list[Item], following: int, item: RepeatFrom, body: list[Item], cur: Cursor
) -> tuple[Ending | None, int]:
    sign = item.how.ending_sign
    if not sign and following < len(items):
        ends = items[following]
        if isinstance(ends, Ends) and ends.at_sign:
            sign = ends.at_sign
            following += 1
    if following < len(items) and isinstance(items[following], Ends) and items[following].fitting:  # type: ignore[union-attr]
        return Ending(EndingKind.FITTING), following + 1
    if sign:
        after = 0
        for x in body:
            if isinstance(x, Mark) and x.sign == sign:
                return Ending(EndingKind.AT, after=after), following
            if not isinstance(x, Mark | Ends | RepeatFrom):
                after += 1
        cur.findings.append(_no_mark(sign, item))
        return None, following
    if following < len(items) and isinstance(items[following], Ends) and items[following].ending:  # type: ignore[union-attr]
        steps: list[Step] = []
        at = following + 1
        while at < len(items) and not isinstance(items[at], Ends | RepeatFrom | Mark | Join | Turn | FastenOff):
            steps.append(items[at])  # type: ignore[arg-type]
            at += 1
        if steps:
            return Ending(EndingKind.WITH, tuple(steps)), at
        return None, at
    return None, following
