"""The report of a check as JSON: its shape is the schema's, its positions count from 1."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import jsonschema_rs
import pytest

from convert.document.records import Label, Row, RowKind
from convert.exporters.json.report import FileReport, write_report
from convert.fabric.results import Proof, RowInSize, RowProof, Tally, Understood
from convert.findings import Finding, Severity
from convert.source import Span
from convert.trade.tables import read_data

SCHEMA: dict[str, Any] = json.loads(read_data("report.schema.json", under="schema"))


def _sample() -> list[FileReport]:
    row = Row(Label(RowKind.ROUND, 5), (), span=Span(13, 0, 13, 66))
    known = RowInSize("m", 1, (Tally("sc", 35),), 35, (Tally("sc", 36),), agrees=False, proved=True)
    unknown = RowInSize("l", 1, None, None)
    finding = Finding(
        "count-mismatch",
        Severity.ERROR,
        "Round 5 makes 35 sc in size M, but it says 36.",
        Span(13, 7, 13, 60),
        sizes=("m",),
        expected="36",
        found="35",
        related=(Span(13, 62, 13, 66),),
    )
    proof = Proof((RowProof("crown", "Rnd 5", row, (known, unknown)),), Understood(4, 0, 1, 0, 0))
    unread = FileReport("b.txt", "", (Finding("unreadable-input", Severity.ERROR, "This is a picture."),), None)
    return [FileReport("a.md", "Harbour Hat", (finding,), proof), unread]


def test_the_schema_is_a_schema() -> None:
    """It holds to JSON Schema 2020-12, by two libraries."""
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema_rs.meta.validate(SCHEMA)


@pytest.mark.parametrize("files", [[], _sample()], ids=["empty", "sample"])
def test_a_report_keeps_to_the_schema(files: list[FileReport]) -> None:
    """By two validators; the schema is the contract for those who read reports."""
    report = json.loads(write_report(files))
    jsonschema.Draft202012Validator(SCHEMA).validate(report)
    jsonschema_rs.validator_for(SCHEMA).validate(report)


@pytest.mark.parametrize(
    "path",
    [("files", 0, "rows", 0, "sizes", 0, "agrees"), ("files", 0, "findings", 0, "severity"), ("format",)],
    ids=str,
)
def test_the_schema_refuses_what_a_report_never_says(path: tuple[str | int, ...]) -> None:
    """A value of the wrong kind in one place does not pass."""
    report = json.loads(write_report(_sample()))
    inner = report
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = "perhaps"
    assert not jsonschema.Draft202012Validator(SCHEMA).is_valid(report)


def test_positions_count_from_one() -> None:
    """Line 13, column 7 inside is line 14, column 8 for people and editors; where none is known it is null."""
    read, unread = json.loads(write_report(_sample()))["files"]
    finding = read["findings"][0]
    assert (finding["line"], finding["column"], finding["end-line"], finding["end-column"]) == (14, 8, 14, 61)
    assert finding["related"] == [{"line": 14, "column": 63, "end-line": 14, "end-column": 67}]
    assert read["rows"][0]["line"] == 14
    assert unread["findings"][0]["line"] is None


def test_rows_tell_what_was_made_in_each_size() -> None:
    """Counts by stitch and in total beside the stated ones; null where nothing is known."""
    sizes = json.loads(write_report(_sample()))["files"][0]["rows"][0]["sizes"]
    assert sizes[0] == {
        "size": "m",
        "worked": 1,
        "made": [{"kind": "sc", "number": 35}],
        "total": 35,
        "stated": [{"kind": "sc", "number": 36}],
        "agrees": False,
        "proved": True,
    }
    assert (sizes[1]["made"], sizes[1]["total"], sizes[1]["agrees"]) == (None, None, None)


def test_the_summary_adds_up_all_files() -> None:
    """Findings by severity over all files."""
    assert json.loads(write_report(_sample()))["summary"] == {"files": 2, "errors": 2, "warnings": 0, "notes": 0}
