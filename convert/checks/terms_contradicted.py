"""A text whose words belong to the other term system than the one it is said to be written in."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.document.records import TermSystem
from convert.findings import Finding, Severity
from convert.source import Passage
from convert.terms.inference import infer_system

CHECK = Check(
    "terms-contradicted",
    Severity.ERROR,
    "the pattern's words contradict the term system it names",
    """
In US terms "dc" is the stitch that UK terms call "tr"; "sc" and "hdc" exist in US terms only, "htr" in UK terms only, and a chain of 3 that
counts as a dc is a US dc. A pattern that says it is written in one system and uses the words of the other would be
translated wrongly everywhere.
""",
    "UK terms\n\nRnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (12 sc)",
    "US terms\n\nRnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (12 sc)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """The first word that the named system does not have."""
    document = facts.document
    rows = [row for part in document.parts for row in part.rows if row.said]
    passages = [Passage.at(row.said, row.span.line, row.span.column) for row in rows]
    inferred = infer_system(passages, document.written)
    strong = [e for e in inferred.conflicts if e.strong and e.system is not document.written]
    if not strong:
        return
    first = strong[0]
    other = "US" if document.written is TermSystem.UK else "UK"
    words = ", ".join(f"“{w}”" for w in dict.fromkeys(e.word for e in strong[:5]))
    yield Finding(
        CHECK.code,
        CHECK.severity,
        f"The pattern is marked as written in {document.written.upper()} terms, but {words} belong to {other} terms.",
        first.span,
        expected=f"words of {document.written.upper()} terms",
        found=words,
        hint=f"If it is written in {other} terms, say so; otherwise change the words.",
        related=tuple(e.span for e in strong[1:3]),
    )
