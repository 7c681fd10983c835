"""A picture that belongs to a part which is not there."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.document.records import part_named
from convert.findings import Finding, Severity

CHECK = Check(
    "picture-part-unknown",
    Severity.WARNING,
    "a picture belongs to a part that is not there",
    """
A picture can stand at the head of a part: `part` is then the name or the id of that part. Where no part is called so, the picture
stands with those of the whole piece.
""",
    "title: Cap\nterms: us\npictures:\n  - {file: cap.jpg, alt: The brim., part: Brimm}\n"
    "parts:\n  - name: Brim\n    rows:\n      - Rnd 1: 6 sc in adjustable ring. (6 sc)\n",
    "title: Cap\nterms: us\npictures:\n  - {file: cap.jpg, alt: The brim., part: Brim}\n"
    "parts:\n  - name: Brim\n    rows:\n      - Rnd 1: 6 sc in adjustable ring. (6 sc)\n",
    form="yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Pictures whose part nobody knows."""
    for picture in facts.document.pictures:
        if picture.part and part_named(facts.document, picture.part) is None:
            known = ", ".join(part.name or part.id for part in facts.document.parts) or "none"
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"The picture {picture.file!r} belongs to a part “{picture.part}”, which is not there.",
                picture.span,
                found=picture.part,
                hint=f"The parts are: {known}.",
            )
