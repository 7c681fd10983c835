"""Settles the term system that an author's text is read in, and says what speaks against it."""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.findings import Finding, Severity
from convert.source import NOWHERE, Passage, Span
from convert.terms.inference import Inferred, infer_system


def settle_system(
    stated: TermSystem | None, where: Span, passages: Sequence[Passage], options: ReadOptions
) -> tuple[TermSystem, tuple[Finding, ...]]:
    """The system that the text states, or that the caller knows, or that its words tell; US where nothing does.

    `where` is the place of the statement.
    """
    inferred = infer_system(passages, stated or options.terms)
    if stated is not None or options.terms is not None:
        system = stated or options.terms or TermSystem.US
        return system, _contradiction(system, where, inferred)
    if inferred.system is not None:
        return inferred.system, _contradiction(inferred.system, where, inferred)
    return TermSystem.US, (_untold(inferred),)


def _contradiction(system: TermSystem, where: Span, inferred: Inferred) -> tuple[Finding, ...]:
    if not inferred.conflicts:
        return ()
    first = inferred.conflicts[0]
    other = first.system.upper()
    words = ", ".join(f'"{evidence.word}"' for evidence in inferred.conflicts[:4])
    message = f"The text is read in {system.upper()} terms, but {words} can only stand in {other} terms."
    related = tuple(e.span for e in inferred.conflicts[1:4]) + ((where,) if where != NOWHERE else ())
    hint = f"If the pattern is in {other} terms, say `terms: {first.system}`; otherwise correct the words."
    return (
        Finding(
            "terms-contradicted",
            Severity.ERROR,
            message,
            first.span,
            expected=system,
            found=first.system,
            hint=hint,
            related=related,
        ),
    )


def _untold(inferred: Inferred) -> Finding:
    related = tuple(evidence.span for evidence in inferred.conflicts[:4])
    message = "The text does not tell whether its terms are US or UK; it is read as US."
    hint = "Say `terms: us` or `terms: uk`: the same abbreviation is another stitch in the other system."
    return Finding(
        "terms-untold",
        Severity.WARNING,
        message,
        related[0] if related else Span(0, 0, 0, 1),
        hint=hint,
        related=related[1:],
    )
