"""Speed, beside the goals that the project sets itself. `make bench` measures; a plain test run runs each piece once.

A goal stands as the heading of its measures and is never asserted: a busy machine would fail what is right.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from convert.document.read import ReadOptions
from convert.document.records import Document, TermSystem
from convert.exporters.html import HtmlOptions, write_html
from convert.fabric.proving import work_document
from convert.grader.grading import grade
from convert.grader.values import values_and_findings
from convert.instructions.reader import Context, read_row
from convert.pipeline import Checked, check_source, examine_document
from convert.source import Passage, Source
from tests.fuzz.rows import real_rows

ROOT = Path(__file__).parents[2]
SWEATER = next((ROOT / "fixtures" / "demo").glob("*sweater*.pattern.yaml"))
THROW = next((ROOT / "fixtures" / "demo").glob("*throw*.pattern.yaml"))

LINES = [
    "Rnd 1: Ch 4, join to form ring; ch 3 (counts as dc), 11 dc in ring; join with sl st in top of beg ch-3. (12 dc)",
    "Rnd 2: 2 sc in each st around. (24 sc)",
    "Row 3: Ch 3, *sk next 2 sts, (3 dc, ch 1, 3 dc) in next ch-2 sp; rep from * across, dc in last st; turn.",
    "Row 4: Ch 1, sc in first st, *5 dc in next ch-3 sp, sc in next sc; rep from * to end, turn. — 49 (57, 65) sts",
    "Rnd 5: (Sc in next 4 sts, sc2tog) 6 times. (30)",
    "Row 6: Ch 1, sc2tog over first 2 sts, sc in each st to last 2 sts, sc2tog; turn.",
]

SHARED = """\
format: "1"
title: Body
terms: us
sizes:
SIZES
gauge: {stitches: 17, rows: 20, over: 10 cm, stitch: sc}
fits:
  - {number: body, target: bust, along: stitches, count: front + back + 2*under, least: 1}
  - {number: front, target: front, along: stitches, least: 40, most: 200}
  - {number: hem, target: hem, along: stitches, count: front + back + 4*under, least: 1}
demands:
  - {number: front, multiple: 6, plus: 1}
  - {number: back, multiple: 4, plus: 3, least: 40, most: 200}
  - {number: under, least: 2, most: 30}
parts: [{name: Body, rows: ["Row 1: Ch {body + 1}, sc in 2nd ch from hook and in each ch across."]}]
"""


def _goal(benchmark: BenchmarkFixture, seconds: float) -> None:
    benchmark.group = f"goal: {seconds * 1000:.0f} ms"


@pytest.fixture(scope="module")
def throw() -> Checked:
    """The largest demo pattern, read and checked."""
    return check_source(Source(THROW.name, THROW.read_text(encoding="utf-8")), "yaml", ReadOptions())


def _document(checked: Checked) -> Document:
    assert checked.document is not None
    return checked.document


def test_reading_real_rows(benchmark: BenchmarkFixture) -> None:
    """The rows of the correct patterns, longer than most and each read once: 2,000 a second or better."""
    rows = [Passage.at(row, 1, 0) for row in real_rows()]
    context = Context(TermSystem.US, sizes=(("s", "S"), ("m", "M"), ("l", "L")))
    _goal(benchmark, len(rows) / 2000)
    benchmark.pedantic(lambda: [read_row(row, context) for row in rows], rounds=5, warmup_rounds=1)


def test_reading_instruction_lines(benchmark: BenchmarkFixture) -> None:
    """2,000 lines a second or better."""
    passages = [Passage.at(line, number, 0) for number, line in enumerate(LINES * 50)]

    def read_all() -> int:
        return sum(len(read_row(passage, Context()).row.steps) for passage in passages)

    _goal(benchmark, len(passages) / 2000)
    assert benchmark(read_all) > len(passages)


def test_executing_the_throw_in_all_sizes(benchmark: BenchmarkFixture, throw: Checked) -> None:
    """50 ms or better for four sizes, the largest of 40 rounds or more."""
    document = _document(throw)
    values, _ = values_and_findings(document, grade(document))
    _goal(benchmark, 0.05)
    runs = benchmark(work_document, document, values)
    rounds = [sum(row.worked for row in run.rows) for run in runs]
    assert (len(rounds), max(rounds) >= 40) == (4, True)


def test_grading_and_executing_the_sweater(benchmark: BenchmarkFixture) -> None:
    """100 ms or better for six sizes whose numbers depend on each other, from the document to the findings."""
    document = _document(check_source(Source(SWEATER.name, SWEATER.read_text("utf-8")), "yaml", ReadOptions()))
    _goal(benchmark, 0.1)
    found = benchmark(examine_document, document)
    assert (6, ()) == (len(found.grading.sizes), found.proof.findings)


def test_a_fit_with_three_shared_numbers(benchmark: BenchmarkFixture) -> None:
    """50 ms or better over ten sizes: front, back and underarm make body, chest and hem, each in a multiple."""
    sizes = "".join(
        f"  - {{id: s{n}, target: {{bust: {80 + 6 * n} cm, front: {38 + 3 * n} cm, hem: {90 + 6 * n} cm}}}}\n"
        for n in range(10)
    )
    text = SHARED.replace("SIZES", sizes)
    document = _document(check_source(Source("shared", text), "yaml", ReadOptions()))
    _goal(benchmark, 0.05)
    found = benchmark(grade, document)
    assert (10, ()) == (len(found.sizes), found.findings)
    assert all(size.number("front") and size.number("front") % 6 == 1 for size in found.sizes)


def test_a_cold_check(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """Half a second or better from the shell, and neither library that makes pages is loaded."""
    command = [sys.executable, "-m", "convert", "check", str(THROW)]
    # An installed program has its modules compiled, so the measure is taken with that, wherever the test runs.
    environment = {**os.environ, "PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": str(tmp_path)}

    def check() -> int:
        ended = subprocess.run(command, cwd=ROOT, env=environment, stdout=subprocess.DEVNULL, check=False)
        return ended.returncode

    _goal(benchmark, 0.5)
    assert benchmark.pedantic(check, rounds=5 if benchmark.enabled else 1, warmup_rounds=int(benchmark.enabled)) == 0


def test_html_once_warm(benchmark: BenchmarkFixture, throw: Checked) -> None:
    """30 ms or better for one pattern."""
    options = HtmlOptions(system=TermSystem.UK)
    document = _document(throw)
    write_html(document, throw.grading, throw.proof, options)
    _goal(benchmark, 0.03)
    written = benchmark(write_html, document, throw.grading, throw.proof, options)
    assert "<html" in written.text


@pytest.mark.parametrize("piece", ["[", "(sc, ", "*", "sc in next 2 sts, ", "{", "a ", "alternately x, "])
def test_reading_a_very_long_row(benchmark: BenchmarkFixture, piece: str) -> None:
    """Reading stays in proportion to the length: 12,000 characters of anything in a quarter of a second."""
    passage = Passage.at(piece * (12_000 // len(piece)), 0, 0)
    _goal(benchmark, 0.25)
    benchmark.pedantic(lambda: read_row(passage, Context()), rounds=3, warmup_rounds=1)
