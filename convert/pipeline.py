"""A pattern's way through the program: read, grade, execute, check."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.checks import finders
from convert.checks.check import Facts, spoilt_rows
from convert.document.read import Read, ReadOptions
from convert.document.records import Document
from convert.fabric.as_worked import as_worked
from convert.fabric.proving import work_document
from convert.fabric.report import proof_of
from convert.fabric.results import Proof
from convert.findings import Finding, sorted_findings
from convert.grader.grading import grade
from convert.grader.made_to_measure import Wish, made_to_measure
from convert.grader.measuring import Measured, measure
from convert.grader.results import Grading
from convert.grader.values import values_and_findings
from convert.grader.written import written_out
from convert.importers import reader
from convert.source import Source


class Checked(Struct, frozen=True):
    """A source with all that was found out about it; the document and its results are None where nothing could
    be read.
    """

    source: Source
    document: Document | None
    grading: Grading | None
    proof: Proof | None
    findings: tuple[Finding, ...]
    written: Document | None = None
    """The document with its schedules of shaping written out as rows: what pages show and the proof speaks of."""
    measured: Measured | None = None
    wished: bool = False
    """Whether the document was made for a maker's own gauge or measurements."""


def read_source(source: Source, kind: str, options: ReadOptions) -> Read:
    """Reads a source of this kind (yaml, markdown, text, json)."""
    return reader(kind)(source, options)


class Examination(Struct, frozen=True):
    """What grading, executing and checking a document yields."""

    written: Document
    grading: Grading
    proof: Proof
    measured: Measured
    as_worked: Document
    """The document, with what its rows leave open said as it was worked."""


def examine_document(document: Document, read: Read | None = None, source: Source | None = None) -> Examination:
    """Grades, writes out, executes, measures and checks; what was found in reading is put with the rest.

    `source` is the text that was read, in which findings about words look for their place.
    """
    grading = grade(document)
    written, impossible = written_out(document, grading)
    values, broken = values_and_findings(written, grading)
    earlier = read.findings if read is not None else ()
    told = (*earlier, *impossible)
    runs = work_document(written, values, spoilt_rows(written, told))
    measured = measure(written, grading, runs)
    facts = Facts(written, grading, values, runs, told, measured, source)
    checked = [finding for _, find in finders() for finding in find(facts)]
    findings = sorted_findings((*earlier, *grading.findings, *impossible, *broken, *checked))
    clauses = (read.clauses, read.verbatim_clauses) if read is not None else (0, 0)
    return Examination(
        written, grading, proof_of(written, runs, findings, clauses), measured, as_worked(document, runs)
    )


def check_document(document: Document, read: Read | None = None) -> tuple[Grading, Proof]:
    """Grades, executes and checks a document; what was found in reading it is put with the rest."""
    found = examine_document(document, read)
    return found.grading, found.proof


def check_source(source: Source, kind: str, options: ReadOptions, wish: Wish | None = None) -> Checked:
    """Reads, grades, executes and checks a source, for a maker's own gauge and measurements if a `wish` says so."""
    read = read_source(source, kind, options)
    if read.document is None:
        return Checked(source, None, None, None, sorted_findings(read.findings))
    if wish is not None:
        read = replace(read, document=made_to_measure(read.document, wish))
    assert read.document is not None
    found = examine_document(read.document, read, source)
    findings = found.proof.findings
    document = found.as_worked
    if document is not read.document:
        found = examine_document(document, read, source)
    return Checked(
        source,
        document,
        found.grading,
        replace(found.proof, findings=findings),
        findings,
        found.written,
        found.measured,
        wish is not None,
    )
