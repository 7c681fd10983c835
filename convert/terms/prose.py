"""Finds stitch terms in running text, so that each edition writes the text in its own terms.

Only sure things are taken: abbreviations, full names, and spellings that mean one stitch and nothing else. A bare
"double" or "treble the width" stays a word. What is taken is written back as it stood, except for spellings
that one system alone reads so ("DC", "d c", "half tr"): those come back in the standard form, because left as they
stood they would mean another stitch in the other system's edition. What counts as a form is the matter of
`convert.terms.forms`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from convert.document.prose import Prose, Term
from convert.document.records import Special, TermSystem
from convert.terms.forms import Forms, Sense, prose_forms
from convert.terms.lookup import Found, find_forms, may_end
from convert.terms.naming import written_term

_UNBROKEN = re.compile(r"\S+")
_ADDRESS = re.compile(r"://|www\.|@", re.IGNORECASE)
_TOGETHER = re.compile(r"\s?(\d{1,2})\s?tog(?:ether)?(s?)", re.IGNORECASE)
_TOWN = re.compile(r"[A-Z][a-z]+,\s\Z")


def read_prose(text: str, system: TermSystem, specials: tuple[Special, ...] = ()) -> Prose:
    """A text with its stitch terms as references. The author's own stitches are terms too.

    >>> [part if isinstance(part, str) else part.id for part in read_prose("Join; treble the tr.", TermSystem.US)]
    ['Join; treble the ', 'tr', '.']
    >>> read_prose("Work dc2tog.", TermSystem.UK)[1]
    Term(id='sc', form=<Form.ABBREVIATION: 'abbreviation'>, legs=2, capital=False)
    """
    parts: list[str | Term] = []
    done = 0
    for start, end, term in _terms(text, system, specials):
        if start > done:
            parts.append(text[done:start])
        parts.append(term)
        done = end
    if done < len(text):
        parts.append(text[done:])
    return tuple(parts)


def _terms(text: str, system: TermSystem, specials: tuple[Special, ...]) -> Iterator[tuple[int, int, Term]]:
    forms = prose_forms(system, tuple((s.id, s.name, s.abbreviation, s.plural) for s in specials))
    addresses = [match.span() for match in _UNBROKEN.finditer(text) if _ADDRESS.search(match.group())]
    for found in find_forms(text, forms.senses, forms.firsts):
        if any(a <= found.start < b for a, b in addresses):
            continue
        end, legs, plural = _with_legs(text, found, forms)
        sense = forms.senses[found.form]
        if sense is None or not may_end(text, end + plural) or (plural and not sense.takes_s) or legs == 1:
            continue
        term = _term(sense, legs, text[found.start : end], system, specials)
        if term is not None and not _is_place(text, found.start, end):
            yield found.start, end, term


def _with_legs(text: str, found: Found, forms: Forms) -> tuple[int, int, bool]:
    """Where a form ends with the legs of a decrease behind it, how many these are, and whether an "s" follows."""
    together = _TOGETHER.match(text, found.end) if found.form in forms.bases and not found.plural else None
    if together and may_end(text, together.end()):
        return together.start(2), int(together.group(1)), bool(together.group(2))
    return found.end - found.plural, 0, found.plural


def _term(sense: Sense, legs: int, said: str, system: TermSystem, specials: tuple[Special, ...]) -> Term | None:
    """The term that writes what was said; None where the text is left as it stands."""
    for capital in (False, True):
        term = Term(sense.id, sense.form, legs, capital)
        if written_term(term, system, specials) == said:
            return term
    if not sense.settled:
        return None
    standard = written_term(Term(sense.id, sense.form, legs), system, specials)
    capital = said[0].isupper() and not said.isupper() and standard[0].islower()
    return Term(sense.id, sense.form, legs, capital)


def _is_place(text: str, start: int, end: int) -> bool:
    """Whether capitals stand for a state or district after a town, as in "Columbia, SC"."""
    return text[start:end].isupper() and bool(_TOWN.search(text[max(0, start - 40) : start]))
