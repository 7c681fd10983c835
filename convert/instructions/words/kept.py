"""Keeps what no reader understands in the author's words, and the marks that only decorate."""

from __future__ import annotations

import unicodedata

from convert.document.steps import Verbatim
from convert.instructions.repeats.repeat import is_sign
from convert.instructions.stitches.motion_runs import take_motions
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.remarks import is_fastened, is_inert


def is_ornament(cur: Cursor) -> bool:
    """Whether the mark at the position only decorates: an emoji, a star."""
    word = cur.peek()
    return word.kind == "mark" and all(unicodedata.category(char) in _DECORATING for char in word.text)


def read_ornament(cur: Cursor) -> Verbatim:
    """The decorating marks at the position, as they stand."""
    start = cur.at
    while is_ornament(cur):
        cur.at += 1
    return Verbatim((cur.text(start, cur.at),), True, cur.span(start))


_DECORATING = ("So", "Sk", "Cf", "Mn", "Cn")
"""What emoji are made of: symbols, modifiers, joiners, variation selectors."""

_ORNAMENT = 8
"""Signs without a letter, no more than this, are ornaments: an emoji, a row of dots."""


def keep(cur: Cursor, closer: str) -> Verbatim:
    """The words up to the next comma, semicolon or full stop outside brackets, kept as they stand."""
    start = cur.at
    take_motions(cur)
    depth = 0
    while not cur.done:
        word = cur.peek()
        if word.kind == "mark":
            ends = word.id in ",;." or word.id == closer or _is_long_dash(cur)
            if depth == 0 and cur.at > start and ends:
                break
            if word.id in "([{":
                depth += 1
            elif word.id in ")]}":
                if depth == 0:
                    break
                depth -= 1
        if cur.at > start and depth == 0 and _instruction_begins(cur):
            break
        cur.at += 1
    if cur.at == start:
        cur.at += 1
    text = cur.text(start, cur.at)
    ornament = len(text) <= _ORNAMENT and not any(char.isalnum() for char in text)
    inert = ornament or is_inert(text) or _is_purpose(cur, start) or (_begins(cur, start) and is_fastened(text))
    cur.clauses += 1
    cur.verbatim += 0 if inert else 1
    return Verbatim((text,), inert, cur.span(start))


def _begins(cur: Cursor, start: int) -> bool:
    """Whether the words begin a sentence."""
    return start == 0 or cur.words[start - 1].id == "."


def _is_long_dash(cur: Cursor) -> bool:
    """Whether two dashes stand there, as typewriters write a long one."""
    return cur.is_mark("-", "–") and cur.is_mark("-", "–", ahead=1)


def _instruction_begins(cur: Cursor) -> bool:
    """Whether words that are kept end here without a comma: at a mark, "rep from", "attach", "work 3 sc"."""
    if is_sign(cur) or cur.is_word("attach"):
        return True
    if cur.is_word("repeat"):
        return cur.is_word("from", ahead=1)
    if cur.is_word("go-on"):
        return cur.is_word("manner", ahead=1)
    return cur.is_word("work") and (cur.peek(1).kind == "num" and cur.peek(2).kind == "stitch")


_HOW_FAR = ("remaining", "next", "last", "each", "row", "round", "end", "previous", "around", "across", "more")


def _is_purpose(cur: Cursor, start: int) -> bool:
    """Whether the words tell what for, and neither how long nor how many: "for picot", "for the back of the neck"."""
    words = cur.words[start : cur.at]
    if words[0].id != "for" or words[0].kind != "word":
        return False
    return not any(w.kind in ("num", "ord") or (w.kind == "word" and w.id in _HOW_FAR) for w in words)
