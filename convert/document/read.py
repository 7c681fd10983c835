"""What reading a source gives: the document, what was found on the way, and how much of it was understood."""

from __future__ import annotations

from msgspec import Struct

from convert.document.records import Document, TermSystem
from convert.findings import Finding
from convert.source import Source


class ReadOptions(Struct, frozen=True):
    """What the caller knows that the source may not say."""

    terms: TermSystem | None = None
    """The term system to read in where the source does not state one; ``None``: state or infer it."""


class Read(Struct, frozen=True):
    """A source that was read: every importer returns one, whatever the source held."""

    source: Source
    document: Document | None
    """``None`` only if nothing could be made of the source; the findings say why."""
    findings: tuple[Finding, ...] = ()
    clauses: int = 0
    """Clauses of all rows: the units in which a row is read."""
    verbatim_clauses: int = 0
    """Clauses that were kept as they stood because they were not understood."""
