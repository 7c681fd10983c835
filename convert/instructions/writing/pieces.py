"""Small pieces from which instructions are written: numbers, nouns, places."""

from __future__ import annotations

import re

from convert.document.group_size import said_size
from convert.document.numbers import Number, PerSize
from convert.document.prose import Form, Prose, Term
from convert.document.steps import Loops, Origin, Place, What, Which
from convert.instructions.places.passed import PASSED
from convert.instructions.repeats.repeat import is_one
from convert.instructions.writing.wording import Wording
from convert.trade.patterns import listed
from convert.trade.stitches import post_stitch, stitches
from convert.trade.words import words

_LOOP_WORDS = {
    Loops.BACK: "back-loop",
    Loops.FRONT: "front-loop",
    Loops.THIRD: "third-loop",
    Loops.BUMP: "back-bump",
}
_POSTS = {Loops.FRONT_POST: "front", Loops.BACK_POST: "back"}
_ORDINALS = {1: "st", 2: "nd", 3: "rd"}


def joined(*parts: str | Term | Prose) -> Prose:
    """Parts put together, with neighbouring strings made one.

    >>> joined("a ", ("b", Term("dc")), "", "c")
    ('a b', Term(id='dc', form=<Form.ABBREVIATION: 'abbreviation'>, legs=0, capital=False), 'c')
    """
    out: list[str | Term] = []
    for part in parts:
        for piece in part if isinstance(part, tuple) else (part,):
            if isinstance(piece, str) and out and isinstance(out[-1], str):
                out[-1] += piece
            elif piece != "":
                out.append(piece)
    return tuple(out)


def separated(parts: list[Prose], between: str) -> Prose:
    """Parts with a separator between them."""
    out: Prose = ()
    for index, part in enumerate(parts):
        out = joined(out, between, part) if index else part
    return out


def ordinal(number: int) -> str:
    """The ordinal in figures.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 22)]
    ['1st', '2nd', '3rd', '4th', '11th', '22nd']
    """
    ending = "th" if number % 100 in (11, 12, 13) else _ORDINALS.get(number % 10, "th")
    return f"{number}{ending}"


def write_number(number: Number, wording: Wording) -> str:
    """The number for one size or for all: "48", "48 (56, 64)"."""
    if isinstance(number, int):
        return str(number)
    if isinstance(number, PerSize):
        return write_values(number.values, wording.size)
    values = wording.values.get(number.text)
    if values is None:
        return f"{{{number.text}}}"
    written = write_values(values, wording.size)
    return f"{written} {{= {number.text}}}" if wording.formulas else written


def write_values(values: tuple[int | None, ...], size: int | None) -> str:
    """Values in the trade's form for several sizes; a dash where a size leaves the step out.

    >>> write_values((48, 56, None), None), write_values((48, 56, None), 1), write_values((7, 7), None)
    ('48 (56, –)', '56', '7')
    """
    texts = ["–" if v is None else str(v) for v in values]
    if size is not None:
        return texts[size] if size < len(texts) else "–"
    if values and values[0] is not None and len(set(values)) == 1:
        return texts[0]
    return f"{texts[0]} ({', '.join(texts[1:])})" if len(texts) > 1 else "".join(texts)


def stitch_term(id: str, wording: Wording, *, capital: bool = False) -> str | Term:
    """A stitch as a term; the author's own and the trade's alike."""
    if id in stitches() or any(s.id == id for s in wording.specials):
        return Term(id, Form.ABBREVIATION, 0, capital)
    return id


def counted_term(of: str, wording: Wording, many: Number) -> Prose:
    """A counted stitch; a group that is called by its full name stands in the plural, "sl st" in that of its own."""
    for legs in range(2, 10):
        if of.endswith(f"{legs}tog"):
            return (Term(of.removesuffix(f"{legs}tog"), legs=legs),)
    if is_one(many):
        return (stitch_term(of, wording),)
    if _named_in_full(of, wording):
        return (Term(of, Form.PLURAL),)
    entry = None if any(s.id == of for s in wording.specials) else stitches().get(of)
    return joined(stitch_term(of, wording), entry.names(wording.system).ending if entry is not None else "")


def _named_in_full(id: str, wording: Wording) -> bool:
    own = next((s for s in wording.specials if s.id == id), None)
    if own is not None:
        return bool(own.plural) and own.abbreviation.casefold() in ("", own.name.casefold())
    entry = stitches().get(id)
    names = entry.names(wording.system) if entry is not None else None
    return names is not None and names.abbreviation == names.name


