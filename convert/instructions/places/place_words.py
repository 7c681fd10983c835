"""Reads what only words tell of a place: parts of a piece that no row speaks of, and what narrows it from behind."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.instructions.places.which import SPACES
from convert.instructions.words.cursor import Cursor
from convert.trade.stitches import alike, stitches

FREE = "free"
"""What `Place.words` begins with where the text says that nothing was worked into the place yet."""
_NARROWING = ("of", "from", "between", "in", "side-of", "where")
_NARROWING_UNKNOWN = ("on", "at", "preceding", "following", "before", "after", "opposite", "left")
_PARTS = (
    "piece",
    "row",
    "round",
    "side-word",
    "work",
    "join",
    "base",
    "top",
    "row-end",
    "row-ends",
    "other-side",
    "was-made",
    "centre",
)
_ENDING = (
    "work",
    "repeat",
    "turn",
    "join",
    "ending",
    "fasten-off",
    "times",
    "and",
    "then",
    "around",
    "across",
    "holding-back",
)


_FOUNDATION = ("foundation-row", "foundation-chain", "beginning-chain")
_OTHERWISE = ("leave", "skip", "increasing", "decreasing", "but")
"""Words that ask for something else than work all along."""


def along_in_words(cur: Cursor, place: Place) -> str:
    """ "In each st down the side to the fold", "in each st around the hem": where all the stitches lie, in words."""
    start = cur.at
    ways = cur.is_listed("along") or cur.is_word("up-down", "around", "across")
    if place.which is not Which.EACH or place.words or not ways or place.what is What.ROW_END:
        return ""
    cur.at += 1
    cur.take_words("up-down", "around", "across")
    otherwise = cur.is_listed("exceptions") and cur.peek(1).kind in ("num", "stitch", "mark")
    named = cur.peek().kind == "unknown" or cur.is_word("the", "centre", "corner", *_PARTS)
    foundation = cur.is_word(*_FOUNDATION) or (cur.is_word("the") and cur.is_word(*_FOUNDATION, ahead=1))
    named = (named or foundation) and not otherwise
    said = words_of_place(cur, loose=True, whatever=foundation) if named else ""
    if not said or any(word.kind == "word" and word.id in _OTHERWISE for word in cur.words[start : cur.at]):
        cur.at = start
        return ""
    return said_of_place(cur, start)


def of_foundation(cur: Cursor, place: Place) -> Place | None:
    """ "Each ch of foundation chain", "first st of foundation": chains of the foundation, at whichever side."""
    start = cur.at
    if place.what not in (What.CHAIN, What.STITCH) or place.words or place.of or not cur.take_words("of"):
        return None
    cur.take_words("the")
    if not cur.take_words("foundation-chain", "foundation-row"):
        cur.at = start
        return None
    return replace(place, what=What.CHAIN, words=said_of_place(cur, start))


def foundation_chain(cur: Cursor) -> Place | None:
    """ "Each foundation ch": the same, told by one name."""
    if not cur.take_words("foundation-chain"):
        return None
    return Place(What.CHAIN, words=f"of {said_of_place(cur, cur.at - 1)}")


def with_words(cur: Cursor, place: Place) -> Place:
    """Further words that narrow the place ("of second motif", "on centre motif"): up to the next comma, if they name
    a part of the work.
    """
    lexeme = cur.peek()
    if place.words in ("", FREE) and cur.is_word("round", "row") and cur.peek(1).kind == "num" and _ended_with_of(cur):
        cur.at += 2  # "any unused front loop of Rnd 4": the loop took the "of"
        return replace(place, words=f"{place.words} of {cur.text(cur.at - 2, cur.at)}".strip())
    narrows = (lexeme.kind == "word" and lexeme.id in _NARROWING) or lexeme.text.lower() in _NARROWING_UNKNOWN
    if not narrows or place.words not in ("", FREE) or place.which in (Which.EACH, Which.MADE):
        return place
    words = _between_groups(cur) or words_of_place(cur, loose=place.which.is_one)
    return replace(place, words=f"{place.words} {words}".strip()) if words else place


def _ended_with_of(cur: Cursor) -> bool:
    return bool(cur.at) and cur.peek(-1).text.lower().split()[-1:] == ["of"]


def _between_groups(cur: Cursor) -> str:
    """ "Next sc between shells": which of the stitches it is, by the groups that it stands between."""
    unit = cur.peek(1)
    entry = stitches().get(unit.id) if cur.is_word("between") and unit.kind == "stitch" else None
    ends = cur.at + 2 >= len(cur.words) or cur.peek(2).kind == "mark"
    named = (entry is not None and entry.unit and alike(unit.id)) or cur.is_word("group", ahead=1)
    if not (named and ends and cur.is_word("between")):
        return ""
    cur.at += 2
    return cur.text(cur.at - 2, cur.at)


def take_unfinished(cur: Cursor) -> str:
    """ "Unfinished loop": one that has some of its stitches, and gets the others now."""
    loop = cur.is_listed("unfinished") and cur.peek(1).id in SPACES
    cur.at += loop
    return cur.peek(-1).text.lower() if loop else ""


def take_lone(cur: Cursor) -> None:
    """ "The single dc between shells": a word that only says once more what stands behind the stitch."""
    behind = cur.is_listed("lone") and cur.peek(1).kind == "stitch" and cur.is_word("between", ahead=2)
    cur.at += behind and cur.at > 0 and cur.is_word("the", "next", ahead=-1)


def told_in_words(cur: Cursor, start: int) -> Place | None:
    """A place that only its words tell: "next petal", "corresponding loop on first motif"."""
    words = words_of_place(cur)
    if not words:
        cur.at = start
        return None
    return Place(What.PIECE, words=words, span=cur.span(start))


def words_of_place(cur: Cursor, *, loose: bool = False, whatever: bool = False) -> str:
    """The words up to the end of the clause, if they name a part of the work (`loose`: or hold an unknown word;
    `whatever`: in any case).
    """
    start = cur.at
    edge = cur.is_word("up-down", "around", "across", ahead=-1) or cur.is_listed("along", -1)
    named = whatever
    while not cur.done and not (cur.peek().kind == "mark" and cur.peek().id not in ("-", "'")):
        word = cur.peek()
        noun = cur.at == start or (word.id == "work" and (cur.at + 1 == len(cur.words) or cur.peek(1).kind == "mark"))
        noun = noun or (word.id == "work" and cur.is_word("piece", ahead=1))  # "on working square"
        noun = noun or (word.id == "join" and cur.is_word("last", "first", "the", "between", ahead=-1))
        several = word.id == "and" and (cur.peek(-1).kind == cur.peek(1).kind == "ord" or cur.peek(1).kind == "unknown")
        if word.kind in ("tog", "formula") or (cur.is_word(*_ENDING) and not noun and not several):
            break
        if word.id == "times" and cur.peek(1).kind == "num":
            break  # "around x 3 rnds"
        if edge and cur.at > start and (_is_exception(cur) or _goes_to_last(cur)):
            break
        named = named or cur.is_word(*_PARTS) or (loose and word.kind == "unknown")
        cur.at += 1
    if not named or cur.at == start:
        cur.at = start
        return ""
    return said_of_place(cur, start)


def _is_exception(cur: Cursor) -> bool:
    """ "... placing 3 sc in each corner": what is worked otherwise there."""
    if cur.is_word("with") and cur.peek(1).kind == "num" and cur.peek(2).kind == "stitch":
        return True
    return cur.is_listed("exceptions") and (cur.peek(1).kind in ("num", "stitch") or cur.is_mark("(", "[", ahead=1))


def _goes_to_last(cur: Cursor) -> bool:
    """ "... to last 2 sts", "... to next corner": how far the work goes, behind the words for an edge."""
    return cur.is_word("to") and cur.is_word("last", "next", ahead=1)


def said_of_place(cur: Cursor, start: int) -> str:
    """The words from `start` up to the position. A stitch that the two systems name differently stands as `{id}`."""
    text, said = cur.passage.text, ""
    done = cur.words[start].start
    for word in cur.words[start : cur.at]:
        if word.kind == "stitch" and not alike(word.id):
            said += f"{text[done : word.start]}{{{word.id}}}"
            done = word.end
    said += text[done : cur.words[cur.at - 1].end]
    return " ".join(said.split())
