"""What a text says once for all its rows: what a beginning chain stands for, and that rounds go on in a spiral."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from convert.document.records import BeginningChain, Document, TermSystem
from convert.document.steps import Counts
from convert.instructions.chains.chain_counts import scope
from convert.source import Passage
from convert.terms.evidence import readings
from convert.terms.lookup import form_at, may_end
from convert.trade.patterns import articles, chain_length, said, signs
from convert.trade.words import words as word_table


@cache
def _says() -> re.Pattern[str]:
    """A chain, perhaps at the beginning of certain rows, that counts as something or does not."""
    the, rows = said("the", "each"), said("row", "round", "beginning")
    where = rf"(?:\s{said('in', 'of')}(?:\s{the})?\s{rows})*"
    stitch = rf"(?:(?:(?<=\sas)|(?<=\sas\sa)|(?<=\sas\sthe))\s{articles()}(?:{said('stitch')}\b|\S{{1,4}}))?"
    return re.compile(
        rf"(?:\b{the}\s)?(?:(?P<begin>{signs('beginning')})\s)?\b{chain_length('n1', 'n2')}"
        rf"(?P<where>{where})\s(?:(?P<no>{said('not-counts')}{stitch})|{said('counts-as')}\s{articles()})",
        re.IGNORECASE,
    )


@cache
def _more() -> re.Pattern[str]:
    """The chains in "counts as dc and ch 1"."""
    return re.compile(rf"\s?(?:{said('and')}|\+|,)\s?(?:{said('the')}\s)?{chain_length()}", re.IGNORECASE)


@cache
def _always() -> re.Pattern[str]:
    in_each = rf"{said('in')}\s{said('each')}\s{said('row', 'round')}"
    return re.compile(rf"\s(?:{said('throughout')}|{in_each})", re.IGNORECASE)


@cache
def _unless() -> re.Pattern[str]:
    return re.compile(signs("unless"), re.IGNORECASE)


@cache
def _spiral() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('spiral')}\b", re.IGNORECASE)


class Convention(Struct, frozen=True):
    """A convention, and whether the sentence says nothing else."""

    chain: BeginningChain
    whole: bool


def read_convention(sentence: Passage, system: TermSystem) -> Convention | None:
    """What a sentence says about beginning chains in general; None if it says nothing of the kind.

    >>> read_convention(Passage("Beginning ch 3 counts as dc throughout."), TermSystem.US).chain
    BeginningChain(chains=3, counts=Counts(stitch='dc', chains=0))
    """
    text = sentence.text
    match = _says().search(text)
    if match is None:
        return None
    counts, end = (Counts(), match.end()) if match["no"] else _counted(text, match.end(), system)
    always = _always().match(text, end)
    rest = text[: match.start()] + (text[always.end() :] if always else text[end:])
    whole = not re.search(r"\w", _unless().sub("", rest))
    if counts is None or not (match["begin"] or match["where"] or always or (match["no"] and whole)):
        return None
    return Convention(BeginningChain(int(match["n1"] or match["n2"]), counts), whole)


def tells_of_chain(text: str) -> bool:
    """Whether a text says what a beginning chain stands for, and so works none.

    >>> tells_of_chain("The ch 3 in each row is the first dc."), tells_of_chain("Ch 3, 8 dc in ring.")
    (True, False)
    """
    return _says().search(text) is not None


def with_said_in_rows(document: Document) -> Document:
    """The document with what rows say of their beginning chain for all rows: "Ch 3 (counts as dc throughout)".

    A length of which rows say different things, as two parts may, stays with the rows.
    """
    told: dict[int, set[Counts]] = {}
    for row in (row for part in document.parts for row in part.rows):
        for chain in _said_in_row(row.said, document.written):
            told.setdefault(chain.chains, set()).add(chain.counts)
    known = {chain.chains for chain in document.beginning_chains}
    more = [BeginningChain(n, each.pop()) for n, each in told.items() if len(each) == 1 and n not in known]
    return replace(document, beginning_chains=(*document.beginning_chains, *more)) if more else document


@cache
def _bracketed() -> re.Pattern[str]:
    return re.compile(rf"\b{chain_length()},?\s?[(\[]([^()\[\]]{{1,80}})[)\]]", re.IGNORECASE)


def _said_in_row(text: str, system: TermSystem) -> Iterator[BeginningChain]:
    """The conventions in brackets behind the chains of a row that speak of more than this row."""
    for match in _bracketed().finditer(text):
        inside = scope().sub(" ", _throughout().sub(" ", match[3])).strip(" ,")
        if inside != match[3]:
            number = match[1] or match[2]
            found = read_convention(Passage(f"ch {number} {inside}{_throughout_word()}"), system)
            if found is not None and found.whole:
                yield found.chain


@cache
def _throughout() -> re.Pattern[str]:
    return re.compile(rf"\b{said('throughout')}\b", re.IGNORECASE)


@cache
def _throughout_word() -> str:
    return f" {word_table()['throughout'].forms[0]}"


def _counted(text: str, start: int, system: TermSystem) -> tuple[Counts | None, int]:
    """What the chain counts as, and where the words for it end."""
    found = form_at(text, start, readings(system))
    if found is None or not may_end(text, found.end):
        return None, start
    more = _more().match(text, found.end)
    chains = int(more.group(1) or more.group(2)) if more else 0
    return Counts(readings(system)[found.form].id, chains), more.end() if more else found.end


def is_spiral(text: str) -> bool:
    """Whether a text says that its rounds go on in a spiral."""
    return bool(_spiral().search(text))


_SENTENCE_END = re.compile(r"(?<=[.!?])(?<!\b[A-Z][a-z]\.)(?<!\b[A-Z][a-z]{2}\.)\s+(?=[A-Z0-9])")
"""Behind a full stop, but not behind a short word with a capital, which is cut short by it."""


def sentences(passage: Passage) -> list[Passage]:
    """The sentences of a paragraph; "Lt." and "Dk." before a colour end none.

    >>> [sentence.text for sentence in sentences(Passage.at("Use a small hook. With Lt. Green ch 5.", 0, 0))]
    ['Use a small hook.', 'With Lt. Green ch 5.']
    """
    edges = [0, *(match.end() for match in _SENTENCE_END.finditer(passage.text)), len(passage.text)]
    return [passage.cut(a, b) for a, b in pairwise(edges)]
