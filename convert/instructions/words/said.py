"""Words of the row that are kept as they stand, with the stitches in them as terms."""

from __future__ import annotations

from functools import cache
from operator import is_
from typing import Any

from msgspec.structs import replace

from convert.document.prose import Prose, Term
from convert.document.records import Special, TermSystem
from convert.document.steps import Group, Repeat, Step, Verbatim
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import Lexeme
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


def with_terms(steps: tuple[Step, ...], system: TermSystem, specials: tuple[Special, ...]) -> tuple[Step, ...]:
    """The steps, with the stitches as terms in whatever words of them were put aside as they stood."""
    if not any(isinstance(step, _WORDED) for step in steps):
        return steps
    return tuple(_with_terms(step, system, specials) for step in steps)


_WORDED = (Verbatim, Repeat, Group)
"""Steps that may hold words."""


def _with_terms(step: Any, system: TermSystem, specials: tuple[Special, ...]) -> Any:
    if isinstance(step, Verbatim):
        words = step.words
        said = read_prose(words[0], system, specials) if len(words) == 1 and isinstance(words[0], str) else words
        return step if said == words else replace(step, words=said)
    if not isinstance(step, Repeat | Group):
        return step
    inner = with_terms(step.steps, system, specials)
    step = step if all(map(is_, inner, step.steps)) else replace(step, steps=inner)
    ending = step.ending if isinstance(step, Repeat) else None
    if ending is None or not ending.steps:
        return step
    return replace(step, ending=replace(ending, steps=with_terms(ending.steps, system, specials)))


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
