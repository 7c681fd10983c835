"""Reads a row told by its stitch and its shaping: "work in sc, increasing 1 sc at each end", "work even in sc"."""

from __future__ import annotations

from convert.document.steps import Again, Decrease, Extent, Place, Repeat, Step, Verbatim, Which, Work
from convert.instructions.repeats.repeat import read_times
from convert.instructions.rows.until import read_until
from convert.instructions.shaping.shaping_words import SHAPING
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.source import Span

_CLOSING = ("turn", "join", "fasten-off", "do-not-turn")


def read_shaped_ends(cur: Cursor) -> list[Step] | None:
    """A row of one stitch with one more, or one fewer, at each end: two stitches into the first and the last place, or
    the first and the last two places drawn together (common practice, no source).

    It must be the row's only work and say which stitch it is. Otherwise it changes what other words tell, and is kept
    as it stands: no increase follows behind the row.
    """
    if not (cur.is_word("work", "go-on", "increasing", "decreasing") or cur.peek().id in ("inc", "dec")):
        return None
    if "at-each-end" not in cur.holds:
        return None if cur.stitch else _only_work(cur)
    return (None if cur.stitch else _only_work(cur) or _drawn_at_ends(cur)) or _change(cur)


def _drawn_at_ends(cur: Cursor) -> list[Step] | None:
    """ "Work 2 sc tog at beg and end of row"."""
    start = cur.at
    cur.take_words("work")
    number = cur.take_kind("num")
    stitch = cur.take_kind("stitch")
    cur.take_words("stitch")
    two = number is not None and number.value == _TWO and stitch is not None and not _is_shaping(stitch)
    if two and stitch is not None and cur.take_words("together") and cur.take_words("at-each-end") and _row_ends(cur):
        return _written_out(stitch.id, cur.span(start), more=False)
    cur.at = start
    return None


_TWO = 2


def _change(cur: Cursor) -> list[Step] | None:
    """ "Inc 1 st at each end" in words."""
    start = cur.at
    cur.at += 1
    cur.take_kind("num")
    cur.take_kind("stitch")
    cur.take_words("stitch")
    if not _is_shaping(cur.words[start]) or not cur.take_words("at-each-end"):
        cur.at = start
        return None
    cur.verbatim += 1
    return [Verbatim((cur.text(start, cur.at),), False, cur.span(start))]


def _only_work(cur: Cursor) -> list[Step] | None:
    start = cur.at
    worked = cur.take_words("work", "go-on") > 0
    even = worked and cur.take_words("manner") > 0
    said = cur.take_kind("stitch") if worked and cur.take_word("in") else None
    if even and said is not None and not _is_shaping(said) and (cur.done or cur.is_mark(".")):
        return [Work(said.id, 1, Place(which=Which.EACH), span=cur.span(start))]
    cur.take_mark(",")
    steps = None if even else _shaped(cur, said, start)
    if steps is None:
        cur.at = start
    return steps


def _is_shaping(word: Lexeme) -> bool:
    return word.id in SHAPING


def _shaped(cur: Cursor, said: Lexeme | None, start: int) -> list[Step] | None:
    verb = cur.peek()
    if not _is_shaping(verb) or (said is not None and _is_shaping(said)):
        return None
    cur.at += 1
    number = cur.take_kind("num")
    unit = cur.take_kind("stitch")
    cur.take_words("stitch")
    stitch = said or unit
    if stitch is None or (unit is not None and unit.id != stitch.id) or (number is not None and number.value != 1):
        return None
    if not _at_each_end(cur):
        return None
    where = _where(cur)
    again = _every_row(cur)
    if not _row_ends(cur):
        return None
    return [*_written_out(stitch.id, cur.span(start), more=SHAPING[verb.id] == "inc"), *where, *again]


def _every_row(cur: Cursor) -> list[Step]:
    """ "Of every row until 6 sts remain", "on each row 5 times", "of the next 4 rows": the same row again."""
    start = cur.at
    cur.take_words("of", "in")
    each = cur.take_words("each") > 0
    if not each and cur.take_words("the", "next"):
        number = cur.take_kind("num")
        if number is not None and number.value > 1 and cur.take_words("row", "round"):
            return [Again(-1, -1, number.value - 1, span=cur.span(start))]
    if each and cur.take_words("row", "round"):
        behind = cur.at
        cur.take_mark(",")
        until = read_until(cur)
        found = read_times(cur) if until is None else None
        if until is not None:
            return [Again(-1, -1, until=until, span=cur.span(start))]
        if found is not None and isinstance(found[0], int) and found[0] > 1:
            return [Again(-1, -1, found[0] - 1, span=cur.span(start))]
        cur.at = behind
    cur.at = start
    return []


def _where(cur: Cursor) -> list[Step]:
    """ "At each side of the heel": what the ends are called besides, in words that ask for nothing."""
    start = cur.at
    if cur.is_listed("at_spot"):
        while not cur.done and cur.peek().kind in ("word", "unknown"):
            cur.at += 1
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))] if cur.at > start else []


def _at_each_end(cur: Cursor) -> bool:
    """ "At each end of row", "in first and last sts"."""
    if cur.take_words("at-each-end"):
        return True
    first = cur.at
    cur.take_words("in", "the")
    ordinal = cur.take_kind("ord")
    behind = cur.take_words("stitch", "and", "the", "last") > 1
    return cur.at > first + 2 and ordinal is not None and ordinal.value == 1 and behind and _says_last(cur, first)


def _says_last(cur: Cursor, first: int) -> bool:
    """Whether the words since `first` name the last stitch and end with a stitch."""
    words = [word.id for word in cur.words[first : cur.at]]
    return "last" in words and "and" in words and words[-1] == "stitch"


def _row_ends(cur: Cursor) -> bool:
    """Whether no more work follows: only a turning chain, a turn and the like, or an explanation."""
    if cur.done or cur.is_mark(".", "(", "["):
        return True
    counted = 2 if cur.peek(1).kind == "num" else 1
    return cur.is_mark(",", ";") and (cur.is_word(*_CLOSING, ahead=1) or cur.peek(counted).id == "ch")


def _written_out(stitch: str, span: Span, *, more: bool) -> list[Step]:
    one = Work(stitch, 1, Place(), span=span)
    between = Repeat((one,), Extent.TO_LAST, place=Place(which=Which.LAST, number=1 if more else 2), span=span)
    if more:
        two = Work(stitch, 2, Place(), span=span)
        return [two, between, Work(stitch, 2, Place(which=Which.LAST), span=span)]
    drawn = Decrease(stitch, 2, (Place(number=2),), span=span)
    return [drawn, between, drawn]
