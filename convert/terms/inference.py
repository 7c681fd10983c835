"""Tells which term system a text is written in, and what in it contradicts the system that it claims."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from msgspec import Struct

from convert.document.records import TermSystem
from convert.source import Passage, Span
from convert.terms.evidence import marks, readings, stitch_forms
from convert.terms.lookup import find_forms, form_at, key, may_end
from convert.trade.patterns import articles, chain, chain_length, said

_OVERWHELMING = 5
"""How many times more strong evidence one side needs where both sides have some."""
_CHAIN_WEIGHT = 2
_FIGURE = re.compile(r"[\s-]?(\d{1,2})\b")
_LAST_WORDS = re.compile(r"[^\W\d_]+")


@cache
def _counting() -> re.Pattern[str]:
    """A chain, a few words, "counts as" (or "for" at once) and what may stand between that and the stitch."""
    return re.compile(
        rf"\b{chain_length()}\b(?:[^.;:*\[\]]{{0,40}}?\b{said('counts-as')}|\s{said('for')})\s{articles()}",
        re.IGNORECASE,
    )


@cache
def _length() -> re.Pattern[str]:
    """A chain with its length: the nearest one in front is what counts, and no ring of chains before it."""
    return re.compile(rf"\b{chain_length()}\b", re.IGNORECASE)


@cache
def _denied() -> re.Pattern[str]:
    return re.compile(rf"\b{said('not-counts')}\b", re.IGNORECASE)


@cache
def _more() -> re.Pattern[str]:
    """The chains in "counts as dc and ch 1"."""
    return re.compile(rf"\s?(?:,|\+|{said('and')})\s?{chain_length()}", re.IGNORECASE)


@cache
def _into_chain() -> re.Pattern[str]:
    nth = rf"(\d{{1,2}})(?:st|nd|rd|th)\s(?:{chain()}|{said('stitch')})"
    return re.compile(rf"\s{said('in')}\s(?:{said('the')}\s)?{nth}\s{said('from')}\s{said('hook')}\b", re.IGNORECASE)


@cache
def _decreased() -> re.Pattern[str]:
    return re.compile(rf"\s?\d{{1,2}}\s?{said('together')}", re.IGNORECASE)


class Evidence(Struct, frozen=True):
    """A word that speaks for a system. Strong evidence is a word that the other system does not have."""

    system: TermSystem
    word: str
    span: Span
    strong: bool


class Inferred(Struct, frozen=True):
    """The system found (None: it cannot be told), what speaks for it, and what speaks against it.

    Where it cannot be told because the text contradicts itself, `conflicts` holds what speaks for either side.
    """

    system: TermSystem | None
    evidence: tuple[Evidence, ...]
    conflicts: tuple[Evidence, ...]


def infer_system(passages: Sequence[Passage], stated: TermSystem | None) -> Inferred:
    """The system of a text: the stated one, or what its words tell. Each word is kept once, where it first stands.

    >>> infer_system([Passage("Ch 3 (counts as tr), tr in next st")], None).system
    <TermSystem.UK: 'uk'>
    >>> infer_system([Passage("Rnd 2: 2 sc in each st")], TermSystem.UK).conflicts[0].word
    'sc'
    """
    weights: dict[Evidence, int] = {}
    number = dict.fromkeys(TermSystem, 0)
    seen: set[tuple[TermSystem, str]] = set()
    for evidence, weight in _all_evidence(passages):
        number[evidence.system] += evidence.strong
        if (evidence.system, key(evidence.word)) not in seen:
            seen.add((evidence.system, key(evidence.word)))
            weights[evidence] = weight
    system = stated or _told(number, weights)
    strong = tuple(e for e in weights if e.strong)
    contradicted = all(number.values())
    if system is None:
        return Inferred(None, () if contradicted else tuple(weights), strong if contradicted else ())
    against = tuple(e for e in strong if e.system is not system)
    if _old_fashioned(against):
        against = ()
    return Inferred(system, tuple(e for e in weights if e.system is system), against)


def _old_fashioned(strong: Sequence[Evidence]) -> bool:
    """Whether all these words may stand in an old book of the other system."""
    return all(key(evidence.word) in marks().older for evidence in strong)


def _told(strong: dict[TermSystem, int], weights: dict[Evidence, int]) -> TermSystem | None:
    us, uk = strong[TermSystem.US], strong[TermSystem.UK]
    if (us or uk) and not _old_fashioned([evidence for evidence in weights if evidence.strong]):
        more = TermSystem.US if us > uk else TermSystem.UK
        return more if max(us, uk) >= _OVERWHELMING * min(us, uk) else None
    leaning = dict.fromkeys(TermSystem, 0)
    for evidence, weight in weights.items():
        leaning[evidence.system] += marks().decides if evidence.strong else weight
    margin = leaning[TermSystem.US] - leaning[TermSystem.UK]
    if abs(margin) < marks().decides:
        return None
    return TermSystem.US if margin > 0 else TermSystem.UK


def _all_evidence(passages: Sequence[Passage]) -> Iterator[tuple[Evidence, int]]:
    for passage in passages:
        yield from _words(passage)
        yield from _counted_chains(passage)
        yield from _from_hook(passage)


def _words(passage: Passage) -> Iterator[tuple[Evidence, int]]:
    """Words that one system has, or leans to."""
    text, known = passage.text, marks().marks
    for found in find_forms(text, known, marks().firsts):
        end = found.end - found.plural
        if may_end(text, found.end) or _decreased().match(text, found.end):
            mark = known[found.form]
            yield (
                Evidence(mark.system, text[found.start : end], passage.span(found.start, end), mark.strong),
                mark.weight,
            )


def _counted_chains(passage: Passage) -> Iterator[tuple[Evidence, int]]:
    """Chains that count as a stitch, and perhaps as further chains: "ch 4 (counts as dc and ch 1)"."""
    text = passage.text
    for match in _counting().finditer(text):
        stitch = form_at(text, match.end(), stitch_forms())
        if stitch is None or _denied().search(match.group()):
            continue
        more = _more().match(text, stitch.end)
        end = more.end() if more else stitch.end
        nearest = [match, *_length().finditer(text, match.start(), match.end())][-1]
        behind = _FIGURE.match(text, nearest.end()) if nearest.group(2) else None  # the "4 Ch 3" of "Row 4 Ch 3"
        chains = (int(behind[1]) if behind else _figure(nearest)) - (_figure(more) if more else 0)
        system = _system_of_height(stitch.form, chains, counted=True)
        if system is not None:
            start = nearest.start()
            yield Evidence(system, text[start:end], passage.span(start, end), strong=True), 0


def _figure(match: re.Match[str]) -> int:
    return int(match.group(1) or match.group(2))


def _from_hook(passage: Passage) -> Iterator[tuple[Evidence, int]]:
    """The first stitch into the foundation: "dc in 4th ch from hook"."""
    text = passage.text
    for match in _into_chain().finditer(text):
        words = list(_LAST_WORDS.finditer(text, max(0, match.start() - 40), match.start()))
        for word in words[-4:]:
            stitch = form_at(text, word.start(), stitch_forms())
            if stitch is None or stitch.end != match.start():
                continue
            system = _system_of_height(stitch.form, int(match.group(1)) - 1, counted=False)
            if system is not None:
                span = passage.span(stitch.start, match.end())
                yield Evidence(system, text[stitch.start : match.end()], span, strong=False), _CHAIN_WEIGHT
            break


def _system_of_height(form: str, chains: int, *, counted: bool) -> TermSystem | None:
    """The one system in which the named stitch is as tall as this many chains; None if both or neither."""
    fitting = []
    for system in TermSystem:
        stitch = readings(system).get(key(form))
        if stitch is not None and stitch.height == chains and (stitch.counts or not counted):
            fitting.append(system)
    return fitting[0] if len(fitting) == 1 else None
