"""Reads references to work told before: "rep Rnds 4 and 5 3 times more", "repeat last row until piece measures 20 cm",
"work as last rnd but having ch 4 between shells", "finish as for first motif".
"""

from __future__ import annotations

from functools import cache

from convert.document.numbers import Number
from convert.document.prose import Prose
from convert.document.steps import Again, Step, Until, Verbatim
from convert.instructions.repeats.repeat import is_sign, plus, read_times
from convert.instructions.repeats.repeat_ends import differing_words, ends_elsewhere
from convert.instructions.rows.every import differs_by_every
from convert.instructions.rows.stripes import take_stripes
from convert.instructions.rows.until import LENGTH, digit_behind, read_until, says_until
from convert.instructions.rows.variations import variations
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.remarks import remark_follows, telling_follows
from convert.instructions.words.said import said_from, said_in_row
from convert.trade.patterns import listed
from convert.trade.words import words as words_table


def read_again(cur: Cursor) -> list[Step] | None:
    """Earlier rows worked again; a relative reference ("last 2 rows") is negative, counted back from this row."""
    start = cur.at
    cur.take_listed("exactly")
    taken = cur.take_words("repeat", "work", "go-on", "as", "same", "manner")
    worked = taken == 1 and cur.is_word("work", ahead=-1)
    if taken and cur.is_word("as", ahead=-1):
        cur.take_words("in")
    if not taken:
        if cur.peek().id != "like" and not cur.is_listed("alternates"):
            cur.at = start
            return None
        cur.at += 1
    in_pattern = bool(taken) and cur.is_word("manner", ahead=-1) and cur.peek(-1).text.lower().endswith("pattern")
    rows = _rows(cur)
    if rows is None:
        differing = _differing(cur) if in_pattern else ()
        if variations(differing, cur.context.specials):
            return [Again(-1, -1, words=differing, span=cur.span(start))]
        cur.at = start
        return None
    if worked and cur.peek().kind == "unknown":
        cur.at = start  # "work the 1st row entirely in dc" tells how it is worked, and not to work it again
        return None
    rounds = _rounds(cur, start)
    cur.take_words("alternately")
    comma = cur.at
    cur.take_words("alternately")
    cur.take_mark(",", "-", "–", ":")
    until = (_until_striped(cur) if cur.rows == 1 else None) or read_until(cur)
    found = read_times(cur) if until is None else None
    if until is None and found is None:
        cur.at = comma
    times: Number | None = found[0] if found is not None else None
    if found is not None and times is not None and found[2]:
        times = plus(times, -1)  # so often in all, with the rows as they were told
    words = () if _stripes_follow(cur) else _differing(cur)
    if words and start and cur.words[start].id == "go-on" and rows[0] == rows[1] > 0 and not (times or until):
        # "complete as for Rnd 4 of first star", behind other steps: what is left of this round, and not that one again
        return [Again(0, 0, words=said_from(cur, start), span=cur.span(start))]
    again = Again(*rows, times, until, rounds=rounds, words=words, span=cur.span(start))
    return [again, *(_or_until(cur) if times is not None else _rest_told(cur, again) or _ending(cur))]


def _rest_told(cur: Cursor, again: Again) -> list[Step]:
    """ "Rows 5-8: Rep Rows 2-4, then Row 2 once more": rows with which the label's number ends anyway, counted on from
    the first of those that are repeated.
    """
    start, many = cur.at, again.last - again.first + 1
    if cur.rows <= many or again.first < 1 or again.until is not None or again.words:
        return []
    cur.take_mark(",", ";", ".")
    first = cur.at
    cur.take_words("and", "then", "repeat", "work")
    rows = _rows(cur) if cur.at > first else None
    if rows is not None:
        read_times(cur)
    further = rows[1] - rows[0] + 1 if rows is not None else 0
    ends = cur.done or cur.peek().kind == "mark"
    if rows is None or not ends or rows[0] != again.first or further >= many or (cur.rows - further) % many:
        cur.at = start
        return []
    return [Verbatim((cur.text(first, cur.at),), True, cur.span(first))]


def _or_until(cur: Cursor) -> list[Step]:
    """ "10 more times or until desired length": the number is that of the rows, the length another way."""
    start = cur.at
    cur.take_mark(",")
    first = cur.at
    if cur.is_listed("otherwise"):
        cur.at += 1
        if says_until(cur) and read_until(cur) is not None:
            return [Verbatim((cur.text(first, cur.at),), True, cur.span(first))]
    cur.at = start
    return _ending(cur)


