"""Reads chains and what a beginning chain stands for: "ch 3 (counts as dc)", "3 ch", "ch 1 does not count as st"."""

from __future__ import annotations

from convert.document.lengths import parse_length
from convert.document.numbers import Number
from convert.document.steps import Begin, Chain, ChangeColour, Place, Start, Step, Verbatim, What, Which, Work
from convert.instructions.chains.chain_counts import read_counts
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import said_of_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.numbers import read_number
from convert.instructions.words.phrases import takes_sign
from convert.instructions.words.remarks import is_inert
from convert.trade.patterns import listed
from convert.trade.stitches import stitches
from convert.trade.tables import table


def read_chain(cur: Cursor) -> list[Step] | None:
    """ "ch 3", "3 ch", "chain 3", "make a chain of 3", with what it counts as and, at a beginning, the ring that
    it forms.
    """
    start = cur.at
    cur.take_words("work", "the")
    if cur.take_words("beginning"):
        cur.take_words("with", "work", "the")
    number = _chain_number(cur)
    if number is None:
        cur.at = start
        return None
    if number == 1 and _closes_stitch(cur):
        return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]
    told = cur.at
    manner = _manner(cur) if cur.peek().kind == "unknown" else ()
    ring = _ring(cur, number, start)
    if ring is not None:
        return [ring, *manner]
    cur.at = told
    counts = read_counts(cur)
    return [Chain(number, counts, span=cur.span(start))]


def _manner(cur: Cursor) -> tuple[Verbatim, ...]:
    """ "Ch 8 loosely, join ...": how the chain is made, in front of the ring that it forms."""
    start = cur.at
    if not is_inert(cur.peek().text) or cur.peek(1).kind not in ("mark", "word"):
        return ()
    cur.at += 1
    return (Verbatim((cur.text(start, cur.at),), True, cur.span(start)),)


def _closes_stitch(cur: Cursor) -> bool:
    """ "... pull through all 7 loops, ch 1 to close": the chain that holds a puff together is a part of it. Reads
    what it is for.
    """
    behind = cur.peek(1)
    ends = behind.kind == "end" or (behind.kind == "mark" and behind.id in ".,;([")
    drawn = ends and any(word in cur.passage.text.lower() for word in listed("through"))
    closes = drawn and cur.peek().text.lower() in table("asides")["purposes"]
    cur.at += closes
    return closes


def read_commence(cur: Cursor) -> list[Step] | None:
    """ "Commence at the toe with a chain of 11": where the chain lies is told, and kept in words."""
    start = cur.at
    if not cur.take_words("beginning"):
        return None
    while cur.peek().kind == "unknown" or cur.is_word("in", "of", "the", "base", "top", "centre", "side-word", "piece"):
        cur.at += 1
    said = cur.at
    cur.take_mark(",")
    cur.take_words("with")
    steps = read_chain(cur)
    if steps is None:
        cur.at = start
        return None
    return [Verbatim((cur.text(start, said),), True, cur.span(start, said)), *steps]


def _chain_number(cur: Cursor) -> Number | None:
    if cur.take_word("cast-on"):
        number = read_number(cur)
        return number if number is not None and cur.take_words("stitch", "loop") else None
    if cur.peek().kind == "num":
        number = read_number(cur)
        if cur.is_mark("-") and cur.peek(1).id == "ch":
            return None
        counted = cur.is_mark("-", ahead=1) and cur.peek(2).kind == "num" and _is_place(cur, 3)  # "3 ch-6 loops"
        if cur.peek().kind == "stitch" and cur.peek().id == "ch" and not _is_place(cur, 1) and not counted:
            cur.at += 1
            return number
        return None
    article = cur.at > 0 and cur.is_word("the", ahead=-1)
    foundation = cur.take_word("foundation-chain")
    foundation = foundation or (cur.is_mark(":", ahead=1) and cur.take_word("foundation-row"))
    if foundation and cur.take_mark(":", "–", "-") and not (cur.peek().kind == "num" and cur.peek(1).id != "ch"):
        return _chain_number(cur)
    if not foundation:
        if cur.peek().kind != "stitch" or cur.peek().id != "ch":
            return None
        cur.at += 1
    hyphen = cur.take_mark("-")
    of = cur.take_words("of") > 0
    number = read_number(cur)
    if number is None:
        ends = cur.done or cur.peek().kind in ("mark", "num", "stitch") or cur.is_word("and", "then", "turn", "join")
        return None if hyphen or foundation or of or (article and not ends) else 1
    if _is_place(cur, 0) or _is_length(cur):
        return None
    if of and cur.peek().kind == "stitch" and cur.peek().id == "ch":
        cur.at += 1
    cur.take_words("stitch")
    return number