def word(id: str, wording: Wording) -> str:
    """A word in the edition's system."""
    return words()[id].written(wording.system)


def plural_word(id: str, wording: Wording, number: Number) -> str:
    """A word in the singular or plural."""
    entry = words()[id]
    return entry.written(wording.system) if is_one(number) or not entry.plural else entry.plural


def posted(stitch: str, place: Place | None) -> str:
    """The stitch's id, or that of its post form if the place is a post."""
    if place is not None and place.loops in _POSTS:
        post = post_stitch(stitch, _POSTS[place.loops])
        if post is not None:
            return post.id
    return stitch


def is_post(place: Place) -> bool:
    """Whether the hook goes around the post."""
    return place.loops in _POSTS


def preposition(place: Place) -> str:
    """ "in" or, for posts, "around"."""
    return "around" if is_post(place) else "in"


def write_place(place: Place, wording: Wording, *, ending: str = "around") -> Prose:
    """A place without its preposition: "each of next 5 dc", "next ch-3 sp", "each st around".

    `ending` is "around" or "across", for "each st around".
    """
    main = _phrase(place, wording, of_each=True)
    if place.which is Which.EACH and place.words == PASSED:
        return main
    if place.which is Which.EACH:
        further = [joined(" and in ", _phrase(other, wording)) for other in place.also]
        return joined(main, *further, f" {ending}" if ending else "")
    return main


def _phrase(place: Place, wording: Wording, *, of_each: bool = False) -> Prose:
    loops = f"{word(_LOOP_WORDS[place.loops], wording)} of " if place.loops in _LOOP_WORDS else ""
    if place.what is What.RING:
        return joined(loops, word("ring", wording))
    if place.what is What.PIECE and place.words:
        return worded(place.words, wording)
    if place.what is What.GAP:
        return joined(loops, _gap(place, wording))
    if place.what is What.BEGINNING_CHAIN:
        return joined(loops, _beginning_chain(place, wording))
    if place.origin is Origin.HOOK:
        return joined(f"{loops}{ordinal(place.nth or 1)} ", Term("ch"), " from hook", _words(place, wording))
    if place.what is What.ROW_END and place.which is Which.ANY:
        return joined(loops, word("row-ends", wording), _within(place, wording), _words(place, wording))
    if place.which is Which.MADE and place.what is What.SPACE:
        return joined(loops, _noun(place, wording), " just made")
    if place.which is Which.MADE and not is_one(place.number):
        return joined(f"the {write_number(place.number, wording)} ", _noun(place, wording), " just made")
    if place.which is Which.MADE:
        return joined(loops, "top of ", _noun(place, wording), " just made")
    if place == Place(What.SPACE, chains=place.chains, within=Place(What.BEGINNING_CHAIN)):
        return joined(_begun(place, wording), f" {word('space', wording)}")
    passed = f"{word('skipped', wording)} " if place.words == PASSED else ""
    which = _which(place, wording, of_each) + (_state(place) or passed)
    return joined(loops, which, _noun(place, wording), _within(place, wording), _below(place), _words(place, wording))


def _below(place: Place) -> str:
    return f" {place.below} row{'s' if place.below > 1 else ''} below" if place.below else ""


def worded(words: str, wording: Wording) -> Prose:
    """Words about a place, with the stitches in them (`{id}`) as terms."""
    parts = _STITCH.split(words)
    return joined(*(stitch_term(part, wording) if index % 2 else part for index, part in enumerate(parts)))


_STITCH = re.compile(r"\{([a-z0-9-]+)\}")


def _words(place: Place, wording: Wording) -> Prose:
    if place.words == PASSED or _size(place) is not None:
        return ()
    words = place.words.removeprefix(_state(place).strip()).strip()
    return joined(" ", worded(words, wording)) if words else ()


def _size(place: Place) -> tuple[int, str] | None:
    return said_size(place.words.removeprefix(_state(place)))


def _state(place: Place) -> str:
    """The word in front of the noun that tells whether something was worked there, with a blank; else empty."""
    word = place.words.split(" ", 1)[0]
    return f"{word} " if word == "free" or word in listed("unfinished") else ""