def _ending(cur: Cursor) -> list[Step]:
    """ ", ending with Row 4", ", ending after a WS row": where the rows worked again stop, which their number tells."""
    start = cur.at
    cur.take_mark(",")
    first = cur.at
    if cur.take_words("ending"):
        cur.take_listed("behind_rows")
        cur.take_words("with", "the", "in", "last", "right-side", "wrong-side")
        if cur.take_words("row", "round"):
            cur.take_kind("num")
            cur.take_words("right-side", "wrong-side")
            if cur.done or cur.peek().kind == "mark":
                return [Verbatim((cur.text(first, cur.at),), True, cur.span(first))]
    cur.at = start
    return []


def _until_striped(cur: Cursor) -> Until | None:
    """ "..., working 2 rows each of B and C until piece measures 20 cm": stripes that tell how long it goes on, with
    the length behind them.
    """
    start = cur.at
    if take_stripes(cur) is None:
        return None
    end = cur.at
    cur.take_mark(",")
    until = read_until(cur)
    cur.at = end if until is None else cur.at
    words = cur.text(start, cur.at)
    return Until(words=words) if until is None else Until(until.length, until.target, words)


def _stripes_follow(cur: Cursor) -> bool:
    start = cur.at
    found = take_stripes(cur) is not None
    cur.at = start
    return found


_NARROWING = ("of", "in", "from", "as", "same", "manner")
_DIFFERING = ("but", "having")
_CLOSING = ("join", "turn", "fasten-off", "ending", "do-not-turn", "repeat")


def _differing(cur: Cursor) -> Prose:
    """Where the rows stand and how the work differs: "of the small mat", ", having 2 chains more in each loop"."""
    start = cur.at
    spread = cur.is_word("with", ahead=cur.is_mark(",")) and differs_by_every(cur)
    if (spread and cur.is_mark(",")) or (cur.is_mark(",") and _differs(cur, 1)):
        cur.at += 1
    first = cur.at
    if spread:
        cur.at += 1  # the word that opens it
    elif telling_follows(cur) or (not cur.is_word(*_NARROWING) and not _differs(cur)):
        cur.at = start
        return ()
    while not (cur.done or (clause_ends(cur) and not _lists_on(cur))):
        cur.at += 1
    words = cur.words[first : cur.at]
    counts = any(word.kind == "word" and word.id == "in-all" for word in words)
    counts = counts or [word.kind for word in words[1:]] == ["num", "stitch"]  # "making 48 tr"
    said = said_in_row(cur, first) if cur.at > first and not counts else None
    if said is None:
        cur.at = start
        return ()
    return said


def clause_ends(cur: Cursor) -> bool:
    """Whether the reference ends here: a stop, or a comma unless more of what differs stands behind it."""
    if cur.is_mark(".", ";", "(", "["):
        return not cur.is_mark(".") or not digit_behind(cur, cur.at + 1)
    return cur.is_mark(",") and not _differs(cur, 2 if cur.is_word("and", ahead=1) else 1)


def _lists_on(cur: Cursor) -> bool:
    """Whether the comma stands between stitches or chains of one list: "having 3 tr, 2 dtr, 3 tr in each shell"."""
    if not cur.is_mark(","):
        return False
    before = {cur.peek(-1).kind, cur.peek(-2).kind}
    behind = {cur.peek(1).kind, cur.peek(2).kind}
    return before == behind == {"num", "stitch"}


def _differs(cur: Cursor, ahead: int = 0) -> bool:
    """Whether words stand there that tell how the work differs from the rows referred to."""
    if cur.is_word(*_DIFFERING, ahead=ahead) or cur.peek(ahead).text.lower() in differing_words():
        return True
    if cur.peek(ahead).text.lower().split(" ", 1)[0] not in _unshaped_first():
        return False
    start = cur.at
    cur.at += ahead
    found = takes_sign(cur, "unshaped")
    cur.at = start
    return found


@cache
def _unshaped_first() -> frozenset[str]:
    """The words with which the phrases for rows without shaping begin: nowhere else need they be looked for."""
    return frozenset(phrase.split(" ", 1)[0].lower() for phrase in listed("unshaped"))


def set_off(words: Prose) -> bool:
    """Whether a comma stands in front of the words that tell how the work differs."""
    first = words[0] if words else ""
    opener = first.split(" ", 1)[0].lower() if isinstance(first, str) else ""
    return opener in differing_words() or opener == words_table()["with"].us


