"""Reads what chains stand for: "(counts as dc)", "(3 skipped chs count as dc)", "for first tr"."""

from __future__ import annotations

import re
from functools import cache
from itertools import islice, takewhile

from msgspec.structs import replace

from convert.document.steps import Chain, Counts, Origin, Work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Item
from convert.instructions.words.phrases import take_phrase
from convert.trade.patterns import signs
from convert.trade.stitches import stitches

_COUNTING = frozenset({"counts-as", "not-counts", "as-first", "for", "total-of", "="})
"""Where a row holds none of these words, it does not tell what a chain counts as."""


def read_counts(cur: Cursor) -> Counts | None:
    """What a beginning chain stands for, in brackets or behind a comma."""
    if cur.holds.isdisjoint(_COUNTING):
        return None
    start = cur.at
    bracket = ")" if cur.take_mark("(") else "]" if cur.take_mark("[") else ""
    if not bracket and not cur.is_word("for"):
        cur.take_mark(",", "–", "-") or _takes_sentence(cur)
    cur.take_words("the", "throughout")
    while cur.take_listed("which_counts"):  # "which counts as", "this will count as"
        pass
    _chain_words(cur)
    counts = _counts(cur)
    if counts is None:
        cur.at = start
        return None
    cur.take_mark(",")
    cur.take_words("throughout", "the")
    if bracket and not cur.is_mark(bracket):
        take_phrase(cur, scope())
    if bracket and not cur.take_mark(bracket):
        cur.at = start
        return None
    return counts


def _takes_sentence(cur: Cursor) -> bool:
    """Reads the full stop of "Ch 3. This counts as your first dc.", where the next sentence tells so and no more."""
    sentence = takewhile(lambda word: word.id != ".", cur.words[cur.at + 1 :])
    counts = cur.is_mark(".") and any(word.id in ("counts-as", "not-counts") for word in islice(sentence, _FEW))
    cur.at += counts
    return counts


_FEW = 5
"""How soon in a sentence it says so."""


@cache
def scope() -> re.Pattern[str]:
    """For which rows it holds: "here or in any round that follows". Common practice, no source."""
    return re.compile(rf"{signs('scope_heads')}(?:\s{signs('scope_words')})+\b", re.IGNORECASE)


def _counts(cur: Cursor) -> Counts | None:
    if cur.take_words("not-counts"):
        cur.take_words("the", "any")
        cur.take_words("stitch") or cur.take_kind("stitch")
        return Counts()
    if not (cur.take_words("counts-as", "as-first") or _equals(cur)):
        return _first_made(cur)
    cur.take_words("the")
    cur.take_kind("ord")
    if cur.peek().kind == "num" and cur.peek().value == 1:
        cur.at += 1
    cur.take_words("the")
    if cur.is_word("stitch"):
        cur.at += 1
        return Counts("st", _and_chains(cur))
    stitch = cur.take_kind("stitch")
    if stitch is None:
        return None
    cur.take_words("stitch")
    return Counts(stitch.id, _and_chains(cur))


def _equals(cur: Cursor) -> bool:
    """The sign of "ch 3 (= dc)", "ch 3 [= 1 dc]", "(skipped chs = 1 dc)"; not that of a stated count."""
    named = cur.peek(-1).id == "ch" or cur.is_word("beginning-chain", "turning-chain", ahead=-1)
    numbered = cur.peek(-1).kind == "num" and (cur.peek(-2).id == "ch" or cur.peek(-3).id == "ch")
    return (cur.is_mark("(", "[", ahead=-1) or named or numbered) and cur.take_mark("=")


def _first_made(cur: Cursor) -> Counts | None:
    """ "(first dc made)", "for first dc", "for a dc": the chain is the first stitch."""
    start = cur.at
    if cur.take_word("for") and cur.take_words("the"):
        stitch = cur.take_kind("stitch")
        entry = stitches().get(stitch.id) if stitch is not None else None
        if stitch is not None and entry is not None and entry.counts:
            return Counts(stitch.id)
        cur.at = start
    cur.take_words("for", "the")
    first = cur.take_kind("ord")
    stitch = cur.take_kind("stitch")
    made = cur.take_words("total-of") > 0
    said_for = any(w.id == "for" for w in cur.words[start : cur.at])
    if first is None or first.value != 1 or stitch is None or not (made or said_for):
        cur.at = start
        return None
    return Counts(stitch.id)


def _and_chains(cur: Cursor) -> int:
    """The chains in "counts as dc and ch 1", "dc + 2 ch", "dc, ch-1 sp"."""
    start = cur.at
    if cur.take_mark("+", ",") or cur.take_words("and", "with"):
        cur.take_words("and", "the")
        lexeme = cur.peek()
        if lexeme.kind == "stitch" and lexeme.id == "ch":
            cur.at += 1
            cur.take_mark("-")
            number = cur.take_kind("num")
            cur.take_mark("-")
            cur.take_words("space", "loop")
            return number.value if number else 1
        if lexeme.kind == "num" and cur.peek(2 if cur.is_mark("-", ahead=1) else 1).id == "ch":
            cur.at += 3 if cur.is_mark("-", ahead=1) else 2
            cur.take_mark("-")
            cur.take_words("space", "loop")
            return lexeme.value
    cur.at = start
    return 0


