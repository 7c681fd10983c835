"""What a text says once for all its rows: what a beginning chain stands for, and that rounds go on in a spiral."""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import pairwise

from convert.document.records import BeginningChain, TermSystem
from convert.document.steps import Counts
from convert.source import Passage
from convert.terms.evidence import readings
from convert.terms.lookup import form_at, may_end

_ROWS = r"(?:rows?|rnds?|rounds?)"
_CHAIN = r"(?:ch(?:ain)?[\s-]?(?:of\s)?(?P<n1>\d{1,2})|(?P<n2>\d{1,2})[\s-]?ch(?:ains?)?)"
_BEGIN = r"(?:beg(?:inning)?\.?|start(?:ing)?|turning|initial|first|t-?)"
_AT = r"at\s(?:the\s)?(?:beg(?:inning)?\.?|start)"
_WHERE = rf"(?:\s(?:{_AT}|(?:of|in|on)\s(?:a\s|the\s|each\s|every\s|all\s)?{_ROWS}))*"
_AS_ONE = r"(?:\sas\s(?:a\s|the\sfirst\s|first\s)?(?:st(?:itch)?(?:es)?|\S{1,4}))?"
_NO = rf"(?:does|do|is|are)(?:\snot|n['’]t)\s(?:ever\s)?count(?:ed)?{_AS_ONE}"
_YES = r"(?:always\s)?count(?:s|ed)?(?:\shere)?\sas\s(?:(?:the|an|a|first|1st|one|1)(?:\s|(?<=1)(?=[a-z])))*"
_SAYS = re.compile(
    rf"(?:\b(?:the|a|all|each|every)\s)?(?:(?P<begin>{_BEGIN})\s)?\b{_CHAIN}(?P<where>{_WHERE})\s(?:(?P<no>{_NO})|{_YES})",
    re.IGNORECASE,
)
_MORE = re.compile(r"\s?(?:and|plus|\+|,)\s?(?:a\s)?(?:ch[\s-]?(\d{1,2})|(\d{1,2})[\s-]?ch)", re.IGNORECASE)
_ALWAYS = re.compile(
    rf"\s(?:here\sand\s)?(?:throughout(?:\s(?:the\s)?(?:whole\s)?pattern)?|always|in\s(?:all|every|each)\s{_ROWS})",
    re.IGNORECASE,
)
_UNLESS = re.compile(r"unless\s(?:otherwise\s)?(?:stated|noted)", re.IGNORECASE)
_SPIRAL = re.compile(
    r"\b(?:in\sa\s(?:continuous\s)?spiral|continuous\s(?:spiral\s)?(?:rounds|rnds)|"
    r"(?:do\snot|don['’]t)\sjoin\s(?:the\s)?(?:rounds|rnds|unless)|"
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
    text = sentence.text
    match = _SAYS.search(text)
    if match is None:
        return None
    counts, end = (Counts(), match.end()) if match["no"] else _counted(text, match.end(), system)
    always = _ALWAYS.match(text, end)
    if counts is None or not (match["begin"] or match["where"] or always):
        return None
    rest = text[: match.start()] + (text[always.end() :] if always else text[end:])
    chain = BeginningChain(int(match["n1"] or match["n2"]), counts)
    return Convention(chain, not re.search(r"\w", _UNLESS.sub("", rest)))


def _counted(text: str, start: int, system: TermSystem) -> tuple[Counts | None, int]:
    """What the chain counts as, and where the words for it end."""
    found = form_at(text, start, readings(system))
    if found is None or not may_end(text, found.end):
        return None, start
    more = _MORE.match(text, found.end)
    chains = int(more.group(1) or more.group(2)) if more else 0
    return Counts(readings(system)[found.form].id, chains), more.end() if more else found.end


def is_spiral(text: str) -> bool:
    """Whether a text says that its rounds go on in a spiral."""
    return bool(_SPIRAL.search(text))


def sentences(passage: Passage) -> list[Passage]:
    """The sentences of a paragraph."""
    edges = [0, *(match.end() for match in re.finditer(r"(?<=[.!?])\s+(?=[A-Z0-9])", passage.text)), len(passage.text)]
    return [passage.cut(a, b) for a, b in pairwise(edges)]