def _is_length(cur: Cursor) -> bool:
    """ "A chain 12 inches long", "a chain 2½ inches long": a length, and no number of chains."""
    ahead = 0 if cur.peek().text.isalpha() else 1
    return parse_length(f"1 {cur.peek(ahead).text}") is not None and not cur.is_word("in", ahead=ahead)


def _is_place(cur: Cursor, ahead: int) -> bool:
    ahead += 1 if cur.is_mark("-", ahead=ahead) else 0
    return cur.is_word("space", "loop", ahead=ahead)


def _ring(cur: Cursor, number: Number, start: int) -> Begin | None:
    """ "ch 4, join with sl st in first ch to form a ring"."""
    at = cur.at
    cur.take_mark(",", ";", ".", "(")
    cur.take_words("and", "then")
    if cur.take_words("unite"):
        cur.take_words("it", "the", "form-ring")
        return Begin(Start.CHAIN_RING, number, span=cur.span(start))
    joined = cur.take_words("join") > 0
    if joined:
        cur.take_words("it")
    cur.take_words("with", "the")
    slip = cur.peek().kind == "stitch" and cur.peek().id == "sl-st"
    if slip:
        cur.at += 1
    place = None
    if joined or slip:
        cur.take_words("join")
        place = read_place(cur, preposition=not cur.take_words("to"))
        cur.take_mark(",")
        cur.take_words("and", "join")
    if cur.take_words("form-ring") or ((joined or slip) and place is not None and place.what is What.RING):
        cur.take_words("with", "the")
        if cur.peek().kind == "stitch" and cur.peek().id == "sl-st":
            cur.at += 1
            read_place(cur)
        cur.take_mark(")")
        return Begin(Start.CHAIN_RING, number, span=cur.span(start))
    cur.at = at
    return None


def read_ring(cur: Cursor) -> list[Step] | None:
    """ "adjustable ring", "make a magic ring", "into ring" as a beginning of its own."""
    start = cur.at
    cur.take_listed("rings_made")
    cur.take_words("work", "the", "beginning", "with", "in")
    if cur.is_word("adjustable-ring"):
        cur.at += 1
        ring = Begin(Start.ADJUSTABLE_RING, span=cur.span(start))
        if cur.is_word("with", "of") and cur.peek(1).kind == "num":
            cur.at += 1  # "start a magic ring with 6 sc"
        return [ring, *_stitches_of_ring(cur)]
    cur.at = start
    return None


def _stitches_of_ring(cur: Cursor) -> list[Step]:
    """ "MR 6": a ring and the number alone is shorthand of toy makers, who work everything in single crochet."""
    behind = cur.peek(1)
    counted = behind.kind == "end" or (behind.kind == "mark" and behind.id in _BEHIND_RING)
    if cur.peek().kind != "num" or not counted or cur.at > 1:
        return []
    number = cur.peek().value
    cur.at += 1
    return [Work("sc", number, Place(What.RING, which=Which.NEXT), span=cur.span(cur.at - 1))]


_BEHIND_RING = "([{<=.,;-–"


def read_foundation_stitches(cur: Cursor) -> list[Step] | None:
    """ "fsc 24", "24 fdc": stitches made without a foundation chain."""
    start = cur.at
    cur.take_words("work", "the")
    number = read_number(cur) if cur.peek().kind == "num" else None
    stitch = cur.take_kind("stitch")
    entry = stitches().get(stitch.id) if stitch else None
    if entry is None or not entry.foundation:
        cur.at = start
        return None
    if number is None:
        number = read_number(cur) if cur.peek().kind == "num" else 1
    return [Begin(Start.STITCHES, number if number is not None else 1, entry.id, span=cur.span(start))]


