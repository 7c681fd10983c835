"""What pieces measure: sides and diagonals, gauges of every kind, and what the figures say they rest on."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.exporters.grading_table import notes, write_table
from convert.exporters.html import HtmlOptions, write_html
from convert.grader.made_to_measure import NoWish, Wish, read_gauge
from convert.grader.measuring import PartMeasure
from convert.pipeline import Checked, check_source
from convert.source import Source

RECTANGLE = """\
format: "1"
title: Panel
terms: us
HEAD
parts:
  - name: Panel
    worked: rows
    rows:
      - "Row 1: Ch 25, sc in 2nd ch from hook and in each ch across, turn. (24 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (24 sc)"
      - "Rep Row 2 30 times more."
"""
SQUARE = """\
format: "1"
title: Mat
terms: us
SHAPE
gauge: {stitches: 16, rows: 16, over: 10 cm, stitch: sc}
parts:
  - name: Mat
    worked: rounds
    rows:
      - "Rnd 1: Ch 2, 8 sc in 2nd ch from hook, join with sl st in first sc. (8 sc)"
      - "Rnd 2: Ch 1, *sc in next st, 3 sc in next st; rep from * around, join with sl st in first sc. (16 sc)"
      - "Rnd 3: Ch 1, *sc in next 2 sts, 3 sc in next st, sc in next st; rep from * around, join. (24 sc)"
      - "Rnd 4: Ch 1, *sc in next 3 sts, 3 sc in next st, sc in next 2 sts; rep from * around, join. (32 sc)"
"""
GAUGE = "gauge: {stitches: 16, rows: 20, over: 10 cm, stitch: sc}"


def _checked(text: str, wish: Wish | None = None) -> Checked:
    return check_source(Source("piece", text), "yaml", ReadOptions(), wish)


def _panel(head: str, wish: Wish | None = None) -> Checked:
    return _checked(RECTANGLE.replace("HEAD", head), wish)


def _part(found: Checked) -> PartMeasure:
    assert () == found.findings
    assert found.measured is not None
    return found.measured.sizes[0].parts[0]


def _rests_on(found: Checked) -> str:
    assert found.measured is not None
    return found.measured.rests_on


def test_the_diagonal_of_a_piece_with_straight_sides() -> None:
    """24 stitches at 1.6 are 15 cm, 32 rows at 2 are 16 cm: the diagonal is the root of 225 + 256, 21.93."""
    part = _part(_panel(GAUGE))
    assert (15, 16) == (part.widest, part.length)
    assert [("diagonal", pytest.approx(21.93, abs=0.005))] == list(part.more)


@pytest.mark.parametrize(
    ("shape", "expected"),
    [
        ("shape: square", {"side": 5, "across": 5, "diagonal": 7.07}),  # 4 rounds of 0.625 cm from the centre
        ("shape: hexagon", {"side": 2.89, "across": 5, "diagonal": 5.77}),
        ("shape: triangle", {"side": 8.66, "depth": 7.5}),
        ("", {"across": 5}),
    ],
)
def test_a_flat_piece_in_rounds(shape: str, expected: dict[str, float]) -> None:
    part = _part(_checked(SQUARE.replace("SHAPE", shape)))
    assert expected == pytest.approx(dict(part.more), abs=0.005)


def test_a_tube_has_a_diameter() -> None:
    """48 stitches at 1.6 are 30 cm around: 9.55 cm across."""
    text = SQUARE.replace("SHAPE", "").split("      - ")[0] + (
        '      - "Rnd 1: Ch 48, join with sl st in first ch to form a ring, ch 1, sc in each ch around. (48 sc)"\n'
        '      - "Rnd 2: Ch 1, sc in each st around, join. (48 sc)"\n'
    )
    assert {"diameter": pytest.approx(9.55, abs=0.005)} == dict(_part(_checked(text)).more)


def test_the_finished_piece_counts_its_edging() -> None:
    """10 pairs of rounds from the centre are 25 cm across, and 5 cm of edging: 30 cm, 42.43 from corner to corner."""
    head = """shape: square
