"""Reads the ends of rows along the side of a piece: "side of next 4 rows", "end of each dc row"."""

from __future__ import annotations

from convert.document.steps import Place, What, Which
from convert.instructions.places.which import read_which
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import listed

_ROWS = frozenset({"row", "round"})


def ends_of_rows(cur: Cursor) -> Place | None:
    """ "On side of next 4 rows", "in end of each dc row", "in edge of every other row": the ends of so many rows.

    "At the end of each row" is where a row ends, and no place to work into.
    """
    if cur.holds.isdisjoint(_ROWS):
        return None
    start = cur.at
    cur.take_words("the")
    edge = cur.is_listed("row_edges") and cur.is_word("of", ahead=1)
    cur.at += 2 * edge
    if not (edge or cur.take_words("side-of")) or (start and cur.words[start - 1].text.lower() in listed("at_spot")):
        cur.at = start
        return None
    which, number, nth, every, _ = read_which(cur)
    stitch = cur.take_kind("stitch")
    plain = which in (Which.EACH, Which.NEXT) and nth is None and (stitch is None or stitch.id != "ch")
    if not plain or which is None or not cur.take_words("row", "round"):
        cur.at = start
        return None
    of = stitch.id if stitch is not None else None
    return Place(What.ROW_END, which, 1 if number is None else number, of=of, every=every)
