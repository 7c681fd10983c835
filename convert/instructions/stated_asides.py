"""Reads what stands in a count beside its figures: "now", "at end of rnd", groups told by their stitches, and whether
the beginning chain is among the stitches.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Counts
from convert.instructions.cursor import Cursor
from convert.instructions.phrases import take_phrase
from convert.trade.patterns import articles, chain, chain_length, said, signs


def take_aside(cur: Cursor) -> None:
    """ "(now 18 sts)", "(18 sts at end of rnd)": words of no weight."""
    take_phrase(cur, _aside())


@cache
def _aside() -> re.Pattern[str]:
    return re.compile(signs("count_asides") + r"\b", re.IGNORECASE)


def read_among(cur: Cursor) -> Counts | None:
    """ "(12 dc including ch-3)", "(24 hdc, not counting ch 2)": what the beginning chain counts as, at the end of a
    count; None where nothing is said of it.
    """
    for which, counts in (("counting", Counts("st")), ("not_counting", Counts())):
        if take_phrase(cur, _counted(which)):
            return counts
    return None


@cache
def _counted(which: str) -> re.Pattern[str]:
    begins = rf"(?:{said('beginning')}|{said('turning-chain')}|{said('beginning-chain')})"
    length = rf"(?:{chain_length()}|{chain()})"
    named = rf"(?:{begins}(?:\s{length})?|{length})"
    return re.compile(rf"{signs(which)}\s{articles()}{named}(?=\s?[)\]}}])", re.IGNORECASE)


def take_groups_of(cur: Cursor) -> bool:
    """Reads "3-dc groups": groups told by their stitches."""
    behind = 2 if cur.is_mark("-", ahead=1) else 1
    stitch = cur.peek(behind)
    if cur.peek().kind != "num" or stitch.kind != "stitch" or stitch.id == "ch":
        return False
    behind += 1 + cur.is_mark("-", ahead=behind + 1)
    if not cur.is_word("group", ahead=behind):
        return False
    cur.at += behind + 1
    return True


def take_size_of_group(cur: Cursor) -> None:
    """Reads "of 3 dc" behind "6 groups"."""
    if cur.is_word("of") and cur.peek(1).kind == "num" and cur.peek(2).kind == "stitch":
        cur.at += 3