sizes: [{id: one, target: {width: 30 cm}}]
fits: [{number: pairs, target: width, along: rows, each: 2, across: 2, edging: 5 cm}]"""
    found = _panel(f"{head}\ngauge: {{stitches: 16, rows: 16, over: 10 cm, stitch: sc}}")
    assert found.measured is not None
    assert {"side": 30, "diagonal": pytest.approx(42.43, abs=0.005)} == dict(found.measured.sizes[0].finished)
    assert found.document is not None
    assert found.grading is not None
    table = write_table(found.document, found.grading, found.proof, found.measured)
    assert ["diagonal, finished", "cm", "42.5"] == re.split(
        r"  +", next(line for line in table.splitlines() if line.startswith("diagonal"))
    )
    assert found.proof is not None
    page = write_html(found.document, found.grading, found.proof, HtmlOptions(system=TermSystem.UK)).text
    words = re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", page))
    assert "Width Side Diagonal" in words
    assert "30 cm (11¾ in) 30 cm (11¾ in) 42 cm (16¾ in)" in words


def test_a_gauge_over_repeats_of_the_pattern() -> None:
    """2 repeats of 6 stitches and 5 rows in 10 cm are 1.2 stitches and half a row a centimetre; a maker may have 2½."""
    gauge = "gauge: {repeats: 2, repeat: 6, rows: 5, over: 10 cm, stitch: sc, words: in the shell pattern}"
    fits = """sizes: [{id: a, target: {width: 60 cm}}]
fits: [{number: reps, target: width, along: stitches, each: 6, plus: 1}]
"""
    found = _panel(fits + gauge)
    assert found.grading is not None
    assert 12 == found.grading.sizes[0].number("reps")  # 73 stitches, 60.8 cm
    assert 20 == _part(found).widest
    assert "the gauge in sc over repeats of 6 stitches" in _rests_on(found)
    other = _panel(fits + gauge, Wish(read_gauge("2.5 repeats 6 rows = 10 cm"))).grading
    assert other is not None
    assert 15 == other.sizes[0].number("reps")  # 91 stitches at 1.5
    assert found.document is not None
    assert found.proof is not None
    page = write_html(found.document, found.grading, found.proof, HtmlOptions(system=TermSystem.US))
    assert "2 repeats of 6 sts and 5 rows in" in re.sub(r"<[^>]*>", "", page.text)


def test_repeats_of_a_pattern_that_has_none_are_refused() -> None:
    with pytest.raises(NoWish, match="how many stitches a repeat has"):
        _panel(GAUGE, Wish(read_gauge("2 reps 6 rows = 10 cm")))


def test_a_fit_in_another_stitch_than_the_gauge_is_converted_and_says_so() -> None:
    """The gauge has 8 rows of dc in 10 cm; a row of sc is half as high (shared/stitches.yaml), so 20 cm are 32."""
    head = """sizes: [{id: a, target: {length: 20 cm}}]
fits: [{number: rows, target: length, along: rows, stitch: sc}]
gauge: {stitches: 14, rows: 8, over: 10 cm, stitch: dc}"""
    found = _panel(head)
    assert found.grading is not None
    assert found.document is not None
    assert 32 == found.grading.sizes[0].number("rows")
    said = "The gauge is in dc; numbers of sc rest on the usual size of that stitch beside it."
    assert said in notes(found.document, found.measured)
    assert said not in notes(_document(_panel(head.replace(", stitch: sc", ""))), found.measured)


def _document(found: Checked):  # type: ignore[no-untyped-def] # the type is that of the field
    assert found.document is not None
    return found.document


def test_without_a_gauge_the_class_of_the_yarn_is_a_rough_guide() -> None:
    """Yarn of weight 4 usually gives 11 to 14 stitches in 10 cm: 12.5, so 24 are 19.2 cm."""
    found = _panel("yarn: [{name: Wool, weight: 4}]")
    assert pytest.approx(19.2) == _part(found).widest
    assert "no gauge of its own but the usual 12.5 stitches in 10 cm of yarn of weight 4: a rough guide" == _rests_on(
        found
    )


def test_without_gauge_and_class_nothing_is_made_up() -> None:
    part = _part(_panel("notes: [Any yarn will do.]"))
    assert (None, None, ()) == (part.widest, part.length, part.more)


def test_a_gauge_without_rows_takes_the_usual_height_and_says_so() -> None:
    part = _part(found := _panel("gauge: {stitches: 16, over: 10 cm, stitch: sc}"))
    assert pytest.approx(20) == part.length  # 32 rows, as high as a stitch is wide
    assert "has no rows" in _rests_on(found)


def test_a_gauge_in_repeats_is_read_from_words() -> None:
    assert (Decimal(2), None) == (read_gauge("2 repeats 4 rows = 10 cm").repeats, read_gauge("2 reps = 10 cm").rows)
