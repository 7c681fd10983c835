"""A pattern's way through the program: read, grade, execute, check."""

from __future__ import annotations

from dataclasses import dataclass

from convert.checks import finders
from convert.checks.check import Facts, spoilt_rows
from convert.document.read import Read, ReadOptions
from convert.document.records import Document
from convert.fabric.proving import work_document
from convert.fabric.report import proof_of
from convert.fabric.results import Proof
from convert.findings import Finding, sorted_findings
from convert.grader.grading import grade
from convert.grader.results import Grading
from convert.grader.values import values_and_findings
from convert.importers import reader
from convert.source import Source


@dataclass(frozen=True, slots=True)
class Checked:
    """A source with all that was found out about it; the document and its results are None where nothing could be read."""

    source: Source
    document: Document | None
    grading: Grading | None
    proof: Proof | None
    findings: tuple[Finding, ...]


def read_source(source: Source, kind: str, options: ReadOptions) -> Read:
    """Reads a source of this kind (yaml, markdown, text, json)."""
    return reader(kind)(source, options)


def check_document(document: Document, read: Read | None = None) -> tuple[Grading, Proof]:
    """Grades, executes and checks a document; what was found in reading it is put with the rest."""
    grading = grade(document)
    values, broken = values_and_findings(document, grading)
    earlier = read.findings if read is not None else ()
    runs = work_document(document, values, spoilt_rows(document, earlier))
    facts = Facts(document, grading, values, runs, earlier)
    checked = [finding for _, find in finders() for finding in find(facts)]
    findings = sorted_findings((*earlier, *grading.findings, *broken, *checked))
    clauses = (read.clauses, read.verbatim_clauses) if read is not None else (0, 0)
    return grading, proof_of(document, runs, findings, clauses)


def check_source(source: Source, kind: str, options: ReadOptions) -> Checked:
    """Reads, grades, executes and checks a source."""
    read = read_source(source, kind, options)
    if read.document is None:
        return Checked(source, None, None, None, sorted_findings(read.findings))
    grading, proof = check_document(read.document, read)
    return Checked(source, read.document, grading, proof, proof.findings)
