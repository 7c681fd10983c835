"""Reads the nouns of a place that take several words: chains, chain spaces, and the loops of a stitch."""

from __future__ import annotations

from convert.document.steps import Loops, Place, What
from convert.instructions.places.which import SPACES
from convert.instructions.words.cursor import Cursor

LOOPS = {
    "back-loop": Loops.BACK,
    "front-loop": Loops.FRONT,
    "both-loops": Loops.BOTH,
    "third-loop": Loops.THIRD,
    "back-bump": Loops.BUMP,
    "front-post": Loops.FRONT_POST,
    "back-post": Loops.BACK_POST,
}
"""The loops and posts by their words."""


_SAID_OF_LOOPS = frozenset({*LOOPS, "post", "loop"})
"""A row that holds none of these words names no loops of stitches."""


def read_loops(cur: Cursor) -> Loops | None:
    """Which loops of a stitch are meant ("BLO", "back loop of", "front post of"), if it is said at the position."""
    if cur.holds.isdisjoint(_SAID_OF_LOOPS):
        return None
    start = cur.at
    cur.take_words("the")
    lexeme = cur.peek()
    if lexeme.kind == "word" and lexeme.id in LOOPS:
        cur.at += 1
        cur.take_words("only", "of", "in")
        return LOOPS[lexeme.id]
    if lexeme.kind == "word" and lexeme.id == "post":
        cur.at += 1
        cur.take_words("of")
        return Loops.FRONT_POST
    if lexeme.kind == "ord" and _third_loop(cur):
        return Loops.THIRD
    cur.at = start
    return None


def read_bare_loops(cur: Cursor) -> Loops | None:
    """ "5 sc in BLO", "sc BLO": the loops alone, behind the stitch, with no place named."""
    if cur.holds.isdisjoint(_SAID_OF_LOOPS):
        return None
    start = cur.at
    cur.take_words("in", "through")
    loops = read_loops(cur)
    up_to = cur.is_word("to") and cur.is_word("last", "end", "next", "marker", "the", ahead=1)  # "sc blo to last st"
    if loops is None or not (up_to or cur.done or (cur.peek().kind == "mark" and not cur.is_mark("-", "*"))):
        cur.at = start
        return None
    return loops


_THIRD = 3


def _third_loop(cur: Cursor) -> bool:
    """ "3rd loop of each st", "3rd lp around": the bar behind the two loops. A third loop of anything else is a
    space.
    """
    if cur.peek().kind != "ord" or cur.peek().value != _THIRD or not cur.is_word("loop", ahead=1):
        return False
    ahead = 2
    while cur.is_word("of", "the", "each", "next", "only", ahead=ahead) or cur.peek(ahead).kind == "num":
        ahead += 1
    stitch = cur.peek(ahead).kind == "stitch" and cur.peek(ahead).id != "ch" and ahead > 2
    if not (stitch or cur.is_word("stitch", "around", "across", ahead=ahead)):
        return False
    cur.at += 2
    cur.take_words("only", "of")
    return True


def beginning_chain(cur: Cursor, *, or_space: bool = False) -> Place:
    """The beginning chain whose word has just been read, with its length: "beg ch-3"; with `or_space` also the space
    that it is: "turning ch sp", "beg ch-2 sp".
    """
    start = cur.at
    cur.take_mark("-")
    number = cur.take_kind("num")
    if number is None:
        cur.at = start
    behind = cur.at
    cur.take_mark("-")
    if or_space and cur.take_words(*SPACES):
        return Place(What.SPACE, chains=number.value if number else None, within=Place(What.BEGINNING_CHAIN))
    cur.at = behind
    return Place(What.BEGINNING_CHAIN, chains=number.value if number else None)


def is_chain(cur: Cursor, ahead: int) -> bool:
    """Whether the word so far ahead is "ch"."""
    return cur.peek(ahead).kind == "stitch" and cur.peek(ahead).id == "ch"


def read_space(cur: Cursor) -> Place | None:
    """ "ch-3 sp", "3-ch sp", "3ch sp", "ch-sp", "sp", "loop", "ch-3" used as a noun; "foundation chain stitch"."""
    kind = cur.peek().kind
    if kind == "word" and not cur.is_word(*SPACES, "foundation-chain"):
        return None
    start = cur.at
    chains: int | None = None
    if cur.is_word("foundation-chain") and cur.is_word("stitch", ahead=1):
        cur.at += 2
        return Place(What.CHAIN)
    if is_chain(cur, 0):
        cur.at += 1
        cur.take_mark("-")
        length = cur.take_kind("num")
        of_work = cur.peek(-2).id == "ch" and _is_of_stitches(cur)  # "into the 7 chain 2 double", "of 7 ch. 9 (11) dc"
        if (length is None and not cur.is_word(*SPACES)) or (length is not None and of_work):
            cur.at = start
            return None
        chains = length.value if length else None
    elif cur.peek().kind == "num" and is_chain(cur, 2 if cur.is_mark("-", ahead=1) else 1):
        chains = cur.peek().value
        cur.at += 3 if cur.is_mark("-", ahead=1) else 2
    before = cur.at
    cur.take_mark("-")
    if cur.is_word("corner") and cur.is_word(*SPACES, ahead=1):
        cur.at += 2
        return Place(What.CORNER, chains=chains)
    if cur.is_word(*SPACES):
        cur.at += 1
        return Place(What.SPACE, chains=chains)
    cur.at = before
    if chains is not None:
        return Place(What.SPACE, chains=chains)
    cur.at = start
    return None


def _is_of_stitches(cur: Cursor) -> bool:
    """Whether the number just read is one of stitches, with those of the other sizes in brackets perhaps."""
    ahead = 0
    if cur.is_mark("(", "["):
        ahead = 1
        while cur.peek(ahead).kind == "num" or cur.is_mark(",", ":", ";", "/", ahead=ahead):
            ahead += 1
        if ahead == 1 or not cur.is_mark(")", "]", ahead=ahead):
            return False
        ahead += 1
    return cur.peek(ahead).kind in ("stitch", "tog")


def chain_of(cur: Cursor) -> Place:
    """The chain named in "3rd st of ch", "3rd ch of beg ch-3": the position stands on the chain that it is part
    of.
    """
    cur.take_words("the", "of")
    if cur.is_word("beginning", "turning-chain", "beginning-chain"):
        if cur.take_words("beginning"):
            space = read_space(cur)
            if space is None and is_chain(cur, 0):
                cur.at += 1
            return Place(What.BEGINNING_CHAIN, chains=space.chains if space else None)
        cur.at += 1
        return beginning_chain(cur)
    space = read_space(cur)
    if space is not None:
        return Place(What.CHAIN, within=Place(What.SPACE, chains=space.chains))
    if is_chain(cur, 0):
        cur.at += 1
    return Place(What.BEGINNING_CHAIN)


def space_next(cur: Cursor, ahead: int = 0) -> bool:
    """Whether a space named by its length comes next: "3-ch sp"."""
    return cur.peek(ahead).kind == "num" and is_chain(cur, ahead + (2 if cur.is_mark("-", ahead=ahead + 1) else 1))
