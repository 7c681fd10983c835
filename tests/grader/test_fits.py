"""Fits and demands as an author writes them: what is chosen, what comes next, and what is said where nothing can be."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.exporters.grading_table import write_table
from convert.findings import Finding
from convert.grader.results import Grading
from convert.pipeline import Checked, check_source
from convert.source import Source

HEAD = """\
format: "1"
title: Piece
terms: us
gauge: {stitches: 16, rows: 20, over: 10 cm, stitch: sc}
"""
ROW = '\nparts: [{name: Piece, rows: ["Row 1: Ch {SUM}, sc in 2nd ch from hook and in each ch across."]}]\n'


def _checked(data: str, of: str) -> Checked:
    return check_source(Source("piece", HEAD + data + ROW.replace("SUM", of)), "yaml", ReadOptions())


def _grading(found: Checked) -> Grading:
    assert () == found.findings
    assert found.grading is not None
    return found.grading


def _only(found: Checked, code: str) -> Finding:
    (finding,) = [f for f in found.findings if f.code == code]
    return finding


WIDE = "sizes: [{id: s, name: Small, target: {width: 40 cm}}, {id: m, name: Large, target: {width: 50 cm}}]\n"


def test_a_multiple_and_a_remainder() -> None:
    """40 cm are 64 stitches: 10 times 6 and 1 are 61, 11 times 67; 61 is as near as 67, and the smaller is taken."""
    grading = _grading(
        _checked(WIDE + "fits: [{number: reps, target: width, along: stitches, each: 6, plus: 1}]", "reps")
    )
    assert (10, 13) == grading.values("reps")  # 50 cm are 80: 79
    first = grading.sizes[0].chosen[0]
    assert (38.125, -1.875) == (61 / 1.6, first.off_cm)
    assert (11, 9) == first.others


def test_whole_repeats_of_rows_and_a_row_of_the_wrong_side_at_the_end() -> None:
    """Repeats of 4 rows, and 2 at the end: 30 cm at 2 rows a centimetre are 60, so 58 or 62; even, so it ends there."""
    sizes = "sizes: [{id: s, target: {length: 30 cm}}]\n"
    fits = "fits: [{number: bands, target: length, along: rows, each: 4, plus: 2, least: 1, most: 40}]"
    assert (14,) == _grading(_checked(sizes + fits, "bands")).values("bands")
    even = "fits: [{number: rows, target: length, along: rows, least: 2, step: 2}]"
    assert (60,) == _grading(_checked(sizes + even, "rows")).values("rows")
    odd = "fits: [{number: rows, target: length, along: rows, least: 1, step: 2}]"
    assert (59,) == _grading(_checked(sizes + odd, "rows")).values("rows")


SHARED = """\
sizes:
  - {id: s, name: Small, target: {bust: 80 cm, front: 40 cm}}
  - {id: m, name: Large, target: {bust: 96 cm, front: 46 cm}}
fits:
  - {number: body, target: bust, along: stitches, count: front + back + 2*under, least: 1}
  - {number: front, target: front, along: stitches, least: 20, most: 200}
demands:
  - {number: back, equals: front, least: 20, most: 200}
  - {number: under, least: 2, most: 9, divides: body}
