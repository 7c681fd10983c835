"""The forms in which running text names a stitch or a word of the trade, for one term system."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache, lru_cache

from msgspec import Struct

from convert.document.prose import Form
from convert.document.records import TermSystem
from convert.terms.lookup import first_words, key
from convert.trade.stitches import Names, Stitch, stitches
from convert.trade.tables import table
from convert.trade.words import words

_LONG_WORD = 5
_TAILS = ("s", " st", " sts", " stitch", " stitches")


class Sense(Struct, frozen=True):
    """What a form names.

    `settled` tells that other spellings of it are brought into the standard form, `takes_s` that a plural "s" may
    follow.
    """

    id: str
    form: Form = Form.ABBREVIATION
    settled: bool = False
    takes_s: bool = False


class Forms(Struct, frozen=True):
    """All forms of one system. `senses` holds None for what is left alone; `bases` are those that may be decreased,
    `firsts` the first words of all.
    """

    senses: dict[str, Sense | None]
    bases: frozenset[str]
    firsts: frozenset[str]


@lru_cache(maxsize=64)
def prose_forms(system: TermSystem, specials: tuple[tuple[str, str, str, str], ...] = ()) -> Forms:
    """The forms of a system and of the author's stitches, each given as (id, name, abbreviation, plural)."""
    senses: dict[str, Sense | None] = dict(_trade(system))
    for id, name, abbreviation, plural in specials:
        for text, form in ((plural, Form.PLURAL), (name, Form.NAME), (abbreviation, Form.ABBREVIATION)):
            if len(text) > 1 and text[0].isalpha():
                senses[key(text)] = Sense(id, form, takes_s=form is Form.ABBREVIATION and not text.endswith("s"))
    return Forms(senses, _bases(system), first_words(senses))


@cache
def _bases(system: TermSystem) -> frozenset[str]:
    """The forms that a number of legs and "tog" may follow."""
    decreased = (stitch.names(system) for stitch in stitches().values() if stitch.legs)
    return frozenset(key(form) for names in decreased for form in (names.abbreviation, names.name, *names.variants))


@cache
def _trade(system: TermSystem) -> dict[str, Sense | None]:
    """What the trade's tables say, without the words that running text uses in another meaning."""
    other = TermSystem.UK if system is TermSystem.US else TermSystem.US
    elsewhere = {key(form): stitch.id for stitch in stitches().values() for form in _all(stitch.names(other))}
    senses: dict[str, Sense | None] = {}
    for stitch in stitches().values():
        senses.update(_of_stitch(stitch, system, other, elsewhere))
    for word in words().values():
        if word.text:
            senses[key(word.written(system))] = Sense(word.id, settled=bool(word.meaning_us))
    left_alone = table("systems")["left_alone"]
    return {**senses, **{key(str(form)): None for form in left_alone}}


def _of_stitch(
    stitch: Stitch, system: TermSystem, other: TermSystem, elsewhere: dict[str, str]
) -> Iterator[tuple[str, Sense]]:
    names, others = stitch.names(system), stitch.names(other)
    takes_s = not names.abbreviation.endswith("s") and not others.abbreviation.endswith("s")

    def settled(form: str) -> bool:
        differs = elsewhere.get(key(form)) != stitch.id
        return differs or (names.abbreviation != others.abbreviation and key(form) == key(others.abbreviation))

    for variant in names.variants:
        if settled(variant) and "." not in variant and not _is_tailed(variant, names):
            yield key(variant), Sense(stitch.id, _form_of(variant), settled=True)
    if names.name != others.name:
        yield key(names.plural), Sense(stitch.id, Form.PLURAL, settled(names.plural))
        yield key(names.name), Sense(stitch.id, Form.NAME, settled(names.name))
    yield key(names.abbreviation), Sense(stitch.id, Form.ABBREVIATION, settled(names.abbreviation), takes_s)


def _all(names: Names) -> tuple[str, ...]:
    return (names.abbreviation, names.name, names.plural, *names.variants)


def _is_tailed(variant: str, names: Names) -> bool:
    """Whether the variant is a standard form with a plural or "stitch" after it, which may stand there as text."""
    return any(key(variant) == key(form + tail) for form in (names.abbreviation, names.name) for tail in _TAILS)


def _form_of(variant: str) -> Form:
    """Long words make a name: "half double" is written out where "half dc" is abbreviated."""
    if all(len(word) < _LONG_WORD for word in re.split(r"[\s-]", variant)):
        return Form.ABBREVIATION
    return Form.PLURAL if variant.endswith("s") else Form.NAME
