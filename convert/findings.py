"""Findings: what the tool has to say about a pattern, as plain data. How they are shown is another matter."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from msgspec import Struct

from convert.source import NOWHERE, Span


class Severity(StrEnum):
    """How grave a finding is: an error stops publication, a warning wants a look, a note informs."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


_ORDER = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


class Finding(Struct, frozen=True):
    """One thing found.

    `message` says what is wrong in one sentence. `expected` and `found` are the two figures or words that
    disagree. `because` explains how a figure came about, `hint` says what to do. `sizes` are ids, empty for all.
    `related` are further places in the text that the finding is about.
    """

    code: str
    severity: Severity
    message: str
    span: Span = NOWHERE
    sizes: tuple[str, ...] = ()
    expected: str = ""
    found: str = ""
    because: str = ""
    hint: str = ""
    related: tuple[Span, ...] = ()


def sorted_findings(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """In the order of the text, each once; the graver first where two stand at one place."""
    unique = dict.fromkeys(findings)
    return tuple(sorted(unique, key=lambda f: (f.span.line, f.span.column, _ORDER[f.severity], f.code, f.message)))
