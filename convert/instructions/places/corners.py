"""Reads corners that are told by what stands there: "each 3-sc corner", "center st of each corner"."""

from __future__ import annotations

from convert.document.steps import Place, What, Which
from convert.instructions.places.which import WHICH
from convert.instructions.words.cursor import Cursor


def corner_by_size(cur: Cursor) -> Place | None:
    """ "Each 3-sc corner", "next 5-dc corner group": a corner, told by how many stitches were put there."""
    ahead = 0
    while cur.is_word(*WHICH, "the", "of", ahead=ahead):
        ahead += 1
    sized = cur.peek(ahead).kind == "num" and cur.is_mark("-", ahead=ahead + 1)
    stitch = cur.peek(ahead + 2)
    if not sized or stitch.kind != "stitch" or stitch.id == "ch" or not cur.is_word("corner", ahead=ahead + 3):
        return None
    which = next((WHICH[word.id] for word in cur.words[cur.at : cur.at + ahead] if word.id in WHICH), Which.NEXT)
    cur.at += ahead + 4
    cur.take_words("group")
    return Place(What.CORNER, which)


def middle_of(cur: Cursor, start: int, place: Place, corner: Place) -> Place | None:
    """ "Center sc of each corner", "2nd st of next 3-sc corner": the corner itself; None for any other part of one."""
    of_three = place.nth == _SECOND and any(
        word.kind == "num" and word.value == _THREE for word in cur.words[start : cur.at]
    )
    middle = place.which is Which.CENTER or (place.which is Which.NTH and of_three)
    return corner if middle and place.what is What.STITCH and corner.what is What.CORNER else None


_SECOND, _THREE = 2, 3
"""The second of three is the middle one."""


def center_of_corner(cur: Cursor, start: int, place: Place) -> Place:
    """ "Center of each corner": where a corner is entered anyway."""
    each = any(word.id == "each" for word in cur.words[start : cur.at])
    return Place(What.CORNER, Which.EACH if each else Which.NEXT, of=place.of, chains=place.chains)
