"""Reads references to earlier rows: "rep Rnds 4 and 5 3 times more", "repeat last row until piece measures 20 cm"."""

from __future__ import annotations

import re

from convert.document.lengths import parse_length
from convert.document.numbers import Number
from convert.document.steps import Again, Step, Until
from convert.instructions.cursor import Cursor
from convert.instructions.repeats import read_times

_TARGET = re.compile(r"\{\s*([A-Za-z][\w-]*)\s*\}")


def read_again(cur: Cursor) -> list[Step] | None:
    """Earlier rows worked again; a relative reference ("last 2 rows") is negative, counted back from this row."""
    start = cur.at
    if not cur.take_words("repeat", "work", "as", "same"):
        if cur.peek().id != "like":
            return None
        cur.at += 1
    rows = _rows(cur)
    if rows is None:
        cur.at = start
        return None
    rounds = _rounds(cur, start)
    times: Number | None = None
    cur.take_mark(",")
    until = _until(cur)
    if until is None:
        found = read_times(cur)
        times = found[0] if found is not None else None
    return [Again(*rows, times, until, rounds=rounds, span=cur.span(start))]


def _rounds(cur: Cursor, start: int) -> bool | None:
    """Whether the words read since `start` speak of rounds or of rows."""
    for word in cur.words[start : cur.at]:
        if word.kind == "word" and word.id in ("row", "round"):
            return word.id == "round"
        if word.kind == "word" and word.id == "previous":
            text = word.text.lower()
            return True if "r" in text and ("rnd" in text or "round" in text) else False if "row" in text else None
    return None


def _rows(cur: Cursor) -> tuple[int, int] | None:
    """First and last of the rows named."""
    cur.take_words("the")
    if cur.is_word("last", "previous"):
        whole = cur.is_word("previous")
        cur.at += 1
        number = None if whole else cur.take_kind("num")
        if cur.take_words("row", "round") or whole:
            return (-number.value, -1) if number else (-1, -1)
        return None
    if cur.take_words("row", "round"):
        first = cur.take_kind("num")
    else:
        first = cur.take_kind("ord")
        if first is None:
            return None
        if cur.take_words("row", "round"):
            return first.value, first.value
    if first is None:
        return None
    last = first
    while cur.is_mark("-", "–", ",") or cur.is_word("and", "to"):
        start = cur.at
        cur.at += 1
        cur.take_words("and", "the")
        counted = cur.is_word("times", "more", ahead=1) or cur.is_mark("(", "[", ahead=1)
        further = None if counted else cur.take_kind("num") or cur.take_kind("ord")
        if further is None or further.value <= last.value:
            cur.at = start
            break
        last = further
    cur.take_words("row", "round")
    return first.value, last.value


def _until(cur: Cursor) -> Until | None:
    """ "until piece measures 20 cm", "until throw measures {width}"."""
    start = cur.at
    if not cur.is_word("to", "for"):
        return None
    end = cur.at
    while end < len(cur.words) and not (cur.words[end].kind == "mark" and cur.words[end].id in (".", ";")):
        end += 1
        if end < len(cur.words) and cur.words[end].id == "." and cur.words[end].glued and _digit(cur, end + 1):
            end += 1
    text = cur.passage.text[cur.words[start].start : cur.words[end - 1].end]
    target = _TARGET.search(text)
    found = re.search(r"(\d+(?:[.,]\d+)?\s*[¼½¾]?|[¼½¾])\s*(cm|mm|in(?:ch(?:es)?|s)?\b|\"|″|m\b)", text)
    length = parse_length(found.group(0)) if found else None
    open_ended = any(
        word in text.lower() for word in ("desired length", "as long as", "required length", "length desired")
    )
    if target is None and length is None and not open_ended:
        return None
    cur.at = end
    return Until(length, target.group(1) if target else None, text)


def _digit(cur: Cursor, at: int) -> bool:
    return at < len(cur.words) and cur.words[at].kind == "num" and cur.words[at].glued
