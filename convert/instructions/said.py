"""Words of the row that are kept as they stand, with the stitches in them as terms."""

from __future__ import annotations

from functools import cache

from convert.document.prose import Prose
from convert.instructions.cursor import Cursor
from convert.instructions.lexicon import Lexeme
from convert.terms.prose import read_prose
from convert.trade.stitches import alike
from convert.trade.tables import table


def said_from(cur: Cursor, first: int) -> Prose:
    """The words from `first` up to the position, with the stitches in them as terms."""
    return read_prose(" ".join(cur.text(first, cur.at).split()), cur.context.system, cur.context.specials)


def untranslatable(word: Lexeme) -> bool:
    """A stitch that running text leaves alone ("trebles"), though the other system means another by it."""
    return word.kind == "stitch" and not alike(word.id) and word.text.lower() in _left_alone()


@cache
def _left_alone() -> frozenset[str]:
    return frozenset(str(form).lower() for form in table("systems")["left_alone"])
