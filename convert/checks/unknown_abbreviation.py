"""A word in a row that is no abbreviation the pattern or the trade knows, and is near to one."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, each_of
from convert.checks.unread_words import in_other_terms, misspelt, unread_steps
from convert.findings import Finding, Severity

CHECK = Check(
    "unknown-abbreviation",
    Severity.ERROR,
    "an abbreviation that is not known, near to one that is",
    """
The word stands where a stitch or a direction is expected and is neither in the tables of the trade nor defined in
the pattern. The nearest known one is named. If it is a stitch of your own, define it under the special stitches.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 hdcc in each st around.",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 hdc in each st around.",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Words that look like misspelt abbreviations."""
    for row, step in unread_steps(facts):
        found = misspelt(step, facts.document)
        if found is not None and not in_other_terms(step, facts.document):
            word, near, span = found
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{each_of(row)} uses “{word}”, which is not known.",
                span,
                row.sizes,
                expected="a stitch or a direction",
                found=word,
                hint=f"Did you mean “{near}”? A stitch of your own needs a definition.",
            )
