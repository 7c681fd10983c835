"""Reads stitches on other pieces: legs joined into a body ("11 sc along the first leg"), pieces crocheted in ("4 sc
through the arm and the body"), pieces closed flat ("sc 6 through both layers").
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import Begin, Place, Slip, Start, Step, Verbatim, What, Which, Work
from convert.instructions.places.place import read_place
from convert.instructions.places.place_words import said_of_place
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
from convert.source import Span
from convert.trade.patterns import listed

_ENDS = ("layers", "work", "repeat", "turn", "join", "times", "then", "around", "across", "fasten-off")


def _read_seam(cur: Cursor) -> str:
    """ "Through both layers", "through the arm and the body together", "together with the first arm": what else the
    hook goes through, in words; empty (and nothing read) if that is not told here.
    """
    start = cur.at
    if cur.take_words("layers"):
        said = said_of_place(cur, start)
        _ends_loosely(cur)
        return said
    together = cur.is_word("together") and cur.is_word("with", ahead=1)
    through = cur.is_word("in") and cur.is_listed("through")
    if not together and not through:
        return ""
    cur.at += 2 if together else 1
    said = said_of_place(cur, start) if takes_limb(cur) else ""
    if not said:
        cur.at = start
    return said


def _read_on_piece(cur: Cursor, number: Number | None) -> Place | None:
    """ "11 sc along the first leg", "sc in second leg": stitches of another piece of the work, one by one."""
    start = cur.at
    if not cur.take_words("in", "around", "across", "to"):
        return None
    first = cur.at
    if cur.is_word("next", "each", "any", "same", "space", "loop", "stitch", "ring") or not takes_limb(cur):
        cur.at = start
        return None
    return Place(number=1 if number is None else number, words=f"of {said_of_place(cur, first)}", span=cur.span(start))


def read_from_piece(cur: Cursor) -> list[Step] | None:
    """ "From the second leg ch 4", "on leg 1: ...": where the work stands, in front of a chain or a mark."""
    start = cur.at
    if not cur.take_words("from", "in"):
        return None
    named = False
    while cur.peek().kind in ("word", "unknown", "ord", "num") and not _ends(cur):
        chained = cur.peek(1).id == "ch" and cur.peek(2).kind != "num"
        if cur.peek().kind == "num" and (chained or not _is_limb(cur.peek(-1))):
            break
        named = named or _is_limb(cur.peek())
        cur.at += 1
    if not named or not (cur.peek().id == "ch" or cur.peek(1).id == "ch" or cur.is_mark(",", ":")):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def read_laid_on(cur: Cursor) -> list[Step] | None:
    """ "Hold the first arm against the body and sc ...": how another piece is held, in front of what is worked."""
    start = cur.at
    if not cur.take_listed("laying"):
        return None
    named = False
    while cur.peek().kind in ("word", "unknown", "ord") and not cur.is_word("and"):
        named = named or _is_limb(cur.peek())
        cur.at += 1
    worked = cur.peek(1).kind in ("num", "stitch") or cur.is_word("work", ahead=1)
    if not named or not (cur.is_mark(",") or (cur.is_word("and") and worked)):
        cur.at = start
        return None
    return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]


def read_joined_with(cur: Cursor) -> list[Step] | None:
    """ "Join to first leg with a sc": one stitch of that piece."""
    start = cur.at
    if not cur.take_words("join", "attach"):
        return None
    place = _read_on_piece(cur, 1)
    stitch = None
    if place is not None and cur.take_words("with"):
        cur.take_words("the")
        number = cur.take_kind("num")
        stitch = cur.take_kind("stitch") if number is None or number.value == 1 else None
    if place is None or stitch is None or stitch.id in ("ch", "sl-st"):
        cur.at = start
        return None
    return [Work(stitch.id, 1, replace(place, span=cur.span(start)), span=cur.span(start))]


def read_on_pieces(cur: Cursor, stitch: str, number: Number | None, start: int) -> list[Step] | None:
    """Where the stitch just read goes, if that is on another piece, through more than one, or around a chain's end."""
    found = _read_counted_other_side(cur, stitch, number, start) if "other-side" in cur.holds else None
    found = found or _read_seamed(cur, stitch, number, start)
    if found is not None:
        return found
    place = _read_on_piece(cur, number) if stitch != "sl-st" and "limbs" in cur.begun else None
    return [Work(stitch, 1, place, span=cur.span(start))] if place is not None else None


