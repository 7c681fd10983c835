"""The picture files that a pattern names: found and read beside it, and nowhere else. None is decoded here."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from convert.document.records import Document
from convert.errors import LimitExceeded, UnreadableInput
from convert.files import beside, read_beside
from convert.findings import Finding, Severity
from convert.limits import LIMITS
from convert.source import NOWHERE, Span

_BEGINNINGS = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")
_SNIFFED = 12


def find_pictures(document: Document, folder: Path) -> tuple[Finding, ...]:
    """A finding for every picture that is not there, too large, or no picture by its first bytes."""
    return tuple(finding for file, span in _named(document) for finding in _trouble(folder, file, span))


def read_pictures(document: Document, folder: Path | None) -> tuple[dict[str, bytes], tuple[Finding, ...]]:
    """The content of every picture by the name that the document gives it, and a finding for every one not to be had.

    Without a `folder` (a pattern from standard input) there are none to be had.
    """
    found: dict[str, bytes] = {}
    findings: list[Finding] = []
    for file, span in _named(document):
        if folder is None:
            findings.append(_not_found(file, span, "a pattern from standard input has no folder"))
            continue
        try:
            found[file] = read_beside(folder, file, LIMITS.picture_bytes)
        except (UnreadableInput, LimitExceeded) as error:
            findings.append(_not_found(file, span, error.message))
    return found, tuple(findings)


def _named(document: Document) -> Iterator[tuple[str, Span]]:
    """Every file with the place that names it first."""
    named = {picture.file: picture.span for picture in reversed(document.pictures)}
    if document.brand.logo.file:
        named.setdefault(document.brand.logo.file, document.spans.get("brand", NOWHERE))
    yield from named.items()


def _trouble(folder: Path, file: str, span: Span) -> Iterator[Finding]:
    try:
        path = beside(folder, file)
        with path.open("rb") as opened:
            begin = opened.read(_SNIFFED)
        size = path.stat().st_size
    except UnreadableInput as error:
        yield _not_found(file, span, error.message)
    except OSError as error:
        yield _not_found(file, span, (error.strerror or str(error)).lower())
    else:
        webp = begin[:4] == b"RIFF" and begin[8:] == b"WEBP"
        if size > LIMITS.picture_bytes:
            yield _not_found(file, span, f"it is larger than {LIMITS.picture_bytes:,} bytes")
        elif not (webp or begin.startswith(_BEGINNINGS)):
            yield _not_found(file, span, "it is no JPEG, PNG or WebP picture")


def _not_found(file: str, span: Span, reason: str) -> Finding:
    return Finding(
        "picture-not-found",
        Severity.ERROR,
        f"The picture {file!r} is not to be had: {reason}.",
        span=span,
        expected="a JPEG, PNG or WebP file in the folder of the pattern or below it",
        hint="Put the file beside the pattern, and write its name as it is, capitals included.",
    )
