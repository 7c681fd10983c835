"""What a text says once for all its rows: what a beginning chain stands for, and that rounds go on in a spiral."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from convert.document.records import BeginningChain, TermSystem
from convert.document.steps import Counts
from convert.source import Passage
from convert.terms.evidence import readings, stitch_forms
from convert.terms.forms import key

_CHAIN = r"(?:ch(?:ain)?[\s-]?(?:of\s)?(?P<n1>\d{1,2})|(?P<n2>\d{1,2})[\s-]?ch(?:ains?)?)"
_BEGIN = r"(?:beg(?:inning)?\.?|start(?:ing)?|turning|initial|first|t-?)"
_WHERE = r"(?:\s(?:at\s(?:the\s)?(?:beg(?:inning)?\.?|start)|(?:of|in|on)\s(?:a\s|the\s|each\s|every\s|all\s)?(?:rows?|rnds?|rounds?)))*"
_SPIRAL = re.compile(
    r"\b(?:in\sa\s(?:continuous\s)?spiral|continuous\s(?:spiral\s)?(?:rounds|rnds)|(?:do\snot|don['’]t)\sjoin\s(?:the\s)?(?:rounds|rnds|unless)|"
    r"without\sjoining\s(?:the\s)?(?:rounds|rnds))\b",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Convention:
    """A convention, and whether the sentence says nothing else."""

    chain: BeginningChain
    whole: bool


def read_convention(sentence: Passage, system: TermSystem) -> Convention | None:
    """What a sentence says about beginning chains in general; None if it says nothing of the kind.

    >>> read_convention(Passage("Beginning ch 3 counts as dc throughout."), TermSystem.US).chain
    BeginningChain(chains=3, counts=Counts(stitch='dc', chains=0))
    """
    match = _pattern().search(sentence.text)
    if match is None or not (match["begin"] or match["where"] or match["always"]):
        return None
    counts = _counts(match, system)
    if counts is None:
        return None
    whole = not re.search(r"\w", sentence.text[: match.start()]) and not re.search(r"\w", sentence.text[match.end() :])
    return Convention(BeginningChain(int(match["n1"] or match["n2"]), counts), whole)


def _counts(match: re.Match[str], system: TermSystem) -> Counts | None:
    if match["no"]:
        return Counts()
    stitch = readings(system).get(key(match["stitch"]))
    return Counts(stitch.id, int(match["more1"] or match["more2"] or 0)) if stitch else None


@cache
def _pattern() -> re.Pattern[str]:
    more = r"(?:\s?(?:and|plus|\+|,)\s?(?:a\s)?(?:ch[\s-]?(?P<more1>\d{1,2})|(?P<more2>\d{1,2})[\s-]?ch))?"
    named = rf"\s(?:(?:the|an|a|first|1st|one|1)\s?)*(?P<stitch>{stitch_forms()})(?![^\W_]){more}"
    no = r"(?:does|do|is|are)(?:\snot|n['’]t)\s(?:ever\s)?count(?:ed)?(?:\sas\s(?:a|the\sfirst|first)?\s?(?:st(?:itch)?(?:es)?|\S{1,4}))?"
    yes = r"(?:always\s)?count(?:s|ed)?(?:\shere)?\sas"
    lead = rf"(?:\b(?:the|a|all|each|every)\s)?(?:(?P<begin>{_BEGIN})\s)?{_CHAIN}(?P<where>{_WHERE})"
    always = r"(?P<always>\s(?:here\sand\s)?(?:throughout(?:\s(?:the\s)?(?:whole\s)?pattern)?|always|in\s(?:all|every|each)\s(?:rows?|rnds?|rounds?)))?"
    return re.compile(
        rf"{lead}\s(?:(?P<no>{no})|{yes}{named}){always}\s?(?:unless\s(?:otherwise\s)?(?:stated|noted))?\.?",
        re.IGNORECASE,
    )


def is_spiral(text: str) -> bool:
    """Whether a text says that its rounds go on in a spiral."""
    return bool(_SPIRAL.search(text))


def sentences(passage: Passage) -> list[Passage]:
    """The sentences of a paragraph."""
    edges = [0, *(match.end() for match in re.finditer(r"(?<=[.!?])\s+(?=[A-Z0-9])", passage.text)), len(passage.text)]
    return [passage.cut(a, b) for a, b in zip(edges, edges[1:], strict=False)]
