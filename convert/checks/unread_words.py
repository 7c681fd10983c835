"""Steps with words that are not understood: where they stand, and the stretch of the text that one word of them
takes.
"""

from __future__ import annotations

from collections.abc import Iterator
from difflib import get_close_matches
from functools import cache

from convert.checks.check import Facts, spoilt_rows
from convert.document.records import Document, Label, Row, TermSystem
from convert.document.steps import Verbatim
from convert.document.walking import unread
from convert.instructions.words.lexicon import Lexeme, lexemes
from convert.source import Span
from convert.terms.naming import write_prose
from convert.trade.stitches import stitches
from convert.trade.tables import table


def unread_steps(facts: Facts) -> Iterator[tuple[Row, Verbatim]]:
    """Every step whose words are not understood."""
    spoilt = spoilt_rows(facts.document, facts.earlier)
    for part in facts.document.parts:
        for row in part.rows:
            for step in () if id(row) in spoilt else unread(row.steps):
                yield row, step
    for special in facts.document.specials:
        for step in unread(special.steps):
            yield Row(Label(), special.steps, said=special.name), step


def in_other_terms(step: Verbatim, document: Document) -> bool:
    """Whether the step has stitches that only the other term system has: that is said once for the whole pattern."""
    text = write_prose(step.words, document.written, document.specials)
    other = TermSystem.UK if document.written is TermSystem.US else TermSystem.US
    unknown = {x.start for x in lexemes(text, document.written, document.specials) if x.kind == "unknown"}
    return any(x.kind in ("stitch", "tog") and x.start in unknown for x in lexemes(text, other, document.specials))


def misspelt(step: Verbatim, document: Document) -> tuple[str, str, Span] | None:
    """The first word of the step that looks like a misspelt abbreviation, the nearest known one, and where it
    stands.
    """
    text = write_prose(step.words, document.written, document.specials)
    unknown = [x for x in lexemes(text, document.written, document.specials) if x.kind == "unknown"]
    if len(unknown) > _PROSE:
        return None
    for lexeme in unknown:
        if 2 <= len(lexeme.text) <= 7 and lexeme.text.isalnum() and _may_be_abbreviation(lexeme):
            near = _nearest(lexeme.id, document)
            if near:
                return lexeme.text, near, _span(step, lexeme)
    return None


_PROSE = 2
"""More unknown words than this in one clause are prose, not misspelt abbreviations."""


@cache
def _plain_words() -> frozenset[str]:
    return frozenset(word for line in table("plain_words") for word in line.split())


def _may_be_abbreviation(lexeme: Lexeme) -> bool:
    """Whether the word is neither plain English nor, by a capital inside the clause, a name."""
    named = lexeme.start > 0 and lexeme.text[:1].isupper()
    return not _is_plain(lexeme.id) and not named


_ENDINGS = ("s", "es", "ed", "d", "ing", "er")


def _is_plain(word: str) -> bool:
    """Whether a word is plain English, or one of those with an ending: "crosses", "pinned"."""
    plain = _plain_words()
    return word in plain or any(word.endswith(end) and word.removesuffix(end) in plain for end in _ENDINGS)


def _span(step: Verbatim, lexeme: Lexeme) -> Span:
    span = step.span
    if span.line != span.end_line:
        return span
    return Span(span.line, span.column + lexeme.start, span.line, span.column + lexeme.end)


def _nearest(word: str, document: Document) -> str:
    near = get_close_matches(word, known_abbreviations(document), n=1, cutoff=0.7)
    return near[0] if near else ""


def known_abbreviations(document: Document) -> list[str]:
    """The abbreviations that the document's rows may use, its own first."""
    system = TermSystem(document.written)
    trade = [s.names(system).abbreviation for s in stitches().values() if " " not in s.names(system).abbreviation]
    togs = [f"{s.names(system).abbreviation}{n}tog" for s in stitches().values() if s.legs for n in (2, 3)]
    words = ["join", "turn", "skip", "miss", "next", "each", "around", "across", "repeat", "work"]
    return [s.abbreviation for s in document.specials if s.abbreviation] + trade + togs + words