def counted_behind(cur: Cursor, items: list[Item]) -> bool:
    """Gives the row's last chain what a bracket behind it says it counts as, if that is what the bracket says.

    Directly behind the chain that is "(counts as dc)"; further on it must name the chain: "(3 skipped chs count
    as dc)".
    """
    start = cur.at
    if _behind_first_stitch(cur, items):
        return True
    at = next((i for i in range(len(items) - 1, -1, -1) if isinstance(items[i], Chain)), None)
    step = items[at] if at is not None else None
    if at is None and items:
        return _skipped_chains(cur, items)
    if at is None or not isinstance(step, Chain) or step.counts is not None:
        return False
    if at < len(items) - 1 and not _names_chain(cur):
        return False
    counts = read_counts(cur)
    if counts is None:
        cur.at = start
        return False
    items[at] = replace(step, counts=counts)
    return True


def told_of_chain(cur: Cursor, items: list[Item]) -> bool:
    """Gives the chain that began the row what a later sentence says of it: "The ch 2 does not count as a stitch."."""
    at = next((i for i, item in enumerate(items) if isinstance(item, Chain)), None)
    chain = items[at] if at is not None else None
    if cur.holds.isdisjoint(_SAID_OF_IT) or not isinstance(chain, Chain) or chain.counts is not None or at is None:
        return False
    start = cur.at
    cur.take_words("the")
    begun = cur.take_words("beginning", "beginning-chain", "turning-chain") > 0
    named = cur.peek().id == "ch"
    cur.at += named
    cur.take_mark("-")
    number = cur.take_kind("num")
    meant = (begun or named) and (number is None or number.value == chain.number)
    counts = _counts(cur) if meant and cur.is_word(*_SAID_OF_IT) else None
    if counts is None or not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return False
    items[at] = replace(chain, counts=counts, span=chain.span)
    return True


_SAID_OF_IT = ("counts-as", "not-counts")


def _behind_first_stitch(cur: Cursor, items: list[Item]) -> bool:
    """ "Dc in 4th ch from hook (counts as dc)": the chains that the first stitch skips are meant, not the stitch."""
    at = next((i for i in (len(items) - 1, len(items) - 2) if i >= 0 and _from_hook(items[i])), None)
    first = items[at] if at is not None else None
    if at is None or not isinstance(first, Work) or first.place is None:
        return False
    start = cur.at
    skipped = (first.place.nth or 1) - 1
    before = items[at - 1] if at else None
    counts = (_with_first(cur) or read_counts(cur)) if skipped else None
    if counts is None or (isinstance(before, Chain) and before.counts is not None):
        cur.at = start
        return False
    if isinstance(before, Chain):
        items[at - 1] = replace(before, counts=counts, span=before.span.to(cur.span(start)))
    else:
        items.append(Chain(skipped, counts, skipped=True, span=cur.span(start)))
    return True


def _with_first(cur: Cursor) -> Counts | None:
    """ "Dc in 4th ch from hook (counts as 2 dc)": the chains and the stitch together are two."""
    start = cur.at
    bracket = cur.take_mark("(", "[")
    counted = cur.take_words("the", "counts-as") > 0 and cur.is_word("counts-as", ahead=-1)
    number = cur.take_kind("num") if bracket and counted else None
    cur.take_words("the", "first")
    stitch = cur.take_kind("stitch") if number is not None and number.value == 2 else None
    if stitch is None or not cur.take_mark(")", "]"):
        cur.at = start
        return None
    return Counts(stitch.id)


def _from_hook(item: Item) -> bool:
    return isinstance(item, Work) and item.place is not None and item.place.origin is Origin.HOOK


def _skipped_chains(cur: Cursor, items: list[Item]) -> bool:
    """ "(3 skipped chs count as dc)" where the foundation chain stands in an earlier row."""
    start = cur.at
    number = next((w.value for w in cur.words[start + 1 : start + 5] if w.kind == "num"), None)
    if number is None or not _names_chain(cur):
        return False
    counts = read_counts(cur)
    if counts is None:
        cur.at = start
        return False
    items.append(Chain(number, counts, skipped=True, span=cur.span(start)))
    return True


def _names_chain(cur: Cursor) -> bool:
    """Whether the bracket at the position speaks of chains: "(first 3 ch count as ...", "(beg ch-3 counts ..."."""
    return any(w.id == "ch" or w.id in ("beginning-chain", "turning-chain") for w in cur.words[cur.at + 1 : cur.at + 6])


def _chain_words(cur: Cursor) -> None:
    """The words that name the chain: "3 skipped chs", "first 3 ch", "beg ch-3", "turning ch"."""
    start = cur.at
    cur.take_words("the", "skip", "beginning")
    cur.take_kind("ord")
    cur.take_kind("num")
    cur.take_words("the", "skip", "beginning")
    cur.take_kind("num")
    if cur.take_words("beginning-chain", "turning-chain") or (cur.peek().kind == "stitch" and cur.peek().id == "ch"):
        if cur.peek().id == "ch":
            cur.at += 1
        cur.take_mark("-")
        cur.take_kind("num")
        cur.take_words("stitch")
        if cur.is_word("counts-as", "as-first", "not-counts") or cur.is_mark("="):
            return
    cur.at = start
