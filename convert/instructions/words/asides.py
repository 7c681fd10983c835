"""Reads what nothing is worked from: purposes ("to form a rib"), sentences that tell and ask for nothing
(`shared/asides.yaml`).
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Step, Verbatim
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import take_phrase, takes_sign
from convert.instructions.words.remarks import asks_for_work
from convert.instructions.words.said import said_in_row, untranslatable
from convert.instructions.words.size_names import read_sizes
from convert.terms.prose import read_prose
from convert.trade.patterns import either, number_words, signs
from convert.trade.patterns import said as form_of
from convert.trade.tables import table

_TOLD = ("unknown", "word")
"""Kinds of words that ask for nothing; a number, a stitch or a formula may."""


def read_aside(cur: Cursor) -> list[Step] | None:
    """A purpose up to the next mark, a sentence that tells, or the words in front of the instructions themselves."""
    told = _lead(cur) or _result(cur) or _purpose(cur) or _choice(cur) or _ends_here(cur)
    return told or _renames(cur) or _purposed(cur) or _telling(cur)


def _ends_here(cur: Cursor) -> list[Step] | None:
    """ "End here for XS": which sizes are finished; where no sizes are named, the sentence may mean the row."""
    start = cur.at
    if not takes_sign(cur, "ends_here"):
        return None
    first = cur.at
    while not (cur.done or cur.is_mark(".", ";", "(")):
        cur.at += 1
    if cur.at == first or not read_sizes(cur.text(first, cur.at), cur.context):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def is_telling(step: Step) -> bool:
    """Whether a step is a sentence that tells, which stands apart from its neighbours by full stops."""
    if not isinstance(step, Verbatim) or not step.inert or not step.words or not isinstance(step.words[0], str):
        return False
    said = step.words[0]
    if not said[:1].isupper():
        return False
    subject = _phrases("subjects").match(said)
    tells = subject and (_asked("permits").search(said) or (len(step.words) == 1 and _asked("verbs").search(said)))
    return bool(tells or is_handwork(said) or (_phrases("choices").match(said) and _asked("liked").search(said)))


def is_handwork(said: str) -> bool:
    """Whether a sentence begins with handwork ("Wind yarn ..."), or comes to it behind "when ...", or has trimmings
    made of yarn ("Make 4 tassels and attach to corners").
    """
    begins = said[:5].casefold() == "when " or _phrases("handwork").match(said)
    return bool((begins and _asked("handwork").search(said)) or _trimmings().match(said))


@cache
def _trimmings() -> re.Pattern[str]:
    number = rf"(?:\d{{1,3}}|{either(number_words())}|{form_of('the')})"
    return re.compile(rf"{signs('make')}\s{number}\s{either(table('asides')['trimmings'])}\b", re.IGNORECASE)


def _lead(cur: Cursor) -> list[Step] | None:
    """ "as follows:", "thus:", "and work as follows." at the end of the row."""
    start = cur.at
    if not _takes(cur, "leads") or not (cur.is_mark(":", ",", "–", "-") or _ends(cur)):
        cur.at = start
        return None
    return _kept(cur, start)


def _ends(cur: Cursor) -> bool:
    """Whether nothing but a full stop is left of the row."""
    return cur.done or (cur.is_mark(".") and cur.at == len(cur.words) - 1)


def _result(cur: Cursor) -> list[Step] | None:
    """ "Thus forming 1 loop", "so as to form a picot with the last 4": up to the next mark, if nothing is asked for."""
    start = cur.at
    if not _takes(cur, "results"):
        return None
    first = cur.at
    while not (cur.done or cur.peek().kind in ("mark", "tog", "formula")):
        cur.at += 1
    said = cur.text(first, cur.at) if cur.at > first else ""
    if not said or not (cur.done or cur.peek().kind == "mark") or _asked("deeds").search(said) or asks_for_work(said):
        cur.at = start
        return None
    return _kept(cur, start)


def _choice(cur: Cursor) -> list[Step] | None:
    """ "If preferred, the rounds are closed with 1 single.", "the tip may be made longer": another way, up to the full
    stop. Where a stitch stands in it that running text leaves alone, it could not be written in the other system, and
    its effect stays unknown.
    """
    start = cur.at
    begins = begins_sentence(cur)
    chosen = _takes(cur, "choices")
    if not chosen and not (begins and _takes(cur, "subjects")):
        return None
    first = cur.at
    while not (cur.done or cur.is_mark(",", ".", ";")):
        cur.at += 1
    liked = cur.at > first and _asked("liked" if chosen else "permits").search(cur.text(first, cur.at))
    if liked and not begins and (cur.done or cur.is_mark(".")):
        return _kept(cur, start)
    while begins and liked and not (cur.done or cur.is_mark(".")):
        cur.at += 1
    told = cur.words[start : cur.at]
    if not (begins and liked) or any(word.kind in ("tog", "formula") for word in told):
        cur.at = start
        return None
    words = read_prose(" ".join(cur.text(start, cur.at).split()), cur.context.system, cur.context.specials)
    known = not any(map(untranslatable, told))
    cur.verbatim += not known
    return [Verbatim(words, known, cur.span(start))]


def _renames(cur: Cursor) -> list[Step] | None:
    """ ", or centre stitch": another name for the place just told."""
    start = cur.at
    if not cur.at or not cur.is_mark(",", ahead=-1) or not _takes(cur, "renaming"):
        return None
    first = cur.at
    while not (cur.done or cur.peek().kind in ("mark", "num", "tog", "formula")) and cur.at - first < _NAME:
        cur.at += 1
    said = cur.text(first, cur.at) if cur.at > first else ""
    names = cur.peek(-1).id in ("stitch", "space", "loop", "corner", "centre") or cur.peek(-1).kind == "stitch"
    if not said or not names or not (cur.done or cur.is_mark(",", ";", ".")) or _asked("deeds").search(said):
        cur.at = start
        return None
    return _kept(cur, start)


_NAME = 3
"""The most words of another name."""


def _purpose(cur: Cursor) -> list[Step] | None:
    start = cur.at
    if not _takes(cur, "purposes") and not (begins_sentence(cur) and _takes(cur, "openers")):
        return None
    first = cur.at
    while not cur.done and cur.peek().kind in _TOLD:
        cur.at += 1
    said = cur.text(first, cur.at) if cur.at > first else ""
    if not (cur.done or cur.peek().kind == "mark") or _deeds(said):
        cur.at = start
        return None
    return _kept(cur, start)


def _purposed(cur: Cursor) -> list[Step] | None:
    """ "The 3 dc in one are to widen; the others are made 1 in each st": what stitches told before are for, and behind
    it how those are made that are for nothing else.
    """
    start = cur.at
    if not begins_sentence(cur) or not cur.is_word("the"):
        return None
    while not (cur.done or cur.is_mark(".", ";")):
        cur.at += 1
    said = cur.text(start, cur.at)
    if not _are_for().search(said):
        cur.at = start
        return None
    if cur.is_mark(";"):
        cur.at += 1
        if not _takes(cur, "others"):
            cur.at -= 1
    while not (cur.done or cur.is_mark(".", ";")):
        cur.at += 1
    words = said_in_row(cur, start)
    if words is None:
        cur.at = start
        return None
    return [Verbatim(words, True, cur.span(start))]


@cache
def _are_for() -> re.Pattern[str]:
    words = table("asides")
    return re.compile(rf"\A[^.;]*\b{either(table('signs')['be'])}\s{either(words['purposes'])}\Z", re.IGNORECASE)


def _telling(cur: Cursor) -> list[Step] | None:
    """ "The rosette is then completed.": a whole sentence."""
    start = cur.at
    if not begins_sentence(cur) or not _takes(cur, "subjects"):
        return None
    comma = 0
    while not cur.done and not cur.is_mark(".", ";"):
        if cur.peek().kind not in (*_TOLD, "ord") and not cur.is_mark(",", "-", "–"):
            cur.at = start
            return None
        cur.at += 1
        comma = comma or (cur.at if cur.is_mark(",") else 0)
    if not _asked("verbs").search(cur.text(start, comma or cur.at)) or _deeds(cur.text(start, cur.at)):
        cur.at = start
        return None
    return _kept(cur, start)


def begins_sentence(cur: Cursor) -> bool:
    """Whether the position is at the beginning of the row or behind a full stop."""
    return cur.at == 0 or cur.ids[cur.at - 1] == "."


def _kept(cur: Cursor, start: int) -> list[Step]:
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def _takes(cur: Cursor, list_: str) -> bool:
    """Reads one of the phrases of a list, if one stands next."""
    return take_phrase(cur, _phrases(list_)) is not None


@cache
def _phrases(list_: str) -> re.Pattern[str]:
    return re.compile(rf"{either(table('asides')[list_])}\b", re.IGNORECASE)


def _deeds(said: str) -> bool:
    """Whether words of work or of what is worked stand among the words."""
    return bool(_asked("deeds").search(said) or _asked("things").search(said))


@cache
def _asked(list_: str) -> re.Pattern[str]:
    return re.compile(rf"\b{either(table('asides')[list_])}\b", re.IGNORECASE)
