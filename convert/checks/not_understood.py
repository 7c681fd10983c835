"""A part of a row that is not understood: it is kept as it stands, and what depends on it is unknown."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of
from convert.checks.unread_words import in_other_terms, misspelt, unread_steps
from convert.findings import Finding, Severity
from convert.terms.naming import write_prose

CHECK = Check(
    "not-understood",
    Severity.WARNING,
    "part of a row is not understood and could not be checked",
    """
The words are kept and printed as they stand; only a stitch that they name for certain is called by its name in the
terms of the edition. Because their effect is not known, the stitch count of this row and of those that build on it is
unknown, which is not the same as wrong; a stated count lets the check go on after it.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Work as seems best to you.",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (12 sc)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Words without a meaning to the reader."""
    for row, step in unread_steps(facts):
        if misspelt(step, facts.document) is not None or in_other_terms(step, facts.document):
            continue
        words = write_prose(step.words, facts.document.written, facts.document.specials)
        shown = words if len(words) <= 60 else words[:57] + "…"
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"“{shown}” in {label_of(row)} is not understood.",
            step.span,
            row.sizes,
            expected="stitches, places, repeats",
            found=shown,
            because="It prints as it stands; counts that depend on it are unknown.",
            hint="Say it in ordinary pattern wording, or give the row a stated count so that the rows after it can be checked.",
        )
