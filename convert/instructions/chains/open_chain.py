"""Reads foundation chains whose length the maker chooses: "ch a multiple of 6 plus 2", "make a long enough chain",
"chain for the length required". Common practice, no source.
"""

from __future__ import annotations

from convert.document.steps import Begin, Start, Step
from convert.instructions.chains.chain_lengths import is_told_length, read_told_length
from convert.instructions.repeats.brackets import closing
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.phrases import takes_sign

_PLUS = "+"


def read_open_chain(cur: Cursor) -> list[Step] | None:
    """A chain of a multiple of stitches, of an even or odd number, or as long as it has to be."""
    if cur.peek().kind not in ("word", "stitch", "unknown"):
        return None
    start = cur.at
    cur.take_words("beginning", "work", "having", "with", "the", "in")
    before = cur.at
    on_it = cur.is_word("in", ahead=-1) or (cur.at > start + 1 and cur.is_word("in", ahead=-2))
    if cur.peek().kind != "word" and takes_sign(cur, "long_chain"):
        words = cur.text(before, cur.at)
        begin = Begin(Start.OPEN_CHAIN, words=words) if _takes_chain(cur) else None
    else:
        begin = read_told_length(cur) or (_counted(cur) if not on_it and _takes_chain(cur) else None)
    if begin is None:
        cur.at = start
        return None
    more = _words_behind(cur)
    said_ = ", ".join(words for words in (begin.words, more) if words)
    return [Begin(begin.start, begin.number, multiple=begin.multiple, words=said_, span=cur.span(start))]


def write_open_length(step: Begin) -> str:
    """The length behind "ch": "a multiple of 6 plus 2", "any number of sts (long enough for the cloth)"."""
    if is_told_length(step.words):
        return step.words
    plus = f" plus {step.number}" if step.number else ""
    length = f"a multiple of {step.multiple}{plus}" if step.multiple > 1 else "any number of sts"
    return f"{length} ({step.words})" if step.words else length


def _takes_chain(cur: Cursor) -> bool:
    """ "Ch", "foundation chain"; not "ch 6", whose length is told, and not "chains" in the middle of something else."""
    founded = cur.take_words("foundation-chain", "foundation-row") > 0
    headed = founded and cur.take_mark(":", "–", "-")
    if not founded or headed:
        chain = cur.peek().id == "ch" and cur.peek().kind == "stitch"
        if not (chain or headed):
            return False
        cur.at += chain
    return cur.peek().kind != "num" and not cur.is_mark("-")


def _counted(cur: Cursor) -> Begin | None:
    """What stands behind "ch" and tells its length, in a number of stitches or in words."""
    begin = _multiple(cur) or _any_number(cur)
    if begin is not None:
        return begin
    first = cur.at
    if takes_sign(cur, "open_lengths"):
        words = _behind_length(cur, first)
        found = _multiple_behind(cur)
        return Begin(Start.OPEN_CHAIN, found.number, multiple=found.multiple, words=words)
    if cur.is_listed("until"):
        _take_told(cur)
        return Begin(Start.OPEN_CHAIN, words=cur.text(first, cur.at)) if cur.at - first > 1 else None
    return None


def _multiple(cur: Cursor) -> Begin | None:
    """ "(of) a multiple of 6 + 2", "a number of sts divisible by 8, plus 3 more"."""
    start = cur.at
    cur.take_words("of", "with", "in", "having", "the")
    number = cur.take_kind("num") if takes_sign(cur, "multiples") else None
    if number is None or number.value < 1:
        cur.at = start
        return None
    _take_stitches(cur)
    more, words = 0, ""
    while (each := _plus(cur)) is not None or (each := _added(cur)) is not None:
        more += each[0]
        words = each[1] or words
    return Begin(Start.OPEN_CHAIN, more, multiple=number.value, words=words)


def _multiple_behind(cur: Cursor) -> Begin:
    """ "The desired length, in multiples of 6 plus 2"; any number where nothing of the kind is said."""
    start = cur.at
    in_brackets = cur.take_mark("(")
    cur.take_mark(",")
    found = _multiple(cur)
    if found is None or found.words or (in_brackets and not cur.take_mark(")")):
        cur.at = start
        return Begin(Start.OPEN_CHAIN)
    return found


def _plus(cur: Cursor) -> tuple[int, str] | None:
    """ "+ 2", "plus 3 sts", ", and 1 more for turning": so many chains, and what they are for."""
    start = cur.at
    cur.take_mark(",")
    signed = cur.take_mark(_PLUS) or cur.take_word("and")
    cur.take_words("the")
    first = cur.at
    number = cur.take_kind("num") if signed else None
    stitch = cur.peek().kind == "stitch" and cur.peek().id != "ch"
    if number is None or stitch or cur.is_mark("-"):
        cur.at = start
        return None
    _take_stitches(cur)
    cur.take_words("more")
    if not cur.is_word("for"):
        return number.value, ""
    _take_told(cur)
    return number.value, cur.text(first, cur.at)


def _added(cur: Cursor) -> tuple[int, str] | None:
    """ "(add 2 for the base chain)": more chains than the multiple that the stitches need."""
    end = closing(cur) if cur.is_mark("(") else None
    start = cur.at
    cur.at += 1
    number = cur.peek(1) if cur.is_listed("add") else cur.peek()
    if end is None or not takes_sign(cur, "add") or number.kind != "num":
        cur.at = start
        return None
    words = cur.text(cur.at, end)
    cur.at = end + 1
    return number.value, words


def _take_stitches(cur: Cursor) -> None:
    cur.take_words("stitch")
    if cur.peek().kind == "stitch" and cur.peek().id == "ch":
        cur.at += 1


def _any_number(cur: Cursor) -> Begin | None:
    """ "Of an even number of stitches", "any number of sts"."""
    start = cur.at
    cur.take_words("of", "with", "having", "the")
    for name, multiple, more in (("even_numbers", 2, 0), ("odd_numbers", 2, 1), ("any_numbers", 1, 0)):
        if takes_sign(cur, name):
            _take_stitches(cur)
            return Begin(Start.OPEN_CHAIN, more, multiple=multiple)
    cur.at = start
    return None


def _behind_length(cur: Cursor, first: int) -> str:
    """The words of the length, with what it is for: "the length required for the towel"."""
    if cur.is_word("for", "as") or cur.is_listed("as_long"):
        _take_told(cur)
    return cur.text(first, cur.at)


def _words_behind(cur: Cursor) -> str:
    """What stands in brackets behind the length, or what the chains besides the multiple are for."""
    start = cur.at
    if not cur.is_mark("("):
        return ""
    end = closing(cur)
    inside = cur.words[cur.at + 1 : end] if end is not None else []
    if not inside or any(word.id in ("counts-as", "not-counts") or word.kind == "tog" for word in inside):
        return ""
    counts = any(word.kind == "num" for word in inside)
    if counts and any(word.kind == "stitch" and word.id != "ch" for word in inside):
        return ""  # "(2 dc in each)"; one word alone may be none: "(long enough)"
    assert end is not None
    cur.at = end + 1
    return cur.text(start + 1, end)


def _take_told(cur: Cursor) -> None:
    """Reads on to the next mark, or to what is done next."""
    while not (cur.done or cur.peek().kind in ("mark", "tog", "formula") or cur.is_word("and", "then", "join")):
        if cur.peek().kind == "stitch" and cur.peek().id != "ch":
            return
        cur.at += 1