def read_standing(cur: Cursor) -> list[Step] | None:
    """ "Standing dc in first st", "join with sc in any dc": new yarn begins with a stitch. Behind work of the row,
    "join with dc in first sc" closes it with one.
    """
    start = cur.at
    joins = cur.is_word("join", "attach")
    cur.take_words("work", "join", "attach", "with", "the")
    standing = cur.take_words("standing") > 0
    if not standing and not (joins and cur.is_word("with", "the", ahead=-1)):
        cur.at = start
        return None
    stitch = cur.take_kind("stitch")
    entry = stitches().get(stitch.id) if stitch is not None else None
    made = stitch is not None and stitch.id not in ("ch", "sl-st") and not (entry is not None and entry.foundation)
    place = read_place(cur, preposition=not cur.take_words("to")) if made else None
    begins = standing or not any(word.kind in ("stitch", "tog") for word in cur.words[:start])
    closes = place is not None and (place.which is Which.FIRST or place.what is What.BEGINNING_CHAIN)
    if stitch is None or place is None or not (begins or closes):
        cur.at = start
        return None
    if begins:
        return [Begin(Start.EDGE, 0, None, place, stitch.id, span=cur.span(start))]
    return [Work(stitch.id, 1, place, span=cur.span(start))]


def read_edge(cur: Cursor) -> list[Step] | None:
    """ "join yarn in any ch-2 sp", "attach A with sl st in first st", "join yarn with sc in next sp"."""
    start = cur.at
    by: str | None = None
    if takes_fastened(cur):
        cur.at = start
        return None
    if not cur.take_words("attach"):
        if cur.is_listed("fasten") and cur.is_word("in", ahead=1):
            return _fastened_in(cur)
        rejoined = _rejoined(cur) or _joined_in_round(cur)
        if rejoined is not None:
            return rejoined
        fastens = cur.is_listed("fasten") and cur.peek(1).text in listed("colours")
        if not fastens and not (cur.is_word("join") and _colour_follows(cur, 1)):
            return None
        cur.at += 1
    colour = _colour(cur)
    cur.take_words("with")
    colour = colour or _colour(cur)
    cur.take_words("with", "the", "and")
    cur.take_words("standing")
    stitch = cur.take_kind("stitch")
    if stitch is not None and stitch.id != "sl-st":
        by = stitch.id
    preposition = not cur.take_words("to")
    place = read_place(cur, preposition=preposition) or _at_in_words(cur)
    if place is None and colour is None and stitch is None and not cur.is_mark(",", ".", ";"):
        cur.at = start
        return None
    one = cur.is_word("the", ahead=1)
    if place is not None and cur.is_word("with") and cur.peek(1 + one).id == "sl-st":
        cur.at += 2 + one  # "attach C to any sp with a sl st"
    span = cur.span(start)
    steps: list[Step] = []
    if colour:
        steps.append(ChangeColour(colour, span))
    if place is not None or not colour:
        steps.append(Begin(Start.EDGE, 0, None, place or Place(What.PIECE, which=Which.ANY), by, span=span))
    return steps


def _joined_in_round(cur: Cursor) -> list[Step] | None:
    """ "Join in the front loops of rnd 14.": yarn for stitches of an earlier round, where nothing is worked before."""
    start = cur.at
    place = read_place(cur) if not start and cur.take_word("join") and cur.is_word("in") else None
    numbered = any(word.id in ("row", "round") for word in cur.words[start : cur.at])
    if place is None or place.what is not What.PIECE or not numbered or not (cur.done or cur.is_mark(".", ",")):
        cur.at = start
        return None
    return [Begin(Start.EDGE, 0, None, place, span=cur.span(start))]


def takes_fastened(cur: Cursor) -> bool:
    """ "Fasten the thread, stuff": without a place, and with no stitch or chain behind, the yarn ends. Read if so.

    "Fasten yarn, ch 3" and "fasten on the yarn" join it.
    """
    said = cur.peek().text.lower().split()
    if not cur.is_word("attach") or said[0] not in listed("fasten") or listed("fastened_on") & {*said}:
        return False
    behind, then = cur.peek(1), cur.peek(2)
    if behind.kind == "end" or (behind.kind == "mark" and then.kind not in ("num", "stitch") and then.id != "ch"):
        cur.at += 1
        return True
    return False


def _at_in_words(cur: Cursor) -> Place | None:
    """ "Join yarn at underarm", "join yarn to shoulder seam": a spot on the piece that only words tell."""
    start = cur.at
    if not (cur.take_words("in") or cur.is_word("other-side")) and not cur.is_listed("toward", -1):
        return None
    first = cur.at
    while cur.peek().kind in ("unknown", "word") and not cur.is_word(*_FURTHER):
        cur.at += 1
    ends = cur.done or cur.peek().kind == "mark"
    if not ends or not any(word.kind == "unknown" or word.id == "other-side" for word in cur.words[first : cur.at]):
        cur.at = start
        return None
    return Place(What.PIECE, words=said_of_place(cur, first))


