"""What a writer yields: the finished text or file, and what the writer has to say about it."""

from __future__ import annotations

from msgspec import Struct

from convert.findings import Finding


class Written(Struct, frozen=True):
    """A finished text. `findings` tell what could not be written as the author meant it."""

    text: str
    findings: tuple[Finding, ...] = ()


class WrittenFile(Struct, frozen=True):
    """A finished file of bytes, such as a PDF. `findings` as for `Written`."""

    data: bytes
    findings: tuple[Finding, ...] = ()
