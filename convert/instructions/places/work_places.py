"""Reads where a stitch goes, behind its name: one place or several, "around", an edge told in words."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Place, What, Which
from convert.instructions.places.edges import read_edge_in_words
from convert.instructions.places.place import read_place
from convert.instructions.words.cursor import Cursor


def read_places(cur: Cursor) -> tuple[Place, ...]:
    """One or several places joined by "and": "in next st and in each st across"."""
    if cur.is_word("each") and cur.is_word("in", ahead=1) and cur.is_listed("entirely"):
        cur.at += 1  # "2 dc, ch 2, 3 dc all in ring"
    begun = cur.at
    _take_worked(cur)
    along = read_edge_in_words(cur) if cur.is_listed("along") else None
    first = along or read_place(cur) or read_edge_in_words(cur) or _bare_end(cur)
    if first is None:
        cur.at = begun
        return ()
    places = [first]
    while True:
        start = cur.at
        cur.take_mark(",")
        if not cur.take_words("and"):
            cur.at = start
            break
        kind = _kind_follows(cur, places[-1])
        if not (kind is not None or _place_follows(cur)):
            cur.at = start
            break
        further = kind or read_place(cur) or read_place(cur, preposition=False)
        if further is None:
            cur.at = start
            break
        places.append(further)
    merged = _shared_pass(places)
    if merged[-1].also and merged[-1].which is Which.EACH:
        cur.take_words("around", "across")
    return tuple(merged)


def _take_worked(cur: Cursor) -> None:
    """ "5 dc worked in same st", "3 tr all made in next sp": the word between the stitches and their place."""
    start = cur.at
    cur.take_words("each")
    worked = cur.is_listed("worked_in") and cur.is_word("in", "around", ahead=1)
    cur.at = cur.at + 1 if worked else start


def _bare_end(cur: Cursor) -> Place | None:
    """ "sc around", "dc across": every stitch; "sl st across 6 sts", "sl st across first 6 sts"."""
    start = cur.at
    ahead = 2 if cur.is_word("the", ahead=1) else 1
    if cur.is_word("across") and (cur.peek(ahead).kind in ("num", "ord") or cur.is_word("next", ahead=ahead)):
        cur.at += 1
        place = read_place(cur, preposition=False)
        if place is not None and place.which in (Which.NEXT, Which.FIRST):
            return place
        cur.at = start
    if cur.take_words("around", "across"):
        return Place(which=Which.EACH, span=cur.span(start))
    return None


def _kind_follows(cur: Cursor, place: Place) -> Place | None:
    """ "Tr in each ch-1 sp and tr to end", "sc in each st and ch across": another kind of place that every one of is
    meant, and no further work.
    """
    if place.which is not Which.EACH or place.what is What.PIECE or cur.is_word("around", "across", ahead=-2):
        return None
    stitch = cur.peek()
    if stitch.kind != "stitch" or stitch.id == place.of:
        return None
    chains = stitch.id == "ch" and _ends_row(cur)  # "sc in each st and ch (56)": nobody ends a row with one chain
    if not (chains or cur.is_word("around", "across", "to", ahead=1)):
        return None
    cur.at += 1
    if stitch.id == "ch":
        return Place(What.CHAIN, which=Which.EACH, span=cur.span(cur.at - 1))
    return Place(which=Which.EACH, of=stitch.id, span=cur.span(cur.at - 1))


def _ends_row(cur: Cursor) -> bool:
    """Whether nothing stands behind the next word but the end of the row or its count."""
    behind = cur.at + 1
    return behind == cur.end or (cur.ids[behind] in ("(", "[", ".", "=", "–") and "ch" not in cur.ids[behind:])


def _place_follows(cur: Cursor) -> bool:
    ahead = 0
    while cur.is_word("in", "the", ahead=ahead):
        ahead += 1
    lexeme = cur.peek(ahead)
    if ahead and lexeme.kind in ("ord", "num", "stitch"):
        return True
    if lexeme.kind == "ord":
        return True
    if lexeme.kind == "stitch" and lexeme.id == "ch":
        return cur.is_mark("-", ahead=ahead + 1) or cur.is_word("space", "loop", ahead=ahead + 1)
    if lexeme.kind == "num":
        return _is_space(cur, ahead + 1)
    return lexeme.kind == "word" and lexeme.id in (
        "next",
        "same",
        "last",
        "each",
        "remaining",
        "space",
        "corner",
        "gap",
        "back-loop",
        "front-loop",
        "back-bump",
    )


def _is_space(cur: Cursor, ahead: int) -> bool:
    """Whether a number is that of chains of a space: "each tr and 1-ch space around"."""
    ahead += cur.is_mark("-", ahead=ahead)
    if cur.peek(ahead).id != "ch":
        return False
    ahead += 2 if cur.is_mark("-", ahead=ahead + 1) else 1
    return cur.is_word("space", "loop", ahead=ahead)


def _shared_pass(places: list[Place]) -> list[Place]:
    """ "each st and (in) each ch-1 sp around" is one pass over both kinds."""
    merged: list[Place] = []
    for place in places:
        last = merged[-1] if merged else None
        each = last is not None and last.which is Which.EACH
        if last is not None and each and (place.which is Which.EACH or place.what is What.SPACE):
            also = replace(place, which=Which.EACH)
            merged[-1] = replace(last, also=(*last.also, also), span=last.span.to(place.span))
        else:
            merged.append(place)
    return merged
