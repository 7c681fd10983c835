"""Reads what only words tell of a place: parts of a piece that no row speaks of, and what narrows it from behind."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What
from convert.instructions.cursor import Cursor
from convert.trade.stitches import alike

FREE = "free"
"""What `Place.words` begins with where the text says that nothing was worked into the place yet."""
_NARROWING = ("of", "from", "between", "in", "side-of")
_NARROWING_UNKNOWN = ("on", "at", "preceding", "following", "before", "after", "where", "opposite", "left")
_PARTS = ("piece", "row", "round", "side-word", "work", "join", "base", "top", "row-end", "row-ends")
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


def with_words(cur: Cursor, place: Place) -> Place:
    """Further words that narrow the place ("of second motif", "on centre motif"): up to the next comma, if they name
    a part of the work and no stitch whose name differs from system to system.
    """
    lexeme = cur.peek()
    narrows = (lexeme.kind == "word" and lexeme.id in _NARROWING) or lexeme.text.lower() in _NARROWING_UNKNOWN
    if not narrows or place.words not in ("", FREE) or not place.which.is_one:
        return place
    words = words_of_place(cur, loose=True)
    return replace(place, words=f"{place.words} {words}".strip()) if words else place


def told_in_words(cur: Cursor, start: int) -> Place | None:
    """A place that only its words tell: "next petal", "corresponding loop on first motif"."""
    words = words_of_place(cur)
    if not words:
        cur.at = start
        return None
    return Place(What.PIECE, words=words, span=cur.span(start))


def words_of_place(cur: Cursor, *, loose: bool = False) -> str:
    """The words up to the end of the clause, if they name a part of the work (`loose`: or hold an unknown word)."""
    start = cur.at
    named = False
    while not cur.done and not (cur.peek().kind == "mark" and cur.peek().id not in ("-", "'")):
        word = cur.peek()
        noun = cur.at == start or (word.id == "work" and (cur.at + 1 == len(cur.words) or cur.peek(1).kind == "mark"))
        if word.kind in ("tog", "formula") or (cur.is_word(*_ENDING) and not noun):
            break
        named = named or cur.is_word(*_PARTS) or (loose and word.kind == "unknown")
        cur.at += 1
    differs = any(word.kind == "stitch" and not alike(word.id) for word in cur.words[start : cur.at])
    if not named or differs or cur.at == start:
        cur.at = start
        return ""
    return " ".join(cur.text(start, cur.at).split())