"""


def test_fits_that_share_a_number_and_one_that_divides_another() -> None:
    """Body 80 cm is 128, front 64: with 2 under the body is 132, with 62 in front 128. 2 divides both."""
    grading = _grading(_checked(SHARED, "front + under + back"))
    for size in grading.sizes:
        body, front, back, under = (size.number(name) or 0 for name in ("body", "front", "back", "under"))
        assert body == front + back + 2 * under
        assert front == back
        assert 0 == body % under
    assert (62, 128, 2) == tuple(grading.sizes[0].number(name) for name in ("front", "body", "under"))


def test_the_report_names_the_next_best_choices() -> None:
    found = _checked(SHARED, "front + under + back")
    grading = _grading(found)
    assert all(chosen.others for size in grading.sizes for chosen in size.chosen if chosen.fit.number == "front")
    assert found.document is not None
    table = write_table(found.document, grading, found.proof, found.measured)
    assert "front, next best" in table
    assert all(chosen.value not in chosen.others for size in grading.sizes for chosen in size.chosen)


def test_demands_that_cannot_hold_together_are_named() -> None:
    """The two that contradict each other, and not the third, with the ends that the fit itself sets."""
    data = WIDE + (
        "fits: [{number: front, target: width, along: stitches, least: 40, most: 90}]\n"
        "demands: [{number: front, multiple: 2}, {number: back, least: 3}, {number: front, multiple: 4, plus: 1}]"
    )
    small, large = sorted(_checked(data, "front").findings, key=lambda f: f.sizes, reverse=True)
    finding = small
    assert ("demands-conflict", "demands-conflict") == (small.code, large.code), (
        "and no formula that only follows from it"
    )
    said = "front is a multiple of 2; front is a multiple of 4 plus 1; front lies between 40 and 90 in steps of 1"
    assert said == finding.found
    assert (("s",), ("m",)) == (small.sizes, large.sizes)
    assert "in size Small" in small.message
    assert 1 == len(finding.related)


def test_numbers_that_no_choice_can_tie_together_are_a_conflict() -> None:
    """7 or more stitches never divide one of 1 to 5 without remainder."""
    data = SHARED.replace("under, least: 2, most: 9, divides: body", "under, least: 7, most: 9, divides: rest")
    data += "  - {number: rest, least: 1, most: 5}\n"
    finding = next(f for f in _checked(data, "front").findings if f.code == "demands-conflict")
    assert "under divides rest, is 7 or more, is 9 or less; rest is 1 or more, is 5 or less" == finding.found


def test_a_fraction_where_a_whole_number_is_needed_names_the_sizes() -> None:
    sizes = "sizes: [{id: s, numbers: {n: 10}}, {id: m, numbers: {n: 11}}, {id: l, numbers: {n: 11}}]"
    finding = _only(_checked(sizes, "n/2 + 1"), "formula")
    assert ("m", "l") == finding.sizes
    assert "it comes to 6.5" in finding.message


def test_a_target_that_is_missed_says_by_how_much() -> None:
    data = WIDE + "fits: [{number: reps, target: width, along: stitches, each: 30, tolerance: 2 cm}]"
    small, large = (f for f in _checked(data, "reps").findings if f.code == "target-missed")
    assert (("s",), ("m",)) == (small.sizes, large.sizes)  # 60 stitches are 37.5 cm, 90 are 56.25
    assert ("2.5 cm less" in small.message, "6.3 cm more" in large.message) == (True, True)


@pytest.mark.parametrize(
    ("widths", "odd"),
    [
        ("40 45 50 55 60", None),
        ("40 45 65 55 60", "65 cm"),
        ("40 45 50 50 60", "50 cm"),
        ("40 45 52 55 60", None),  # less than a whole step off
        ("40 45 65 55", None),  # too few to tell
        ("40 46 53 55 60", None),
    ],
)
def test_a_size_that_is_the_odd_one_out(widths: str, odd: str | None) -> None:
    ids = [f"{{id: s{at}, target: {{width: {wide} cm}}}}" for at, wide in enumerate(widths.split())]
    found = [f.found for f in _checked(f"sizes: [{', '.join(ids)}]", "12").findings if f.code == "odd-one-out"]
    assert ([odd] if odd else []) == found


def test_numbers_of_sizes_too() -> None:
    ids = [f"{{id: s{at}, numbers: {{n: {n}}}}}" for at, n in enumerate((40, 48, 65, 64, 72))]
    (finding,) = [f for f in _checked(f"sizes: [{', '.join(ids)}]", "n").findings if f.code == "odd-one-out"]
    assert ("65", "56", ("s2",)) == (finding.found, finding.expected, finding.sizes)
