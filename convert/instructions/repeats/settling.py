"""Ties "rep from *" to its mark, and tells what refers to nothing."""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.steps import (
    Again,
    Begin,
    Chain,
    Decrease,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Group,
    Join,
    Repeat,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Work,
)
from convert.findings import Finding, Severity
from convert.instructions.repeats.outer_marks import again_in_front
from convert.instructions.repeats.repeat import plus
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, Item, Mark, RepeatFrom
from convert.source import NOWHERE, Span
from convert.trade.patterns import said


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
        if isinstance(item, Ends) and (item.omits is not None or item.up_to is not None):
            cur.verbatim += 1
            item = Verbatim((item.words,), span=item.span)
        if isinstance(item, Ends) and not (item.ending or item.at_sign or item.fitting):
            index += 1
            continue
        out.append(item)
        index += 1
    _keep_landmark(out)
    for at, item in enumerate(out):
        if isinstance(item, Mark) and not item.used and item.sign and not _may_close(out, at):
            cur.findings.append(_open_mark(item))
    return tuple(item for item in out if not isinstance(item, Mark | Ends | RepeatFrom))


def _keep_landmark(out: list[Item]) -> None:
    """A sign of two stars or more behind all steps of a row begins no repeat: another piece is worked "as the back
    to **". It stays as it stood.
    """
    last = len(out) - 1
    while last > 0 and isinstance(out[last], Ends):
        last -= 1
    mark = out[last] if last > 0 else None
    if isinstance(mark, Mark) and not mark.used and len(mark.sign) > 1:
        out[last] = Verbatim((mark.sign,), True, mark.span)


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
        begin = 0 if item.first else _where_it_begins(out, items[:index])
        out.insert(begin, Mark(""))
        marks = [begin]
    if not marks:
        cur.findings.append(_no_mark(item.sign, item))
        out.append(_as_it_stands(item, cur))
        return index + 1
    begin = marks[0] if item.first else again_in_front(out, marks[-1])
    following = index + 1
    closed = item.whole and len(marks) > 1 and marks[-1] == len(out) - 1 and not isinstance(out[-2], Mark)
    if (item.between or closed) and len(marks) > 1 and _stands_between(out, marks):
        return _again_between(out, marks, item, items, following, cur)
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
        span = body[0].span.to(_told_to(items[following - 1], item))
        out.append(Repeat(body, how.extent, how.times, how.place, ending, how.doubtful, span))
    else:
        cur.findings.append(_nothing_to_repeat(item))
        out.append(_as_it_stands(item, cur))
    return following


def _where_it_begins(out: list[Item], before: list[Item]) -> int:
    """Where the work begins that "repeat" alone refers to: with its sentence, and behind the foundation that its
    sentence makes or the yarn that it joins. A sentence without stitches goes with the one before it.
    """
    ended = max((item.span for item in before if isinstance(item, Ends) and item.span != NOWHERE), default=NOWHERE)
    steps = [(index, item) for index, item in enumerate(out) if not isinstance(item, Mark | Ends | RepeatFrom)]
    begin = next((index for index, step in steps if step.span > ended), 0) if ended != NOWHERE else 0
    if not any(isinstance(step, Work | Group | Decrease) for step in out[begin:]):
        begin = 0
    if begin == 0 and _begins_row(out):
        begin = 1
    founded = [index for index, step in steps if isinstance(step, Begin) and _is_done_once(step)]
    behind = founded[-1] + 1 if founded else 0
    return max(begin, behind) if behind < len(out) else begin


def _begins_row(out: list[Item]) -> bool:
    """Whether the chain in front begins the row, and is not repeated with it: it says what it counts as, or is one
    chain in front of a stitch.
    """
    chain = out[0] if len(out) > 1 else None
    if not isinstance(chain, Chain):
        return False
    return chain.counts is not None or (chain.number == 1 and isinstance(out[1], Work))


def _is_done_once(step: Begin) -> bool:
    """Whether a beginning is no part of what is repeated: a foundation, or yarn joined without a stitch."""
    return step.start in _FOUNDATIONS or (step.start is Start.EDGE and step.by is None)


_FOUNDATIONS = (Start.CHAIN, Start.OPEN_CHAIN, Start.CHAIN_RING, Start.ADJUSTABLE_RING, Start.STITCHES)


def _as_it_stands(item: RepeatFrom, cur: Cursor) -> Verbatim:
    """The words of a repeat that has nothing to repeat."""
    cur.verbatim += 1
    how = item.how
    said = Repeat((), how.extent, how.times, how.place, said_doubtful=how.doubtful, span=item.span)
    return Verbatim((item.words,), said_repeat=said, span=item.span)


def _stands_between(out: list[Item], marks: list[int]) -> bool:
    """Whether work stands between the last two marks."""
    return any(not isinstance(item, Mark | Ends | RepeatFrom) for item in out[marks[-2] + 1 : marks[-1]])


def _again_between(
    out: list[Item], marks: list[int], item: RepeatFrom, items: list[Item], following: int, cur: Cursor
) -> int:
    """ "*A* B; rep from * to * twice": A is worked again, behind B; directly behind A the workings add up."""
    first, second = marks[-2], marks[-1]
    body = tuple(x for x in out[first + 1 : second] if not isinstance(x, Mark | Ends | RepeatFrom))
    tail = out[second + 1 :]
    how = item.how
    ending, following = _read_ending(items, following, item, out[first + 1 : second], cur)
    span = item.span.to(_told_to(items[following - 1], item))
    del out[first:]
    if not any(not isinstance(x, Mark | Ends) for x in tail):
        out.append(Repeat(body, how.extent, how.times, how.place, ending, how.doubtful, span))
        return following
    out.extend(body)
    out.extend(tail)
    times = plus(how.times, -1) if how.extent is Extent.TIMES else how.times
    out.append(Repeat(body, how.extent, times, how.place, ending, False, span))
    return following


def _told_to(last: Item, item: RepeatFrom) -> Span:
    """How far the words of a repeat go: with those that tell what its last working leaves out."""
    omits = isinstance(last, Ends) and (last.omits is not None or last.up_to is not None)
    return last.span if isinstance(last, Ends) and omits else item.span


def _omitted(item: Item, body: list[Item]) -> Ending | None:
    """The end of the last working in front of the step that it leaves out, if the body ends with that step, or behind
    the chain that it ends with, if the body has one like it and more behind.
    """
    place = item.omits if isinstance(item, Ends) else None
    steps = [x for x in body if not isinstance(x, Mark | Ends | RepeatFrom)]
    if isinstance(item, Ends) and item.up_to is not None:
        ends = [at for at, x in enumerate(steps, 1) if isinstance(x, Chain) and x.number == item.up_to]
        return Ending(EndingKind.AT, after=ends[0]) if len(ends) == 1 and ends[0] < len(steps) else None
    last = steps[-1] if len(steps) > 1 else None
    if place is None or last is None:
        return None
    chain = isinstance(last, Chain) and place.what is What.SPACE and place.chains == last.number
    of = last.stitch if isinstance(last, Work) and last.place is not None and last.place.number == 1 else ""
    named = isinstance(last, Work) and place.what is What.STITCH and place.of == of and place.number == last.each
    return Ending(EndingKind.AT, after=len(steps) - 1) if chain or named else None


def _read_ending(
    items: list[Item], following: int, item: RepeatFrom, body: list[Item], cur: Cursor
) -> tuple[Ending | None, int]:
    omitted = _omitted(items[following], body) if following < len(items) else None
    if omitted is not None:
        return omitted, following + 1
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