def _which(place: Place, wording: Wording, of_each: bool) -> str:
    number = write_number(place.number, wording)
    several = "" if is_one(place.number) else f"{number} "
    if place.which is Which.SKIPPED:
        one = "first " if place.nth == 1 else f"{ordinal(place.nth)} " if place.nth else "next " if several else ""
        return f"{one}{several}{word('skipped', wording)} "
    if place.which is Which.NTH or (place.nth is not None and place.which is Which.NEXT):
        return f"{ordinal(place.nth or 1)} "
    if place.which is Which.EACH:
        return "each " if place.every == 1 else "every other " if place.every == 2 else f"every {ordinal(place.every)} "
    said = {
        Which.NEXT: "next",
        Which.SAME: "same",
        Which.FIRST: "first",
        Which.LAST: "last",
        Which.CENTER: word("centre", wording),
        Which.REST: word("remaining", wording),
        Which.ANY: "any",
    }
    return f"{said[place.which]} {several}"


def _many(place: Place) -> Number:
    return 2 if place.which is Which.REST else place.number


def _noun(place: Place, wording: Wording) -> Prose:
    many = _many(place)
    size = _size(place)
    if size is not None:
        group = place.what is What.GROUP
        noun = (plural_word("group", wording, many),) if group else counted_term(place.of or "", wording, many)
        return joined(f"{size[0]}-", stitch_term(size[1], wording), " ", noun)
    if place.what is What.SPACE:
        space = plural_word("space", wording, many)
        return joined(Term("ch"), f"-{place.chains} ", space) if place.chains is not None else (space,)
    if place.what is What.CHAIN:
        return joined(Term("ch"))
    if place.what is What.CORNER:
        return _corner(place, wording)
    if place.what is What.GROUP:
        return joined(Term(place.of) if place.of else "", " " if place.of else "", plural_word("group", wording, many))
    if place.what is What.MARKER:
        return ("marked st",)
    if place.what is What.ROW_END:
        ends = "row end" if is_one(many) else "row ends"
        return joined(stitch_term(place.of, wording), f" {ends}") if place.of else (ends,)
    if place.what is What.PIECE:
        return ("place",)
    if place.of is not None:
        return joined(counted_term(place.of, wording, many))
    return (plural_word("stitch", wording, many),)


def _corner(place: Place, wording: Wording) -> Prose:
    if place.chains is not None:
        return joined("corner ", Term("ch"), f"-{place.chains} ", plural_word("space", wording, place.number))
    if place.of is not None:
        return joined("corner ", stitch_term(place.of, wording))
    return (plural_word("corner", wording, place.number),)


def _gap(place: Place, wording: Wording) -> Prose:
    if place.words:
        return joined("gap between ", worded(place.words, wording))
    if place.which is Which.NTH and place.nth is not None:
        noun = joined(stitch_term(place.of, wording)) if place.of else ("sts",)
        return joined(f"gap between {ordinal(place.nth)} and {ordinal(place.nth + 1)} ", noun, _within(place, wording))
    if place.which is Which.SAME:
        return ("same gap",)
    if place.which is Which.EACH or not is_one(place.number):
        many = "each gap" if place.which is Which.EACH else f"next {write_number(place.number, wording)} gaps"
        if place.within is not None:
            return joined(f"{many} between ", _noun_plural(place.within, wording))
        return joined(f"{many} between ", counted_term(place.of, wording, 2)) if place.of is not None else (many,)
    if place.within is not None:
        return joined("gap between next ", _noun_plural(place.within, wording))
    if place.of is not None:
        return joined("gap between next 2 ", stitch_term(place.of, wording))
    return ("next gap",)


def _noun_plural(place: Place, wording: Wording) -> Prose:
    return (plural_word("group", wording, 2),) if place.what is What.GROUP else _noun(place, wording)


def _beginning_chain(place: Place, wording: Wording) -> Prose:
    chain = _begun(place, wording)
    if place.nth is not None:
        return joined(f"{ordinal(place.nth)} ", Term("ch"), " of ", chain)
    return joined("top of ", chain)


def _begun(place: Place, wording: Wording) -> Prose:
    """ "Beg ch-3"."""
    start = word("beginning-chain", wording).removesuffix(" ch")
    return joined(f"{start} ", Term("ch"), "" if place.chains is None else f"-{place.chains}")


def _within(place: Place, wording: Wording) -> Prose:
    if place.within is None:
        return ()
    return joined(" of ", _phrase(place.within, wording))