def read_elsewhere(cur: Cursor) -> list[Step] | None:
    """ "Complete rnd as for first motif", "work other side to correspond", "continue in same manner": work that is told
    elsewhere, in words that name no row of this part.
    """
    start = cur.at
    if cur.is_word("beginning") and cur.is_word("in", ahead=1) and remark_follows(cur):
        return None  # "starting at A on chart" only says where
    if _counts_units(cur):
        return [Again(0, 0, words=said_from(cur, start), span=cur.span(start))]
    goes_on = cur.is_word("go-on")
    from_row = cur.is_word("repeat") and cur.is_word("from", ahead=1) and cur.is_word("row", "round", ahead=3)
    cur.take_words("work", "go-on", "repeat")
    told = from_row
    counted = open_ended = False
    while not (cur.done or clause_ends(cur)):
        told = told or cur.is_word("manner") or (cur.is_word("same") and cur.is_word("as", "as-first", ahead=1))
        told = told or (cur.is_word("as-first") and cur.is_word("piece", ahead=1))  # "work as first motif"
        open_ended = open_ended or says_until(cur)
        counted = counted or (cur.peek().kind == "num" and not open_ended)
        told = told or (is_sign(cur) and _refers_elsewhere(cur))
        if cur.peek().kind == "tog" or (is_sign(cur) and not told):
            break
        cur.at += 1
    if (not told or (counted and cur.words[start].kind == "unknown")) and not (
        goes_on and not counted and cur.at > start + 1
    ):
        cur.at = start
        return None
    return [Again(0, 0, words=said_from(cur, start), span=cur.span(start))]


def _refers_elsewhere(cur: Cursor) -> bool:
    """Whether the sign at the position stands in another line: "from 1st * of 9th rnd", "from ** to end of point"."""
    cur.at += 1
    found = ends_elsewhere(cur)
    cur.at -= 1
    return found


def _counts_units(cur: Cursor) -> bool:
    """ "Make 4 sps", "work 3 ch-6 loops across", "2 rows White": units that the rows before tell how to make."""
    start = cur.at
    verb = cur.take_words("work", "then") > 0
    across = verb and cur.take_words("across", "around") > 0
    cur.take_words("the")
    number = cur.take_kind("num")
    cur.take_words("more", "the")
    cur.take_mark("-", "–")
    if number is not None and cur.peek().id == "ch":
        cur.at += 1
        cur.take_mark("-")
        cur.take_kind("num")
    elif verb or number is not None:
        while (cur.peek().kind == "unknown" or cur.is_word("join")) and cur.at - start < _ADJECTIVES:
            cur.at += 1
    noun = cur.take_words("space", "loop", "piece") > 0
    noun = noun or (number is not None and cur.take_words("row", "round", "back-loop") > 0)
    if not noun or not (verb or across or number is not None or cur.is_word("in")):
        cur.at = start
        return False
    while not (cur.done or clause_ends(cur)) and not cur.is_word("and", "repeat", "join"):
        tells = not verb and number is None and cur.is_listed("be")  # "the hole at the side is for the cord"
        if tells or cur.peek().kind == "tog" or (cur.peek().kind == "stitch" and cur.peek(-1).kind == "num"):
            cur.at = start
            return False
        cur.at += 1
    return True


_ADJECTIVES = 5
"""Where the noun has to stand, counted in words: "work 21 more large motifs"."""


def _rounds(cur: Cursor, start: int) -> bool | None:
    """Whether the words read since `start` speak of rounds or of rows."""
    for word in cur.words[start : cur.at]:
        if word.kind == "word" and word.id in ("row", "round"):
            return word.id == "round"
        if word.kind == "word" and word.id == "previous":
            text = word.text.lower()
            return True if "r" in text and ("rnd" in text or "round" in text) else False if "row" in text else None
    return None


def _shaped_above(cur: Cursor) -> tuple[int, int] | None:
    """ "Rep Dec Row 3 more times", right behind that row, which has no number."""
    if not cur.context.shaped or cur.peek().id != cur.context.shaped or not cur.is_word("row", "round", ahead=1):
        return None
    cur.at += 2
    return -1, -1


