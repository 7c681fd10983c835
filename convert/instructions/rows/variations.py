"""How rows that are worked again differ this time: "but having ch 4 between shells", "with 3 loops across each point".

The words are kept in the document as they stand; here they are told as what changes in the rows referred to. What is
read is common practice of pattern writers, no source.
"""

from __future__ import annotations

from msgspec import Struct

from convert.document.prose import Prose
from convert.document.records import Special, TermSystem
from convert.document.steps import Step, Which
from convert.instructions.rows.every import EveryInstead, EveryMore, read_every
from convert.instructions.rows.variation_ends import (
    EndingInstead,
    TimesInstead,
    read_ending_instead,
    read_times_instead,
)
from convert.instructions.stitches.groups import up_to_place
from convert.instructions.words.cursor import Context, Cursor
from convert.instructions.words.lexicon import lexemes
from convert.source import Passage
from convert.terms.naming import write_prose
from convert.trade.patterns import listed


class ChainsBetween(Struct, frozen=True):
    """Chains of another length between two kinds of stitch, or two stitches of one kind."""

    chains: int
    stitches: frozenset[str]


class ChainsInstead(Struct, frozen=True):
    """Chains of one length in place of chains of another."""

    chains: int
    instead_of: int


class MoreChains(Struct, frozen=True):
    """Every loop longer by so many chains; in the next such row by as many again."""

    chains: int


class LoopsAcross(Struct, frozen=True):
    """So many loops in all in each stretch of them."""

    loops: int


class FewerLoops(Struct, frozen=True):
    """So many loops fewer in each stretch of them; in the next such row fewer by as many again."""

    loops: int


class ChainsAround(Struct, frozen=True):
    """Chains of another length on both sides of each such group."""

    chains: int
    stitch: str


class ChainsEach(Struct, frozen=True):
    """One length for the chains of every loop."""

    chains: int


class GroupInstead(Struct, frozen=True):
    """Other stitches in each group of that name."""

    steps: tuple[Step, ...]
    stitch: str


class MoreBesideCenter(Struct, frozen=True):
    """So many more stitches on either side of the middle; in the next such row as many again."""

    stitches: int


Variation = (
    EveryInstead
    | EveryMore
    | MoreBesideCenter
    | ChainsBetween
    | ChainsInstead
    | ChainsAround
    | ChainsEach
    | GroupInstead
    | MoreChains
    | LoopsAcross
    | FewerLoops
    | TimesInstead
    | EndingInstead
)

_OPENERS = ("but", "having", "with", "work")
_ABOUT = ("loop", "space", "piece", "in", "of", "across", "around", "each", "next", "the", "row", "round", "stitch")


def variations(words: Prose, specials: tuple[Special, ...] = ()) -> tuple[Variation, ...]:
    """Every change that the words tell; none where a part of them tells something else.

    >>> variations(("but having 3 loops across each point",))
    (LoopsAcross(loops=3),)
    """
    text = write_prose(words, TermSystem.US, specials)
    found = lexemes(text, TermSystem.US, specials)
    cur = Cursor(Passage.at(text, 0, 0), found, Context(TermSystem.US, specials))
    cur.take_mark(",")
    told: list[Variation] = []
    while not cur.done:
        cur.take_words(*_OPENERS)
        one = _one(cur)
        if one is None:
            return ()
        told.append(one)
        behind = cur.at
        cur.take_mark(",")
        cur.take_words("and")
        if cur.at == behind and behind < len(cur.words):
            return ()
    return tuple(told)


def _one(cur: Cursor) -> Variation | None:
    further = (read_every, _between, _instead, _around, _each_loop, _group, _loops, _beside_center)
    for reader in (read_times_instead, read_ending_instead, *further):
        found = reader(cur)
        if found is not None:
            return found
    return None


def _chains(cur: Cursor) -> int | None:
    """ "ch 4", "ch-4", "4 ch": a number of chains."""
    start = cur.at
    number = cur.take_kind("num")
    if cur.peek().kind != "stitch" or cur.peek().id != "ch":
        cur.at = start
        return None
    cur.at += 1
    if number is None:
        cur.take_mark("-")
        number = cur.take_kind("num")
    if number is None:
        cur.at = start
    return number.value if number is not None else None


