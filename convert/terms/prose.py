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
from convert.terms.forms import Forms, key, prose_forms
from convert.terms.naming import written_term

_WORD = re.compile(r"[^\W\d_]+")
_ADDRESS = re.compile(r"\S*(?:://|www\.|@)\S*", re.IGNORECASE)
_APOSTROPHES = ("'", "’", "‘")
_TOWN = re.compile(r"[A-Z][a-z]+,\s\Z")


def read_prose(text: str, system: TermSystem, specials: tuple[Special, ...] = ()) -> Prose:
    """A text with its stitch terms as references. The author's own stitches are terms too.

    >>> read_prose("Join with sl st; treble the width.", TermSystem.US)
    ('Join with ', Term(id='sl-st', form=<Form.ABBREVIATION: 'abbreviation'>, legs=0, capital=False), '; treble the width.')
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
    addresses = [match.span() for match in _ADDRESS.finditer(text)]
    done = 0
    for word in _WORD.finditer(text):
        start = word.start()
        pattern = forms.beginning(word.group())
        if pattern is None or start < done or not _may_begin(text, start):
            continue
        match = pattern.match(text, start)
        if match is None or any(a <= start < b for a, b in addresses):
            continue
        done = match.end()
        found = _term(match, forms, system, specials)
        if found is not None:
            yield start, start + found[1], found[0]


def _may_begin(text: str, start: int) -> bool:
    """Whether a term may begin here: not after an apostrophe or a dot inside a word ("Ada's c", "a.dc")."""
    before, further = text[start - 1 : start], text[max(0, start - 2) : max(0, start - 1)]
    return not (further.isalpha() and (before in _APOSTROPHES or before == "."))


def _term(
    match: re.Match[str], forms: Forms, system: TermSystem, specials: tuple[Special, ...]
) -> tuple[Term, int] | None:
    """The term that was matched and how much of the text it takes; None where the text is left as it stands."""
    legs, plural = int(match["legs"] or 0), match["plural"]
    sense = forms.senses[key(match["base"] or match["form"])]
    said = match.group()[: len(match.group()) - len(plural)]
    if sense is None or (plural and not sense.takes_s) or legs == 1:
        return None
    for capital in (False, True):
        term = Term(sense.id, sense.form, legs, capital)
        if written_term(term, system, specials) == said:
            return term, len(said)
    if not sense.settled or _is_place(match, said):
        return None
    standard = written_term(Term(sense.id, sense.form, legs), system, specials)
    capital = said[0].isupper() and not said.isupper() and standard[0].islower()
    return Term(sense.id, sense.form, legs, capital), len(said)


def _is_place(match: re.Match[str], said: str) -> bool:
    """Whether capitals stand for a state or district after a town, as in "Columbia, SC"."""
    return said.isupper() and bool(_TOWN.search(match.string[max(0, match.start() - 40) : match.start()]))
