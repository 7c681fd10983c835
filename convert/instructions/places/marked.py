"""Reads in which of the stitches just made a marker hangs: "the 2nd of these 3 sc", "center st of the 3 just made"."""

from __future__ import annotations

from convert.document.steps import Place, What, Which
from convert.instructions.places.which import WHICH
from convert.instructions.words.cursor import Cursor


def among_made(cur: Cursor) -> Place | None:
    """One of so many stitches, if the words say that the row has just made them; nothing is read otherwise."""
    if "these" not in cur.begun and "just_now" not in cur.begun:
        return None
    start = cur.at
    cur.take_words("in", "to", "the")
    which, nth = _which_one(cur)
    one = cur.take_kind("stitch")
    cur.take_words("stitch")
    if which is None or not cur.take_words("of"):
        cur.at = start
        return None
    these = cur.is_listed("these")
    cur.take_words("the")
    many = cur.take_kind("num")
    kind = cur.take_kind("stitch")
    cur.take_words("stitch")
    just = cur.is_listed("just_now") and cur.is_listed("just_made", 1)
    cur.at += 2 if just else 0
    if many is None or not (these or just):
        cur.at = start
        return None
    made = Place(which=Which.MADE, number=many.value, of=kind.id if kind is not None else None)
    return Place(What.STITCH, which, nth=nth, of=one.id if one else None, within=made, span=cur.span(start))


def _which_one(cur: Cursor) -> tuple[Which | None, int | None]:
    ordinal = cur.take_kind("ord")
    if ordinal is not None:
        return (Which.FIRST, None) if ordinal.value == 1 else (Which.NTH, ordinal.value)
    word = cur.peek()
    if word.kind == "word" and WHICH.get(word.id) in (Which.LAST, Which.CENTER):
        cur.at += 1
        return WHICH[word.id], None
    return None, None
