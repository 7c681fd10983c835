"""Tells stitches that a row only names: in brackets, by a name of two words, or by "which makes a ...". What belongs to
them is not told, so that rows with them are read and not executed.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import chain

from convert.document.records import Special
from convert.document.slugs import slug
from convert.instructions.words.cursor import Context
from convert.instructions.words.lexicon import lexemes
from convert.source import Passage
from convert.trade.patterns import either, listed, number_words, said, signs
from convert.trade.stitches import stitches
from convert.trade.tables import table

_NAME = re.compile(r"\(([^\W\d_][\w .'’-]{2,38})\)(?!\s*(?:\d|x\b|in\b|times|twice|once))")
_MOST_WORDS = 4


def named_in_passing(body: Passage, context: Context) -> tuple[Special, ...]:
    """The stitches that a row names: "... draw through all loops (reed st)", "a reed-stitch in next sp", "which makes a
    knot; repeat, making 12 knots in all".
    """
    found: dict[str, Special] = {}
    words = frozenset(_LETTERS.findall(body.text.lower()))
    readers = [
        *((_bracketed,) if "(" in body.text else ()),
        *((_compounds,) if not words.isdisjoint(listed("compound")) else ()),
        *((_made,) if not words.isdisjoint(_results()) else ()),
        *((_counted,) if not words.isdisjoint(listed("until")) else ()),
    ]
    if not readers:
        return ()
    told = (read(body, context) for read in readers)
    for name, plural, start in chain.from_iterable(told):
        id = slug(name)
        if id and not any(special.id == id for special in context.specials):
            span = body.span(start, start + len(name))
            found.setdefault(id, Special(id, name, name, plural=plural, span=span))
    return tuple(found.values())


_LETTERS = re.compile(r"[a-z]+")


@cache
def _results() -> frozenset[str]:
    """The words that "which makes" and its like begin with."""
    return frozenset(form.split(" ", 1)[0] for form in table("asides")["results"])


_Found = Iterator[tuple[str, str, int]]
"""Name, plural (empty for the usual one) and where the name stands."""


def _bracketed(body: Passage, context: Context) -> _Found:
    for match in _NAME.finditer(body.text):
        name = " ".join(match.group(1).split())
        if _is_new_stitch(name, context):
            yield name, "", match.start(1)


def _compounds(body: Passage, context: Context) -> _Found:
    """ "A reed-stitch in next space", "4 reed-stitches": used as stitches are, and no stitch of sewing."""
    for match in _compound().finditer(body.text) if "-" in body.text else ():
        first, noun = match["first"].lower(), match["noun"].lower()
        used = match["counted"] or match["placed"]
        if used and first not in table("signs")["sewn"] and _is_unknown(first, context):
            one = noun.removesuffix("es")
            yield f"{first}-{one}", f"{first}-{one}es", match.start("first")


@cache
def _compound() -> re.Pattern[str]:
    counted = rf"(?:(?:\d+|{either(number_words())})\s(?:{said('more')}\s)?)?"
    name = rf"(?P<first>[a-z]{{3,16}})-(?P<noun>{signs('compound')})\b"
    return re.compile(rf"\b(?P<counted>{counted}){name}(?P<placed>\s{said('in')}\b)?", re.IGNORECASE)


def _made(body: Passage, context: Context) -> _Found:
    """ "Which makes a knot; repeat, making 12 knots in all": a name that is counted in the same row."""
    match = which_makes().search(body.text)
    if match is None or not _is_unknown(match[1], context):
        return
    name = match[1].lower()
    counted = re.search(rf"(?:\d+|{either(number_words())})\s({name}e?s)\b", body.text, re.IGNORECASE)
    if counted:
        yield name, counted[1].lower(), match.start(1)


def _counted(body: Passage, context: Context) -> _Found:
    """ "Draw a loop through ...; repeat until you have made 6 tufts": the name of what the motions make."""
    match = _until_made().search(body.text)
    if match is None or not _motion().search(body.text, 0, match.start()):
        return
    plural = match[1].lower()
    if all(_is_unknown(name, context, piece=True) for name in (plural, plural[:-1])):
        yield plural[:-1], plural, match.start(1)


@cache
def _until_made() -> re.Pattern[str]:
    number = rf"(?:\d+|{either(number_words())})"
    return re.compile(rf"\b{signs('until')}\s{signs('until_there_are')}\s{number}\s([a-z]{{3,15}}s)\b", re.IGNORECASE)


@cache
def _motion() -> re.Pattern[str]:
    return re.compile(rf"\b{said('draw-up', 'insert', 'yarn-over')}\b", re.IGNORECASE)


@cache
def which_makes() -> re.Pattern[str]:
    """ "Which makes a knot", with the name as its group."""
    return re.compile(rf"\b{either(table('asides')['results'])}\s{said('the')}\s([a-z]{{3,16}})\b", re.IGNORECASE)


def _is_unknown(word: str, context: Context, *, piece: bool = False) -> bool:
    """Whether the word is none of the tables; with `piece` also one for a piece of work, as a motif ("star") is."""
    found = lexemes(word, context.system, context.specials)
    return len(found) == 1 and (found[0].kind == "unknown" or (piece and found[0].id == "piece"))


def _is_new_stitch(name: str, context: Context) -> bool:
    """Whether a name is "<unknown> st" or a group stitch with a word in front that tells it from others of its kind."""
    words = lexemes(name, context.system, context.specials)
    if not 2 <= len(words) <= _MOST_WORDS:
        return False
    *before, last = words
    if any(word.kind not in ("unknown", "stitch") and word.id != "beginning" for word in before):
        return False
    entry = stitches().get(last.id) if last.kind == "stitch" else None
    if last.kind == "word" and last.id == "stitch":
        return before[0].kind == "unknown"
    if last.kind == "word" and last.id == "loop":
        return all(word.kind == "stitch" and stitches()[word.id].decoration for word in before if word.id in stitches())
    return entry is not None and (entry.unit or before[0].kind == "unknown")
