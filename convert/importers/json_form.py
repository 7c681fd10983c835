"""Reads the neutral document from JSON."""

from __future__ import annotations

from collections.abc import Iterator

from convert.document.codec import decode
from convert.document.coders import CodecError
from convert.document.read import Read, ReadOptions
from convert.document.steps import Group, Repeat, Step, Verbatim
from convert.findings import Finding, Severity
from convert.importers.entrance import admit
from convert.importers.identities import find_same_names
from convert.importers.json_data import load_json
from convert.importers.validation import validate
from convert.source import Source


def read_json(source: Source, options: ReadOptions) -> Read:
    """The document in a JSON text. Data that are not a document yield findings and no document.

    Raises `LimitExceeded` and `UnreadableInput`.
    """
    data, findings = load_json(admit(source, lines=False))
    if data is None:
        return Read(source, None, findings)
    findings += validate(data, "pattern")
    if any(finding.severity is Severity.ERROR for finding in findings):
        return Read(source, None, findings)
    try:
        document = decode(data)
    except CodecError as error:
        finding = Finding("wrong-type", Severity.ERROR, f"This is no pattern document: {error}.", data.span)
        return Read(source, None, (*findings, finding))
    steps = [step for part in document.parts for row in part.rows for step in _all_steps(row.steps)]
    verbatim = sum(isinstance(step, Verbatim) and not step.inert for step in steps)
    return Read(source, document, (*findings, *find_same_names(document)), len(steps), verbatim)


def _all_steps(steps: tuple[Step, ...]) -> Iterator[Step]:
    """The steps and those inside them."""
    for step in steps:
        yield step
        if isinstance(step, Group | Repeat):
            yield from _all_steps(step.steps)
        if isinstance(step, Repeat) and step.ending is not None:
            yield from _all_steps(step.ending.steps)
