"""Reads places that the row has passed: "dc in skipped st", "tr in first skipped st", "in st just skipped"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import Place, What, Which
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign
from convert.trade.words import words

PASSED = "passed"
"""What is said of each of the places that were passed, no number of them being told: "dc in each skipped st"."""
_SO_FAR = (None, Which.NEXT, Which.FIRST, Which.NTH)


def read_passed_at_join(cur: Cursor) -> Place | None:
    """ "1 dc back in where you fastened in": the stitch where the yarn was joined, which the row has passed since."""
    if "back_to" not in cur.begun:
        return None
    start = cur.at
    if cur.peek().kind != "unknown" or not takes_sign(cur, "back_to"):
        return None
    if takes_sign(cur, "joined_at"):
        return Place(What.STITCH, Which.SKIPPED, nth=1, span=cur.span(start))
    cur.at = start
    return None


def takes_passed(cur: Cursor) -> bool:
    """Reads "skipped", "missed" in front of a noun."""
    if not cur.is_word("skip"):
        return False
    passed = words()["skipped"]
    if cur.peek().text.lower() not in (passed.us, passed.uk):
        return False
    cur.at += 1
    return True


def passed_behind(cur: Cursor) -> bool:
    """Reads "just skipped", "skipped" behind a noun, at the end of the clause."""
    if "skip" not in cur.holds:
        return False
    start = cur.at
    cur.take_listed("just_now")
    if takes_passed(cur) and (cur.done or cur.peek().kind == "mark"):
        return True
    cur.at = start
    return False


def _take_row_below(cur: Cursor) -> int:
    """ "Of row below", "of starting ch", "1 row below": how much further down the places lie that the last row passed;
    0 if no such words stand there.
    """
    start = cur.at
    number = cur.take_kind("num")
    if number is not None:
        if cur.take_words("row", "round") and cur.take_words("below"):
            return number.value
    elif cur.take_words("of", "in", "the"):
        if cur.take_words("previous", "beginning-chain", "foundation-chain"):
            return 1
        if cur.take_words("last", "row", "round", "below") > 1 and cur.is_word("below", "row", "round", ahead=-1):
            return 1
    cur.at = start
    return 0


def passed(cur: Cursor, place: Place, which: Which | None, number: Number | None, nth: int | None) -> Place | None:
    """The place as one that this row has passed, or the last one ("skipped st of row below"); None where it is not told
    which of them, or words behind it speak of another row.
    """
    below = _take_row_below(cur)
    if below:
        alone = which in (None, Which.NEXT) and nth is None and place.what is What.STITCH and place.which is Which.NEXT
        return replace(place, which=Which.SKIPPED, number=number or 1, below=below) if alone else None
    ends = cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then", "around", "across")
    if not ends or place.which is not Which.NEXT:
        return None
    if which in (Which.EACH, Which.ANY) and number is None and nth is None and place.what is What.STITCH:
        cur.take_words("around", "across")
        return replace(place, which=which, words=PASSED)
    if which not in _SO_FAR:
        return None
    one = 1 if which is Which.FIRST and number is None else nth
    return Place(place.what, Which.SKIPPED, 1 if number is None else number, of=place.of, chains=place.chains, nth=one)
