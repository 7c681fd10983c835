"""Reads what refers to other steps of the row: marks of repeats, "rep from *", "ending with", "ending at **"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Extent
from convert.instructions.repeats.repeat import is_sign, read_how_often, read_repeat_from
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, HowOften, Item, Mark, RepeatFrom


def read_reference(cur: Cursor) -> list[Item] | None:
    """Marks of repeats, "rep from *", "ending with", "ending at **"."""
    start = cur.at
    if cur.peek().kind in ("num", "stitch", "tog"):
        return None
    if is_sign(cur) and not joins_clauses(cur):
        sign = cur.peek().id
        cur.at += 1
        mark = Mark(sign, cur.span(start))
        after = cur.at
        how = read_how_often(cur, total=True)
        if how is not None:
            return [RepeatFrom(sign, how, words=cur.text(start, cur.at), span=cur.span(start))]
        cur.at = after
        if _bare_times(cur, start, sign):
            times = HowOften(Extent.TIMES, cur.peek(-1).value)
            return [RepeatFrom(sign, times, words=cur.text(start, cur.at), span=cur.span(start))]
        if _closes_alone(cur, start, sign):
            return [RepeatFrom(sign, HowOften(Extent.END), words=cur.text(start, cur.at), span=cur.span(start))]
        return [mark]
    again = read_repeat_from(cur)
    if again is not None:
        return [replace(again, words=cur.text(start, cur.at))]
    stopped = _last_time_only(cur, start)
    if stopped is not None:
        return [stopped]
    if cur.take_words("ending") or _take_bare_end(cur):
        if cur.is_word("manner") and cur.peek().text.lower().endswith("correspond"):
            cur.at += 1
            return [Ends(fitting=True, span=cur.span(start))]
        cur.take_words("with", "last", "repeat", "at", "in")
        if is_sign(cur):
            sign = cur.peek().id
            cur.at += 1
            return [Ends(at_sign=sign, span=cur.span(start))]
        return [Ends(ending=True, span=cur.span(start))]
    return None


def _bare_times(cur: Cursor, start: int, sign: str) -> bool:
    """Reads the number in "*sc, inc* 6 (18)": behind the closing sign nothing else can be meant by it."""
    open_before = cur.ids[:start].count(sign) % 2 == 1
    ahead = 1 if cur.peek().kind == "num" else 0
    ends = cur.is_mark(".", ",", ";", "(", "[", "–", "-", ahead=ahead) or cur.at + ahead >= len(cur.words)
    if not (open_before and ahead and ends):
        return False
    cur.at += 1
    return True


def _take_bare_end(cur: Cursor) -> bool:
    """Reads "end" in "..., rep from * around, end ch 2, dc in first sc": short for "ending with"."""
    if not cur.is_word("end") or cur.peek(1).kind != "stitch" or not (cur.at and cur.is_mark(",", ";", ".", ahead=-1)):
        return False
    cur.at += 1
    return True


def _closes_alone(cur: Cursor, start: int, sign: str) -> bool:
    """Whether the second of two signs ends a row, or stands in front of its count, and nothing refers to either:
    "*sc, inc* = 18" goes around. Common practice, no source.
    """
    before = cur.ids[:start]
    if cur.ids.count(sign) != 2 or sign not in before or not cur.holds.isdisjoint(("repeat", "times", "more")):
        return False
    between = cur.words[before.index(sign) + 1 : start]
    counted = cur.is_mark("=", "(", "[", "–", "-") and cur.peek(1).kind == "num"
    closed = cur.is_mark(",", ".") and cur.is_word("join", "turn", ahead=1)
    ends = cur.done or counted or closed or (cur.is_mark(".") and cur.at + 1 == cur.end)
    return ends and any(word.kind in ("stitch", "tog") for word in between)


def joins_clauses(cur: Cursor) -> bool:
    """Whether the sign at the position is the plus of "(sc + inc) x 6", between clauses, and no mark of a repeat."""
    if _PLUS not in cur.holds or cur.peek().id != _PLUS or not cur.at:
        return False
    if cur.plus_marks is None:
        ids = cur.ids
        refers = any(word == _PLUS and ids[at - 1] in _REFERRING for at, word in enumerate(ids) if at)
        closed = any(word == _PLUS and ids[at + 1] in _HOW_OFTEN for at, word in enumerate(ids[:-1]))
        numbered = any(word == _PLUS and ids[at + 2] == "times" for at, word in enumerate(ids[:-2]))
        cur.plus_marks = refers or closed or numbered
    return not cur.plus_marks


_PLUS = "+"
_REFERRING = ("from", "to", "between", "repeat", "at", "in")
_HOW_OFTEN = ("around", "across", "twice", "thrice", "times", "repeat")


def _last_time_only(cur: Cursor, start: int) -> Ends | None:
    """ "the last time only to **", "the last time only to ch 2": where the last repeat stops."""
    cur.take_words("the")
    if cur.take_words("last") and cur.take_words("times", "repeat"):
        cur.take_words("only", "end", "ending")
        to = cur.take_words("to", "at", "in")
        cur.take_words("the")
        if to and is_sign(cur):
            cur.at += 1
            cur.take_words("only")
            return Ends(at_sign=cur.peek(-1).id, span=cur.span(start))
        chain = cur.peek().id == "ch" and cur.peek(1).kind == "num"
        cur.at += 2 * chain
        cur.take_words("only")
        if to and chain and (cur.done or cur.peek().kind == "mark"):
            number = next(word.value for word in reversed(cur.words[: cur.at]) if word.kind == "num")
            return Ends(up_to=number, words=cur.text(start, cur.at), span=cur.span(start))
    cur.at = start
    return None
