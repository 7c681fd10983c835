"""Words of the row that are kept as they stand, with the stitches in them as terms."""

from __future__ import annotations

from functools import cache

from convert.document.prose import Prose, Term
from convert.instructions.cursor import Cursor
from convert.instructions.lexicon import Lexeme
from convert.terms.prose import read_prose
from convert.trade.stitches import alike
from convert.trade.tables import table


def said_from(cur: Cursor, first: int) -> Prose:
    """The words from `first` up to the position, with the stitches in them as terms."""
    return read_prose(" ".join(cur.text(first, cur.at).split()), cur.context.system, cur.context.specials)


def said_in_row(cur: Cursor, first: int) -> Prose | None:
    """The same, with words as terms that running text leaves alone ("doubles") where they are stitches to be worked:
    behind a number, an article and the like. None where one stands otherwise: it may be no stitch, and could not be
    written in the other system.
    """
    parts: list[str | Term] = []
    done = cur.words[first].start
    for index in range(first, cur.at):
        word = cur.words[index]
        if not untranslatable(word):
            continue
        before = cur.words[index - 1] if index else None
        if before is None or not (before.kind in ("num", "ord") or before.id in _IN_FRONT):
            return None
        parts += [*_read(cur, done, word.start), Term(word.id)]
        done = word.end
    parts += _read(cur, done, cur.words[cur.at - 1].end)
    return tuple(parts)


_IN_FRONT = ("the", "each", "same", "next", "last", "of", "more", "other", "remaining")
"""Words behind which such a word is a stitch."""


def _read(cur: Cursor, begin: int, end: int) -> Prose:
    text = " ".join(f"-{cur.passage.text[begin:end]}-".split())[1:-1]
    return read_prose(text, cur.context.system, cur.context.specials) if text else ()


def untranslatable(word: Lexeme) -> bool:
    """A stitch that running text leaves alone ("trebles"), though the other system means another by it."""
    return word.kind == "stitch" and not alike(word.id) and word.text.lower() in _left_alone()


@cache
def _left_alone() -> frozenset[str]:
    return frozenset(str(form).lower() for form in table("systems")["left_alone"])
