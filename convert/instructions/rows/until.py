"""Reads how long rows are repeated: "until piece measures 20 cm", "until throw measures {width}"."""

from __future__ import annotations

import re

from convert.document.lengths import parse_length
from convert.document.steps import Until
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import listed

LENGTH = re.compile(r"(\d+(?:[.,]\d+)?\s*[¼½¾]?|[¼½¾])\s*(cm|mm|in(?:ch(?:es)?|s)?\b|\"|″|m\b)")
_TARGET = re.compile(r"\{\s*([A-Za-z][\w-]*)\s*\}")

_OTHER_WORK = ("turn", "fasten-off", "join", "skip")
_ON = ("then", "and")


def read_until(cur: Cursor) -> Until | None:
    """ "until piece measures 20 cm", "until throw measures {width}"."""
    start = cur.at
    if not cur.is_word("to", "for"):
        return None
    end = cur.at
    while end < len(cur.words) and not (cur.words[end].kind == "mark" and cur.words[end].id in (".", ";")):
        if _work_behind(cur, end):
            break
        end += 1
        if end < len(cur.words) and cur.words[end].id == "." and cur.words[end].glued and digit_behind(cur, end + 1):
            end += 1
    text = cur.passage.text[cur.words[start].start : cur.words[end - 1].end]
    if end == start + 1:
        return None
    target = _TARGET.search(text)
    found = LENGTH.search(text)
    length = parse_length(found.group(0)) if found else None
    open_ended = any(words in text.lower() for words in listed("desired_lengths"))
    if target is None and length is None and not (open_ended or says_until(cur)):
        return None
    cur.at = end
    return Until(length, target.group(1) if target else None, text)


def _work_behind(cur: Cursor, at: int) -> bool:
    """Whether a comma stands at `at`, and behind it what ends the last of the rows, or the work of another one."""
    if cur.words[at].id != ",":
        return False
    behind = cur.words[at + 1 : at + 4]
    behind = behind[behind[:1] != [] and behind[0].id in _ON :]
    if not behind:
        return False
    chains = behind[0].id == "ch" and len(behind) > 1 and behind[1].kind == "num"
    return behind[0].id in _OTHER_WORK or chains or [word.kind for word in behind[:2]] == ["num", "stitch"]


def says_until(cur: Cursor) -> bool:
    """Whether "until" stands at the position."""
    return cur.is_word("to") and cur.is_listed("until")


def digit_behind(cur: Cursor, at: int) -> bool:
    """Whether the word at `at` is a digit without a blank before it: the fraction of a decimal number."""
    return at < len(cur.words) and cur.words[at].kind == "num" and cur.words[at].glued
