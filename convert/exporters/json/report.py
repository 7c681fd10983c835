"""The report of a check as JSON, for builds and editors. Its shape is `schema/report.schema.json`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from typing import Any

from msgspec import Struct

from convert.fabric.results import Proof, RowInSize, RowProof, Tally
from convert.findings import Finding, Severity
from convert.source import Span

REPORT_FORMAT = "1"


class FileReport(Struct, frozen=True):
    """What a report says of one file; `proof` is None where the file could not be read as a pattern."""

    file: str
    title: str
    findings: tuple[Finding, ...]
    proof: Proof | None


def write_report(files: Sequence[FileReport]) -> str:
    """The report of all files, ending with a line end."""
    findings = [finding for file in files for finding in file.findings]
    report = {
        "format": REPORT_FORMAT,
        "files": [_file(file) for file in files],
        "summary": {"files": len(files)}
        | {f"{severity}s": sum(f.severity is severity for f in findings) for severity in Severity},
    }
    return json.dumps(report, ensure_ascii=False, indent=2, allow_nan=False) + "\n"


def _file(file: FileReport) -> dict[str, Any]:
    understood = file.proof.understood if file.proof else None
    return {
        "file": file.file,
        "title": file.title,
        "findings": [_finding(finding) for finding in file.findings],
        "rows": [_row(row) for row in file.proof.rows] if file.proof else [],
        "understood": {
            "clauses": understood.clauses if understood else 0,
            "verbatim-clauses": understood.verbatim_clauses if understood else 0,
            "rows": understood.rows if understood else 0,
            "verbatim-rows": understood.verbatim_rows if understood else 0,
            "proved-rows": understood.proved_rows if understood else 0,
        },
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "code": finding.code,
        "severity": finding.severity.value,
        "message": finding.message,
        **_place(finding.span),
        "sizes": list(finding.sizes),
        "expected": finding.expected,
        "found": finding.found,
        "because": finding.because,
        "hint": finding.hint,
        "related": [_place(span) for span in finding.related if span.line >= 0],
    }


def _place(span: Span) -> dict[str, int | None]:
    """Lines and columns counted from 1, the end being the character after the last; null where no place is known."""
    if span.line < 0:
        return {"line": None, "column": None, "end-line": None, "end-column": None}
    line, column = span.for_people
    return {"line": line, "column": column, "end-line": span.end_line + 1, "end-column": span.end_column + 1}


def _row(proof: RowProof) -> dict[str, Any]:
    line = proof.row.span.line
    return {
        "part": proof.part,
        "label": proof.label,
        "line": line + 1 if line >= 0 else None,
        "sizes": [_in_size(size) for size in proof.sizes],
    }


def _in_size(row: RowInSize) -> dict[str, Any]:
    return {
        "size": row.size,
        "worked": row.worked,
        "made": None if row.made is None else _tallies(row.made),
        "total": row.total,
        "stated": _tallies(row.stated),
        "agrees": row.agrees,
        "proved": row.proved,
        **({"chains": row.chains} if row.chains else {}),
        **({"turns": row.turns} if row.turns else {}),
    }


def _tallies(tallies: Iterable[Tally]) -> list[dict[str, Any]]:
    return [{"kind": tally.kind, "number": tally.number} for tally in tallies]
