"""Names that have to be one of a kind: of sizes, parts, special stitches, and of yarns that rows call."""

from __future__ import annotations

from collections.abc import Iterable

from convert.document.records import Document
from convert.findings import Finding, Severity
from convert.source import NOWHERE, Span


def find_same_names(document: Document) -> tuple[Finding, ...]:
    """A finding for each name that two things of one kind share, capitals or not."""
    return (
        *_same("size", ((size.id, size.span) for size in document.sizes)),
        *_same("part", ((part.id, part.span) for part in document.parts)),
        *_same("special stitch", ((special.id, special.span) for special in document.specials)),
        *_same("yarn", ((yarn.key, yarn.span) for yarn in document.materials.yarns if yarn.key)),
        *_same("fitted number", ((fit.number, fit.span) for fit in document.fits)),
        *_same("beginning chain", ((str(chain.chains), NOWHERE) for chain in document.beginning_chains)),
    )


def _same(what: str, named: Iterable[tuple[str, Span]]) -> Iterable[Finding]:
    seen: dict[str, Span] = {}
    for name, span in named:
        first = seen.get(name.casefold())
        if first is None:
            seen[name.casefold()] = span
            continue
        message = f'Two are called "{name}": each {what} needs a name of its own.'
        yield Finding(
            "same-name", Severity.ERROR, message, span, found=name, hint="Rename one of them.", related=(first,)
        )
