"""The long form of a text: every abbreviation of the trade in full words, for reading aloud."""

from __future__ import annotations

import re
from functools import cache
from types import MappingProxyType

from convert.document.prose import Form, Prose, Term
from convert.document.records import TermSystem
from convert.trade.stitches import stitches
from convert.trade.words import words

_TOKEN = re.compile(r"(?<![A-Za-z-])[A-Za-z]+(?![A-Za-z])")
_SEVERAL = re.compile(r"(?:(?<![\d.])(?!1\b)\d+|\)|[½¼¾]|–) \Z")
_ENDING = re.compile(r"\((\w+)\)\Z")


def spelled(prose: Prose, system: TermSystem) -> Prose:
    """The text with its abbreviations in full.

    >>> spelled(("Miss next 2 sts, 3 ", Term("dc"), " in ", Term("ch"), "-2 sp."), TermSystem.UK)[::2]
    ('Miss next 2 stitches, 3 ', ' in ', '-2 space.')
    """
    found: list[str | Term] = []
    ending = ""
    for index, part in enumerate(prose):
        before, behind = prose[index - 1 : index], prose[index + 1 : index + 2]
        if isinstance(part, str):
            text = _without_ending(part, ending)
            found.append(_TOKEN.sub(lambda token: full_word(token[0], system), text))
        elif part.id in words() and part.id not in stitches():
            known = full_word(words()[part.id].written(system), system)
            found.append(known[:1].upper() + known[1:] if part.capital else known)
        elif part.form is Form.ABBREVIATION:
            several = _several(before) and not part.legs and not _length_follows(behind)
            found.append(Term(part.id, Form.PLURAL if several else Form.NAME, part.legs, part.capital))
        else:
            found.append(part)
        ending = stitches()[part.id].names(system).ending if isinstance(part, Term) and part.id in stitches() else ""
    return tuple(found)


def _without_ending(text: str, ending: str) -> str:
    """The text behind a term without what made several of its abbreviation: the name in full has a plural."""
    rest = text.removeprefix(ending) if ending else text
    return text if rest[:1].isalpha() else rest


def _length_follows(behind: Prose) -> bool:
    """Whether the term is part of "chain-2 space", which has no plural."""
    return bool(behind) and isinstance(behind[0], str) and behind[0].startswith("-")


def _several(before: Prose) -> bool:
    return bool(before) and isinstance(before[0], str) and bool(_SEVERAL.search(before[0]))


def full_word(token: str, system: TermSystem) -> str:
    """A word of the trade in full; any other word as it stands.

    >>> full_word("sts", TermSystem.US), full_word("Rnds", TermSystem.US), full_word("rnd", TermSystem.US)
    ('stitches', 'Rounds', 'round')
    """
    known = _full(system).get(token) or _full(system).get(token[:1].lower() + token[1:])
    if known is None and token.islower():
        known = _full(system).get(token.capitalize())  # "Rep last rnd"
        return known[:1].lower() + known[1:] if known else token
    if known is None:
        return token
    return known[:1].upper() + known[1:] if token[:1].isupper() and not token.isupper() else known


@cache
def _full(system: TermSystem) -> MappingProxyType[str, str]:
    """Every abbreviation that has a meaning in `shared/words.yaml`, with its plural."""
    found: dict[str, str] = {}
    for word in words().values():
        meaning = word.meaning(system)
        if not meaning:
            continue
        ending = _ENDING.search(meaning)
        bare = _ENDING.sub("", meaning)
        found[word.written(system)] = bare
        if word.plural:
            found[word.plural] = bare + (ending[1] if ending else "s")
    # A reader of one system may meet the other's word where the author's own text has it.
    for word in words().values():
        for form in (word.us, word.uk):
            if word.meaning(system) and form not in found and " " not in form:
                found[form] = _ENDING.sub("", word.meaning(system))
    return MappingProxyType(found)