_FURTHER = ("and", "then", "work", "with", "turn", "join", "repeat", "fasten-off", "next", "each", "same")
"""Words behind which more is told than where the yarn is joined."""


def _fastened_in(cur: Cursor) -> list[Step] | None:
    """ "Fasten in", "fasten in at the other end again": the yarn is joined anew. "Fasten in next loop" may be a slip
    stitch instead, and is not read.
    """
    start = cur.at
    cur.at += 2
    first = cur.at
    while not (cur.done or cur.peek().kind in ("mark", "stitch", "num", "ord")):
        if cur.is_word("next", "stitch", "space", "loop", "same", "each", "last"):
            cur.at = start
            return None
        cur.at += 1
    if not (cur.done or cur.peek().kind == "mark"):
        cur.at = start
        return None
    words = said_of_place(cur, first) if cur.at > first else ""
    place = Place(What.PIECE, words=words) if words else Place(What.PIECE, which=Which.ANY)
    return [Begin(Start.EDGE, 0, None, place, span=cur.span(start))]


def _rejoined(cur: Cursor) -> list[Step] | None:
    """ "Join in again at the beginning", "again join in at the other end": yarn that was cut, where a row begins."""
    start = cur.at
    cur.take_words("more")
    if not (cur.take_word("attach") or (cur.take_word("join") and cur.take_word("in"))):
        cur.at = start
        return None
    cur.take_words("more", "in")
    first = cur.at
    ends = takes_sign(cur, "row_starts") and (cur.done or cur.peek().kind == "mark" or cur.is_word("and", "then"))
    if not ends:
        cur.at = start
        return None
    place = Place(What.PIECE, words=said_of_place(cur, first))
    return [Begin(Start.EDGE, 0, None, place, span=cur.span(start))]


def _colour_follows(cur: Cursor, ahead: int) -> bool:
    while not (cur.peek(ahead).text in cur.context.colours or _is_letter(cur.peek(ahead).text)) and (
        cur.is_word("with", "the", ahead=ahead) or cur.is_listed("yarn_called", ahead)
    ):
        ahead += 1
    word = cur.peek(ahead)
    if word.text == "A" and cur.peek(ahead + 1).kind == "stitch" and cur.passage.text.isupper():
        return False  # "JOIN WITH A SL ST": where all is in capitals, an article
    named = word.kind in ("unknown", "word") and (word.text[:1].isupper() or word.text in listed("colours"))
    return word.text in cur.context.colours or (
        named and (ahead > 1 or _is_letter(word.text) or word.text in listed("colours"))
    )


def names_yarn(cur: Cursor) -> bool:
    """Whether the word at the position is what a yarn of the pattern is called by, and no stitch of the author's."""
    word = cur.peek()
    if word.kind == "stitch" or not word.text:
        return False
    return word.text in cur.context.colours or _is_letter(word.text)


def _is_letter(text: str) -> bool:
    """Whether a yarn may be called so without being listed: "B", "MC", "CC2"."""
    return text in listed("yarns")


def _colour(cur: Cursor) -> str | None:
    if cur.is_listed("yarn_called") and _colour_follows(cur, 0):
        cur.at += 1
        if cur.peek().text and _is_letter(cur.peek().text):
            cur.at += 1
            return cur.peek(-1).text
    elif _is_letter(cur.peek().text):
        cur.at += 1
        return cur.peek(-1).text
    if cur.peek().text and cur.peek().text in cur.context.colours:
        cur.at += 1
        return cur.peek(-1).text
    return read_colour_name(cur)


def read_colour_name(cur: Cursor) -> str | None:
    """A colour by name: words that no table knows, written with capitals ("White", "Lt. Pink"), and the yarn behind it
    ("white wool").
    """
    start = cur.at
    while cur.at - start < 4:
        word = cur.peek()
        plain = word.text in listed("colours")
        if word.kind != "unknown" or not (word.text[:1].isupper() or plain):
            break
        cur.at += 1
        if word.text.lower() in listed("shades"):
            cur.take_mark(".")
    if cur.at == start or cur.peek(-1).text.lower() in {*listed("shades"), "."}:
        cur.at = start
        return None
    cur.take_listed("yarn")
    return cur.text(start, cur.at)