def _between(cur: Cursor) -> Variation | None:
    """ "ch 4 between shells and tr", "ch 2 between each shell"."""
    start = cur.at
    chains = _chains(cur)
    if chains is None or not cur.take_words("between"):
        cur.at = start
        return None
    kinds: set[str] = set()
    while len(kinds) < 2:
        behind = cur.at
        if kinds and not cur.take_words("and"):
            break
        cur.take_words("each", "the", "between")
        stitch = cur.take_kind("stitch")
        if stitch is None or stitch.id == "ch":
            cur.at = behind
            break
        kinds.add(stitch.id)
        cur.take_words("stitch")
    if not kinds:
        cur.at = start
        return None
    return ChainsBetween(chains, frozenset(kinds))


def _instead(cur: Cursor) -> Variation | None:
    """ "ch 5 instead of ch 4"."""
    start = cur.at
    chains = _chains(cur)
    if chains is not None and cur.take_words("instead"):
        other = _chains(cur)
        if other is not None:
            return ChainsInstead(chains, other)
    cur.at = start
    return None


def _around(cur: Cursor) -> Variation | None:
    """ "ch 3 before and after each shell"."""
    start = cur.at
    chains = _chains(cur)
    sides = {cur.peek().text.lower(), cur.peek(2).text.lower()} if cur.is_word("and", ahead=1) else set()
    if chains is not None and sides == listed("both_sides"):
        cur.at += 3
        cur.take_words("each", "the")
        stitch = cur.take_kind("stitch")
        if stitch is not None and stitch.id != "ch":
            return ChainsAround(chains, stitch.id)
    cur.at = start
    return None


def _each_loop(cur: Cursor) -> Variation | None:
    """ "5 chs in each loop"."""
    start = cur.at
    chains = _chains(cur)
    if chains is not None and cur.take_words("in") and cur.take_words("each") and cur.take_words("loop", "space"):
        return ChainsEach(chains)
    cur.at = start
    return None


def _group(cur: Cursor) -> Variation | None:
    """ "3 tr, 2 dtr, 3 tr with ch 2 between in each shell"."""
    start = cur.at
    found = up_to_place(cur)
    place = found[1] if found is not None else None
    if found is None or place is None or place.which is not Which.EACH or place.of is None or place.words:
        cur.at = start
        return None
    return GroupInstead(tuple(found[0]), place.of)


def _loops(cur: Cursor) -> Variation | None:
    """ "3 loops across each point", "1 loop less on each row", "one more chain in each loop"."""
    start = cur.at
    number = cur.take_kind("num")
    if number is None:
        return None
    more = cur.take_words("more") > 0
    chains = cur.peek().kind == "stitch" and cur.peek().id == "ch"
    if chains:
        cur.at += 1
        more = cur.take_words("more") > 0 or more
    fewer = cur.take_words("fewer") > 0
    noun = chains or cur.take_words("loop", "space") > 0
    fewer = cur.take_words("fewer") > 0 or fewer
    _pass_about(cur)
    if not noun or (chains and (fewer or not more)) or (not chains and more):
        cur.at = start
        return None
    if chains:
        return MoreChains(number.value)
    return FewerLoops(number.value) if fewer else LoopsAcross(number.value)


def _pass_about(cur: Cursor) -> None:
    """Passes the words that tell where the loops are: "across each point", "on each following row"."""
    while cur.is_word(*_ABOUT) or cur.peek().kind == "unknown":
        cur.at += 1


def _beside_center(cur: Cursor) -> MoreBesideCenter | None:
    """ "1 extra sc on each side of center (, each row)"."""
    start = cur.at
    number = cur.take_kind("num")
    more = cur.take_words("more") > 0
    if not more and cur.is_listed("besides"):
        cur.at += 1
        more = True
    cur.take_kind("stitch")
    cur.take_words("stitch")
    cur.take_words("in")
    sides = cur.take_words("each") > 0 and cur.take_words("side-of") > 0
    middle = sides and cur.take_words("the", "centre", "stitch", "increase") > 0
    if number is None or not more or not middle:
        cur.at = start
        return None
    behind = cur.at
    cur.take_mark(",")
    cur.take_words("in")
    if not (cur.take_words("each") and cur.take_words("row", "round")):
        cur.at = behind
    return MoreBesideCenter(number.value)
