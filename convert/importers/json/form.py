"""Reads the neutral document from JSON."""

from __future__ import annotations

from convert.document.codec import decode
from convert.document.coders import CodecError
from convert.document.read import Read, ReadOptions
from convert.document.walking import all_steps, unread
from convert.findings import Finding, Severity
from convert.importers.entrance import admit
from convert.importers.identities import find_same_names
from convert.importers.json.data import load_json
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
    rows = tuple(row.steps for part in document.parts for row in part.rows)
    clauses, verbatim = sum(1 for _ in all_steps(rows)), sum(1 for _ in unread(rows))
    return Read(source, document, (*findings, *find_same_names(document)), clauses, verbatim)
