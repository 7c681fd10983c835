"""The key to the language of the edition: terms notice, abbreviations with their equivalents, special stitches."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from msgspec.structs import replace

from convert.document.prose import Form, Prose, Term
from convert.document.records import BeginningChain, Special, TermSystem
from convert.exporters.page.edition import Edition
from convert.exporters.page.explained import Explained, explained
from convert.exporters.page.records import Abbreviation, Definition, Flow
from convert.exporters.page.typeset import plain_text
from convert.instructions.writing.writer import definition
from convert.terms.naming import term, write_prose
from convert.trade.patterns import chain as chain_name
from convert.trade.patterns import said as forms_of
from convert.trade.stitches import stitches
from convert.trade.words import words


def abbreviations(edition: Edition, printed: Sequence[str]) -> tuple[Abbreviation, ...]:
    """Every abbreviation that the edition prints (see `used_terms`), in the order of the alphabet."""
    own = {special.id for special in edition.document.specials}
    authors = explained(edition.document)
    found: list[Abbreviation] = []
    for used in printed:
        id, _, legs = used.partition(":")
        if id in own:
            continue
        entry = _stitch(edition, id, int(legs or 0)) if id in stitches() else _word(edition, id)
        if entry is not None:
            told = [_said(edition, one, entry.meaning) for one in authors if one.short(edition) == entry.short]
            found.append(replace(entry, meaning="; ".join(told) or _usual(edition, id, entry.meaning)))
    listed = {entry.short for entry in found}
    found += [
        Abbreviation(one.short(edition), _said(edition, one, "")) for one in authors if one.short(edition) not in listed
    ]
    return tuple(sorted(found, key=lambda entry: (entry.short.casefold(), entry.short)))


def _said(edition: Edition, one: Explained, meaning: str) -> str:
    """The author's words, behind the name of the trade where they do not hold it: "increase: 2 sc in next st"."""
    words = plain_text(edition.flow(one.meaning))
    return words if not meaning or meaning.casefold() in words.casefold() else f"{meaning}: {words}"


def _usual(edition: Edition, id: str, meaning: str) -> str:
    """The name, and how the stitch is worked where the name does not tell."""
    stitch = stitches().get(id)
    how = stitch.names(edition.system).meaning if stitch is not None else ""
    return f"{meaning}: {how}" if how else meaning


def _stitch(edition: Edition, id: str, legs: int) -> Abbreviation | None:
    short = term(id, edition.system, legs=legs)
    name = term(id, edition.system, Form.NAME, legs)
    there = term(id, edition.other, legs=legs)
    if short.casefold() == name.casefold() and short == there:
        return None
    return Abbreviation(short, name, there if there != short else "")


def _word(edition: Edition, id: str) -> Abbreviation | None:
    word = words()[id]
    meaning = word.meaning(edition.system)
    if not meaning or meaning == word.written(edition.system):
        return None
    short, there = word.written(edition.system), word.written(edition.other)
    if meaning.endswith(")") and word.plural.startswith(short):
        short = f"{short}({word.plural[len(short) :]})"
    return Abbreviation(short, meaning, there if there != word.written(edition.system) else "")


def notice(edition: Edition, printed: Sequence[str]) -> Flow:
    """Which terms the pattern is written in, with a stitch that others call by another name as the example."""
    said: Prose = (edition.say("written-in"),)
    id = None if edition.manner.full_words else _mistakable(edition, printed)
    if id is None:
        return edition.flow(said)
    here, name = term(id, edition.system), term(id, edition.system, Form.NAME)
    example = edition.say("not-the-same", here=here, name=name, there=term(id, edition.other))
    return edition.flow((f"{said[0]} {example}",))


def _mistakable(edition: Edition, printed: Sequence[str]) -> str | None:
    """The first stitch printed that the other system calls by another stitch's abbreviation, or else just otherwise."""
    foreign = {stitch.names(edition.other).abbreviation: id for id, stitch in stitches().items()}
    ids = [id for id in (used.partition(":")[0] for used in printed) if id in stitches()]
    otherwise = [id for id in ids if term(id, edition.system) != term(id, edition.other)]
    mistakable = [id for id in otherwise if foreign.get(term(id, edition.system), id) != id]
    return next(iter(mistakable or otherwise), None)


def definitions(edition: Edition) -> tuple[Definition, ...]:
    """The author's own stitches."""
    return tuple(_definition(edition, special) for special in edition.document.specials)


def _definition(edition: Edition, special: Special) -> Definition:
    how: list[Flow] = []
    if special.steps:
        how.append(edition.flow(definition(special.steps, edition.wording), marks=True))
    if special.words:
        how.append(edition.flow(special.words))
    name = special.name or special.abbreviation
    short = special.abbreviation if special.abbreviation.casefold() != name.casefold() else ""
    return Definition(name[:1].upper() + name[1:], short, tuple(how))


_HERE, _THERE = "\ue000", "\ue001"
"""Stand for the terms of a sentence until it is put together."""


def beginning_chains(edition: Edition) -> tuple[Flow, ...]:
    """What beginning chains stand for, where the document says it once for the whole pattern and no note of the
    author's tells it already.
    """
    document = edition.document
    notes = [write_prose(note, document.written, document.specials) for note in document.notes]
    return tuple(
        edition.flow(_chain_sentence(edition, chain))
        for chain in document.beginning_chains
        if not any(_tells(note, chain) for note in notes)
    )


@cache
def _beginning() -> re.Pattern[str]:
    return re.compile(rf"\b{forms_of('beginning')}\b", re.IGNORECASE)


@cache
def _counting() -> re.Pattern[str]:
    return re.compile(rf"\b{forms_of('counts-as', 'not-counts')}\b", re.IGNORECASE)


@cache
def _chains() -> re.Pattern[str]:
    return re.compile(rf"\b{chain_name()}\b[ -]?(\d*)", re.IGNORECASE)


def _tells(note: str, told: BeginningChain) -> bool:
    """Whether a note says whether this chain counts, or whether any does."""
    counting = _counting().search(note)
    if counting is None or not _beginning().search(note):
        return False
    numbers = set(_chains().findall(note[: counting.start()]))  # "counts as dc and ch 1" is another chain
    return str(told.chains) in numbers or numbers == {""}


def _chain_sentence(edition: Edition, chain: BeginningChain) -> Prose:
    counts = chain.counts
    what: Prose = ("1 ", Term(counts.stitch)) if counts.stitch else ()
    if counts.chains:
        what = (*what, *((" and ",) if what else ()), Term("ch"), f" {counts.chains}")
    said = edition.say("chain-counts" if what else "chain-not", chain=_HERE, what=_THERE)
    before, _, rest = said.partition(_HERE)
    between, _, behind = rest.partition(_THERE)
    made = (Term("ch", capital=not before), f" {chain.chains}{between}")
    return tuple(part for part in (before, *made, *what, behind) if part)


def language(system: TermSystem) -> str:
    """The language of the edition, as a tag.

    >>> language(TermSystem.UK)
    'en-GB'
    """
    return "en-US" if system is TermSystem.US else "en-GB"
