"""Rows on foundations whose length the maker chooses. Common practice of the trade, no source."""

from __future__ import annotations

import json
import re

from convert.document.read import ReadOptions
from convert.exporters.html import HtmlOptions, write_html
from convert.exporters.json.report import FileReport, write_report
from convert.fabric.proving import SizeRun, work_document
from convert.pipeline import Checked, check_source
from convert.source import Source
from tests.fabric.working import faults, made, pattern

EDGE = "Row 1: Sc in 2nd ch from hook and in each ch across, turn."
ARCHES = "Row 2: Ch 1, sc in first sc, *ch 4, skip next 4 sc, sc in next sc; rep from * across, turn."


def _run(lines: list[str]) -> SizeRun:
    return work_document(pattern(lines), {})[0]


def test_a_told_multiple_is_worked_on_the_smallest_length_with_room() -> None:
    """Twelve chains at least: two times five and two."""
    assert ["12 ch", "11 sc", "3 sc, 2 ch-4 sps"] == made(["Ch a multiple of 5 plus 2.", EDGE, ARCHES])
    assert 12 == _run(["Ch a multiple of 5 plus 2.", EDGE, ARCHES]).chains


def test_rows_that_fit_no_such_length_are_wrong() -> None:
    """Five and three leaves one stitch over, however many fives there are."""
    assert ["", "", "stitches-left-over"] == faults(["Ch a multiple of 5 plus 3.", EDGE, ARCHES])


def test_a_count_tells_how_many_repeats_the_author_worked() -> None:
    """Sixty chains and two: twelve spaces are stated, not two."""
    lines = ["Ch a multiple of 5 plus 2.", EDGE, ARCHES.replace("turn.", "turn. (12 ch-4 sps)")]
    assert 62 == _run(lines).chains
    assert ["", "", ""] == faults(lines)


def test_a_count_that_fits_no_length_is_not_called_wrong() -> None:
    """Nobody tells on how many chains the author counted."""
    lines = ["Ch a multiple of 5 plus 2.", EDGE.replace("turn.", "turn. (13)"), ARCHES]
    assert ["", "", ""] == faults(lines)
    assert "?" == made(lines)[1]


def test_of_a_length_that_nobody_tells_the_first_that_suits_is_taken() -> None:
    """27 chains are the first from 24 on that are five times so many and two."""
    lines = ["Make a chain of the length required.", EDGE, ARCHES]
    assert ["27 ch", "26 sc", "6 sc, 5 ch-4 sps"] == made(lines)


def test_what_fits_on_no_length_that_nobody_tells_is_unknown() -> None:
    """Nobody needs so many chains for one row, as far as one can tell."""
    lines = [
        "Make a chain of the length required.",
        EDGE,
        ARCHES.replace("4 sc", "130 sc"),
    ]
    assert ["", "", ""] == faults(lines)
    assert "?" == made(lines)[-1]


def test_rows_on_a_length_that_nobody_tells_are_not_proved() -> None:
    """They were tried on lengths until one suited."""
    told, open_ = (_run([first, EDGE]).rows[1].outcome for first in ("Ch a multiple of 2.", "Ch any number of sts."))
    assert told is not None and not told.edge.untested
    assert open_ is not None and open_.edge.untested


def test_a_multiple_that_fits_only_now_and_then_is_not_proved() -> None:
    """Arches over nine stitches come out on every other multiple of five plus two."""
    lines = ["Ch a multiple of 5 plus 2.", EDGE, ARCHES.replace("4 sc", "9 sc")]
    outcome = _run(lines).rows[2].outcome
    assert outcome is not None and outcome.made is not None and outcome.edge.untested


def _checked(first: str) -> Checked:
    text = f"Sandling Trim\n\nUS terms.\n\nGauge: 16 sts and 16 rows = 10 cm\n\n{first}\n{EDGE}\n"
    return check_source(Source("trim.txt", text), "text", ReadOptions())


def test_the_report_says_on_how_many_chains_was_counted() -> None:
    """Whoever reads the counts has to know that they are those of one length."""
    for first, chains in (("Ch a multiple of 5 plus 2.", 12), ("Ch 12.", None)):
        checked = _checked(first)
        report = json.loads(write_report([FileReport("trim.txt", "", (), checked.proof)]))
        row = report["files"][0]["rows"][1]["sizes"][0]
        assert (11, chains) == (row["total"], row.get("chains"))


def test_no_page_and_no_measure_tells_the_counts_of_one_length() -> None:
    """The maker chooses another."""
    shown = {}
    for first in ("Ch a multiple of 5 plus 2.", "Ch 12."):
        checked = _checked(first)
        written, measured = checked.written, checked.measured
        assert written is not None and measured is not None
        assert checked.grading is not None and checked.proof is not None
        page = write_html(written, checked.grading, checked.proof, HtmlOptions(faces=False)).text
        words = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", "", page))
        shown[first] = ("11 sc" in words, measured.sizes[0].parts[0].widest is not None)
    assert {"Ch a multiple of 5 plus 2.": (False, False), "Ch 12.": (True, True)} == shown