def _rows(cur: Cursor) -> tuple[int, int] | None:
    """First and last of the rows named."""
    named = cur.take_words("the") > 0
    pointed = _shaped_above(cur) or (_pointed_at(cur) if named else None)
    if pointed is not None:
        return pointed
    if cur.is_word("last", "previous"):
        whole = cur.is_word("previous")
        named = whole and len(cur.peek().text.split()) > 1
        cur.at += 1
        number = None if whole else cur.take_kind("num")
        if cur.take_words("row", "round") or named or (whole and (cur.done or cur.peek().kind == "mark")):
            return (-number.value, -1) if number else (-1, -1)
        return None
    if cur.take_words("row", "round") or _letter(cur):
        first = cur.take_kind("num")
    else:
        first = cur.take_kind("ord")
        if first is None:
            return None
        if cur.take_words("row", "round"):
            return first.value, first.value
        if first.value == 1 and cur.peek().kind == "num" and cur.is_word("row", "round", ahead=1):
            cur.at += 2
            return 1, cur.peek(-2).value
    if first is None:
        return None
    last = first
    while cur.is_mark("-", "–", ",") or (cur.is_word("and", "to") and not says_until(cur)):
        start = cur.at
        open_ended = cur.is_listed("until")
        cur.at += 1
        cur.take_words("and", "the", *(() if open_ended else ("row", "round")))
        _letter(cur)
        further_times = cur.is_word("more", ahead=1) and cur.peek(2).kind == "num"  # "rows 2-3 another 6 times"
        counted = (cur.is_word("times", "more", ahead=1) and not further_times) or _counts(cur)
        counted = counted or (cur.words[start].id == "to" and _is_length(cur))
        further = None if counted else cur.take_kind("num") or cur.take_kind("ord")
        if further is None or further.value <= last.value:
            cur.at = start
            break
        last = further
    if not cur.take_words("row", "round") and first.kind == "ord" and not _is_whole_line(cur, first):
        return None
    return first.value, last.value


def _pointed_at(cur: Cursor) -> tuple[int, int] | None:
    """ "(These) 2 rows", "(this) row", behind the first word: counted back from here."""
    if cur.peek().kind == "num" and cur.is_word("row", "round", ahead=1):
        cur.at += 2
        return -cur.peek(-2).value, -1
    return (-1, -1) if _takes_this_row(cur) else None


def _takes_this_row(cur: Cursor) -> bool:
    """ "Repeat this row until ...", "rep this rnd 4 times": the one that was told just before."""
    meant = cur.is_listed("this_one", -1) and cur.is_word("repeat", ahead=-2) and cur.is_word("row", "round")
    numbered = cur.peek(1).kind == "num" and not cur.is_word("times", "more", ahead=2)
    cur.at += meant and not numbered
    return meant and not numbered


def _is_whole_line(cur: Cursor, first: Lexeme) -> bool:
    """ "The same as the third.", "like the 2nd": a row that says nothing else means a row; a piece may mean one too."""
    if cur.around is None:
        return False
    at = cur.words.index(first)
    at -= at > 0 and cur.words[at - 1].id == "the"
    alike = at > 0 and cur.words[at - 1].id in ("as", "like")
    same = at > 0 and cur.words[at - 1].id == "manner" and cur.words[at - 1].text.lower().endswith(" as")
    ends = cur.done or (cur.is_mark(".") and cur.at == len(cur.words) - 1)
    return (alike or same) and ends


def _letter(cur: Cursor) -> bool:
    """Whether "R" in front of a row's number is read: "as R3", "repeat R4-R7"."""
    short = cur.is_listed("row_letter") and cur.peek(1).kind == "num"
    cur.at += short
    return short


def _counts(cur: Cursor) -> bool:
    """Whether the number at the position is no row: "2 and 3 (4, 5) times", "rep row 4 – 180 dc"."""
    if cur.peek(1).kind in ("stitch", "tog") or cur.is_word("stitch", "space", "group", "loop", ahead=1):
        return True
    ahead = 2
    while cur.is_mark("(", "[", ahead=1) and (cur.peek(ahead).kind == "num" or cur.is_mark(",", "-", "–", ahead=ahead)):
        ahead += 1
    if ahead == 2 or not cur.is_mark(")", "]", ahead=ahead):
        return False
    # A formula stands behind the values that it printed: "12 (22) {= pairs} times more".
    return cur.is_word("times", "more", ahead=ahead + 1) or cur.is_mark("{", ahead=ahead + 1)


def _is_length(cur: Cursor) -> bool:
    """Whether the number at the position is a length: "rows 2-3 until 30 cm"."""
    return cur.peek().kind == "num" and LENGTH.match(cur.passage.text, cur.peek().start) is not None