def _read_counted_other_side(cur: Cursor, stitch: str, number: Number | None, start: int) -> list[Step] | None:
    """ "Sc in the other side of the 4 ch": along the chain's other side, one stitch in each."""
    at = cur.at
    cur.take_words("in")
    cur.take_words("each", "of", "the")
    if cur.take_words("other-side"):
        cur.take_words("of", "the", "same", "each")
        many = cur.take_kind("num")
        cur.take_mark("-")
        if many is not None and number is None and cur.peek().id == "ch":
            cur.at += 1
            span = cur.span(start)
            return [Begin(Start.OTHER_SIDE, span=span), Work(stitch, 1, Place(number=many.value), span=span)]
    cur.at = at
    return None


def _read_seamed(cur: Cursor, stitch: str, number: Number | None, start: int) -> list[Step] | None:
    """ "Sc 6 through both layers", "sc in next 4 sts together with the arm", "sl st through both layers across"."""
    if not ("layers" in cur.holds or "together" in cur.holds or "through" in cur.begun):
        return None
    at = cur.at
    place = None
    seam = _read_seam(cur)
    if not seam:
        place = read_place(cur)
        plain = place is not None and place.what is What.STITCH and not place.words and not place.within
        seam = _read_seam(cur) if plain else ""
    if not seam:
        cur.at = at
        return None
    every = cur.take_words("across", "around") > 0
    if place is None:
        place = Place(number=number) if number is not None and number != 1 else Place()
        every = every or number is None
    whole = every and place.number == 1
    place = replace(place, which=Which.EACH if whole else place.which, words=seam, span=cur.span(at))
    span = cur.span(start)
    return [Slip(place, span)] if stitch == "sl-st" else [Work(stitch, 1, place, span=span)]


def through(steps: list[Step], said: str, span: Span) -> list[Step]:
    """The steps of a clause, told over `span`, in front of which the layers were named that the hook goes through."""
    return [_through(step, said[0].lower() + said[1:], span) for step in steps]


def _through(step: Step, said: str, span: Span) -> Step:
    place = step.place if isinstance(step, Work | Slip) else None
    if place is None or place.within is not None or place.what not in (What.STITCH, What.PIECE):
        return step
    if isinstance(step, Work) and step.each != 1:
        return replace(step, each=1, place=Place(number=step.each, words=said, span=place.span), span=span)
    whole = place.which is Which.EACH
    return replace(step, place=Place(which=place.which, number=1 if whole else place.number, words=said), span=span)


def takes_limb(cur: Cursor) -> bool:
    """Reads the words up to the end of the clause, if they name a part of a toy or garment and no stitch."""
    start = cur.at
    named = False
    while not (cur.done or _ends(cur)):
        word = cur.peek()
        if word.kind in ("stitch", "tog", "formula") or (word.kind == "num" and not _is_limb(cur.peek(-1))):
            cur.at = start
            return False
        named = named or _is_limb(word)
        cur.at += 1
    if not named:
        cur.at = start
    return named


def _ends(cur: Cursor) -> bool:
    if cur.peek().kind == "mark":
        return not (cur.is_mark("#") or (cur.is_mark("-") and cur.peek(-1).kind != "num"))
    if cur.is_word("with"):
        return cur.peek(1).kind in ("stitch", "num") or cur.peek(2).kind == "stitch"
    return cur.is_word(*_ENDS)


def _ends_loosely(cur: Cursor) -> None:
    """Reads "together", "at once" and "of the ear" behind "through both layers"."""
    cur.take_words("together", "at-once")
    start = cur.at
    if not (cur.take_words("of", "in") and takes_limb(cur)):
        cur.at = start


def _is_limb(word: Lexeme) -> bool:
    return word.text.lower() in listed("limbs")
