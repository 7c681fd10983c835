"""Words of the row that are kept as they stand, with the stitches in them as terms."""

from __future__ import annotations

from convert.document.prose import Prose
from convert.instructions.cursor import Cursor
from convert.terms.prose import read_prose


def said_from(cur: Cursor, first: int) -> Prose:
    """The words from `first` up to the position, with the stitches in them as terms."""
    return read_prose(" ".join(cur.text(first, cur.at).split()), cur.context.system, cur.context.specials)
