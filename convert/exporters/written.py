"""What a writer yields: the finished text or file, and what the writer has to say about it."""

from __future__ import annotations

from dataclasses import dataclass

from convert.findings import Finding


@dataclass(frozen=True, slots=True)
class Written:
    """A finished text. `findings` tell what could not be written as the author meant it."""

    text: str
    findings: tuple[Finding, ...] = ()


@dataclass(frozen=True, slots=True)
class WrittenFile:
    """A finished file of bytes, such as a PDF. `findings` as for `Written`."""

    data: bytes
    findings: tuple[Finding, ...] = ()
