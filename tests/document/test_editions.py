"""A pattern reduced to one size, and one with every row written out: both execute to the counts of the original."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from convert.document.each_row import each_row
from convert.document.one_size import one_size
from convert.document.read import ReadOptions
from convert.document.records import Document, Row
from convert.document.steps import Again
from convert.findings import Severity
from convert.grader.values import values_of
from convert.pipeline import Checked, check_document, check_source
from convert.source import Source

DEMO = Path(__file__).parent.parent.parent / "fixtures/demo"
KINDS = {".md": "markdown", ".txt": "text", ".yaml": "yaml"}
NAMES = ["heron", "kestrel", "lantern", "pomble", "tideline"]


@cache
def demo(name: str) -> Checked:
    (file,) = DEMO.glob(f"{name}*")
    return check_source(Source(file.name, file.read_text(encoding="utf-8")), KINDS[file.suffix], ReadOptions())


def document_of(name: str) -> tuple[Document, dict]:
    checked = demo(name)
    assert checked.document is not None
    assert checked.grading is not None
    return checked.document, dict(values_of(checked.document, checked.grading))


def last_total(document: Document, size: int) -> int | None:
    """Stitches of the last row of the first part."""
    _, proof = check_document(document)
    rows = [row for row in proof.rows if row.part == document.parts[0].id and row.sizes[size].total]
    return rows[-1].sizes[size].total


@pytest.mark.parametrize("name", NAMES)
def test_one_size_is_a_clean_pattern_of_its_own(name):
    document, values = document_of(name)
    for size in range(document.size_count):
        own = one_size(document, size, values)
        _, proof = check_document(own)
        assert [] == [f.message for f in proof.findings if f.severity is Severity.ERROR]
        assert proof.understood.proved_rows == proof.understood.rows
        assert last_total(document, size) == last_total(own, 0)


@pytest.mark.parametrize("name", NAMES)
def test_every_row_written_out_makes_the_same(name):
    document, values = document_of(name)
    for size in range(document.size_count):
        longer = each_row(one_size(document, size, values), 0, values)
        rows = [item for part in longer.parts for item in part.items if isinstance(item, Row)]
        assert all(len(row.label.numbers) <= 1 for row in rows)
        _, proof = check_document(longer)
        assert [] == [f.message for f in proof.findings if f.severity is Severity.ERROR]
        assert last_total(document, size) == last_total(longer, 0)


def test_repeated_rows_are_numbered_on_and_counted_one_by_one():
    document, values = document_of("kestrel")
    longer = each_row(one_size(document, 0, values), 0, values)
    rows = [item for item in longer.parts[0].items if isinstance(item, Row)]
    assert not any(isinstance(step, Again) for row in rows for step in row.steps)
    assert list(range(1, 27)) == [row.label.first for row in rows[:26]], "4 rounds, and 11 times 2 more"
    _, proof = check_document(longer)
    totals = [proof.of(row).sizes[0].total for row in rows[1:26:2]]
    assert totals == [18 + 24 * n for n in range(13)]


def test_what_the_sizes_work_differently_often_stays_together_in_all_sizes():
    document, values = document_of("kestrel")
    assert document == each_row(document, None, values)
