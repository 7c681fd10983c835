"""Reads stitches told back along a chain: "6 chain, miss 1, working back over the next 5, 1 dc, 3 tr, 1 dtr", and words
that only lead to them: "ch 6, working back along ch, sc in 2nd ch from hook".
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.steps import Chain, Origin, Place, Step, Verbatim, What, Which, Work
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.numbers import read_number
from convert.instructions.words.phrases import take_phrase, takes_sign
from convert.trade.patterns import chain, listed, said, signs


def worked_back(cur: Cursor, items: list[Item]) -> list[Step] | None:
    """The stitches behind a chain of so many, one into each of the others; nothing is read where they are not as many
    as the words tell, or more than the chain has.
    """
    chain = items[-1] if items else None
    led = _led(cur) if isinstance(chain, Chain) and not chain.skipped else None
    if led is not None:
        return led
    if not isinstance(chain, Chain) or not isinstance(chain.number, int) or chain.skipped or not _begins(cur):
        return None
    start, stitch = cur.at, cur.stitch
    passed = _passed(cur)
    told = _others(cur) if passed else None
    steps = _along(cur, told, passed + 1) if told is not None and passed + told <= chain.number else None
    if steps is None:
        cur.at, cur.stitch = start, stitch
    return steps


def _led(cur: Cursor) -> list[Step] | None:
    """ "Ch 7, working back along the chain: sc in 2nd ch from hook": words between a chain and the stitches that go
    back along it, which say so themselves.
    """
    start = cur.at
    if take_phrase(cur, _along_chain()) is None:
        return None
    words = cur.text(start, cur.at)
    end = cur.at
    cur.take_mark(":", ",")
    ahead = cur.words[cur.at : cur.at + _NEAR]
    if cur.at == end and cur.peek().kind not in ("stitch", "num"):
        ahead = []
    if not any(word.id == "hook" for word in ahead):
        cur.at = start
        return None
    return [Verbatim((words,), True, cur.span(start))]


@cache
def _along_chain() -> re.Pattern[str]:
    made = rf"(?:\s(?:{signs('just_now')}\s)?{signs('just_made')})?"
    noun = rf"(?:{said('the')}\s)?{chain()}(?:[\s-]{said('stitch')})?{made}"
    return re.compile(rf"{signs('along_leads')}\s{signs('along_ways')}\s{noun}\b", re.IGNORECASE)


def _begins(cur: Cursor) -> bool:
    return cur.is_word("skip") and any(word.text.lower() in _back() for word in cur.words[cur.at : cur.at + _NEAR])


_NEAR = 12
"""So far behind the chain that is passed stand the words that tell the way at most."""


@cache
def _back() -> frozenset[str]:
    return frozenset(form.split()[-1] for form in listed("work_back"))


def _passed(cur: Cursor) -> int:
    """ "Miss the last", "miss 2": how many chains at the hook are passed."""
    cur.at += 1
    if cur.take_words("the", "last") and cur.is_word("last", ahead=-1):
        return 1
    number = read_number(cur) if cur.peek().kind == "num" else None
    return number if isinstance(number, int) else 0


def _others(cur: Cursor) -> int | None:
    """ "Work back on the other 5", "working back over the following 8 sts": how many chains are worked into."""
    cur.take_mark(",")
    cur.take_words("and", "then")
    if not takes_sign(cur, "work_back") or not cur.take_words("in", "across"):
        return None
    cur.take_words("the", "other", "next", "remaining")
    number = read_number(cur) if cur.peek().kind == "num" else None
    if cur.peek().id == "ch":
        cur.at += 1
    cur.take_words("stitch")
    cur.take_mark(",", ":")
    return number if isinstance(number, int) else None


def _along(cur: Cursor, told: int, first: int) -> list[Step] | None:
    """So many stitches one by one, the first into that chain from the hook."""
    steps: list[Step] = []
    left, end = told, cur.at
    while left:
        found = read_work(cur, grouped=True)
        one = found[0] if found is not None and len(found) == 1 else None
        if not isinstance(one, Work) or one.place is not None or not isinstance(one.each, int) or one.each > left:
            return None
        steps += _placed(one, first if left == told else 0)
        left -= one.each
        end = cur.at
        cur.take_mark(",")
        cur.take_words("and", "then")
    cur.at = end
    return steps


def _placed(one: Work, first: int) -> list[Step]:
    """The stitches with their chains; `first` is which chain from the hook the first of all goes into, or 0."""
    more = one.each if isinstance(one.each, int) else 1
    steps: list[Step] = []
    if first:
        steps.append(Work(one.stitch, 1, Place(What.CHAIN, Which.NTH, nth=first, origin=Origin.HOOK), span=one.span))
        more -= 1
    if more:
        steps.append(Work(one.stitch, 1, Place(What.CHAIN, number=more), span=one.span))
    return steps
