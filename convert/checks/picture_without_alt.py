"""A picture without words for those who do not see it."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.findings import Finding, Severity
from convert.source import NOWHERE, Span

CHECK = Check(
    "picture-without-alt",
    Severity.ERROR,
    "a picture has no words for those who do not see it",
    """
Some makers have pages read aloud to them, and a picture may not load. What it shows has to be said in words: `alt` of a
picture, and of a logo where the designer's name does not say it. A caption is no substitute, since it stands beside the picture for everybody.
""",
    "title: Cap\nterms: us\npictures:\n  - file: cap.jpg\n"
    "parts:\n  - name: Cap\n    rows:\n      - Rnd 1: 6 sc in adjustable ring. (6 sc)\n",
    "title: Cap\nterms: us\npictures:\n  - file: cap.jpg\n    alt: The cap from the side, its brim turned up.\n"
    "parts:\n  - name: Cap\n    rows:\n      - Rnd 1: 6 sc in adjustable ring. (6 sc)\n",
    form="yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Pictures and logos that nothing is said of."""
    document = facts.document
    for picture in document.pictures:
        if not any(part.strip() if isinstance(part, str) else part for part in picture.alt):
            yield _finding(picture.file, picture.span)
    logo = document.brand.logo
    if logo.file and not (logo.alt.strip() or document.brand.name.strip()):
        yield _finding(logo.file, document.spans.get("brand", NOWHERE))


def _finding(file: str, span: Span) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"Nothing says what the picture {file!r} shows.",
        span,
        expected="alt",
        found="none",
        hint="Say it in a sentence: `alt: The throw over the back of a chair.`",
    )
