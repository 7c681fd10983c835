"""Finds words as only a scanner writes them, and mistyped ones: understood, and reported."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from convert.findings import Finding, Severity
from convert.instructions.rows.label import slips
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import own_words, vocabulary
from convert.instructions.words.misspelt import meant
from convert.source import Passage


def slips_in(passage: Passage, cur: Cursor) -> tuple[Finding, ...]:
    """What was read otherwise than it is typed in a row."""
    return (*_scanned(passage, cur), *_mistyped(cur))


def _mistyped(cur: Cursor) -> Iterator[Finding]:
    """Each mistyped word once: "arround"."""
    known = vocabulary(cur.context.system)
    told = own_words(cur.context.specials)
    if not set(_LETTERS.findall(cur.passage.text.lower())) - known - told:
        return
    for lexeme in cur.words:
        for word in lexeme.text.lower().split() if lexeme.kind in ("word", "stitch") else ():
            if word not in known and word not in told and meant(word):
                told.add(word)
                at = lexeme.start + lexeme.text.lower().find(word)
                yield Finding(
                    "misspelt-word",
                    Severity.NOTE,
                    f"“{word}” was read as “{meant(word)}”.",
                    cur.passage.span(at, at + len(word)),
                    expected=meant(word),
                    found=word,
                    hint=f"Type “{meant(word)}”.",
                )


_LETTERS = re.compile(r"[^\W\d_]+")


_WORDS = re.compile(r"\w+")


@cache
def _begun() -> frozenset[str]:
    """The words that such slips begin with."""
    return frozenset(form.split(" ", 1)[0] for form in slips())


def _scanned(passage: Passage, cur: Cursor) -> tuple[Finding, ...]:
    """Ordinals as only a scanner writes them: understood, and reported."""
    if _begun().isdisjoint(_WORDS.findall(passage.text.lower())):
        return ()
    first = passage.text.split(maxsplit=1)[0].lower() if cur.passage is not passage and passage.text.strip() else ""
    told = slips().get(first)
    span = passage.span(0, len(first))
    if told is None:
        word = next((word for word in cur.words if word.kind == "ord" and word.text.lower() in slips()), None)
        if word is None:
            return ()
        first, told, span = word.text, slips()[word.text.lower()], cur.passage.span(word.start, word.end)
    return (
        Finding(
            "scanning-slip",
            Severity.NOTE,
            f"“{first}” was read as “{told}”.",
            span,
            expected=told,
            found=first,
            hint=f"It looks like a slip of scanning. Type “{told}”.",
        ),
    )
