"""The table of a grading as text, CSV and JSON, and a pattern made to measure."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from convert.document.read import ReadOptions
from convert.exporters.grading_table import notes, write_csv, write_json, write_table
from convert.grader.made_to_measure import NoWish, Wish, read_gauge, read_measure
from convert.grader.results import Grading
from convert.grader.yarn_in_hand import reached, read_in_hand
from convert.pipeline import Checked, check_source
from convert.source import Source
from convert.trade.tables import read_data

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
SWEATER = DEMO / "otter-brook-sweater.pattern.yaml"


def _checked(path: Path = SWEATER, wish: Wish | None = None) -> Checked:
    return check_source(Source(path.name, path.read_text("utf-8")), "yaml", ReadOptions(), wish)


def _grading(found: Checked) -> Grading:
    assert found.grading is not None
    return found.grading


def test_the_json_keeps_to_its_schema() -> None:
    schema = json.loads(read_data("grading.schema.json", under="schema"))
    Draft202012Validator.check_schema(schema)
    found = _checked()
    assert found.document is not None
    data = json.loads(write_json(found.document, _grading(found), found.proof, found.measured))
    assert [] == [error.message for error in Draft202012Validator(schema).iter_errors(data)]
    assert ["2", "4", "6", "8", "10", "12"] == [size["id"] for size in data["sizes"]]


def test_the_csv_has_a_column_for_every_size() -> None:
    found = _checked()
    assert found.document is not None
    rows = list(csv.reader(io.StringIO(write_csv(found.document, _grading(found), found.proof, found.measured))))
    assert {9} == {len(row) for row in rows}
    assert ["numbers", "yoke", "", "11", "13", "13", "14", "16", "17"] in rows
    told = [row[1] for row in rows if row[0] == "notes"]
    assert list(notes(found.document, found.measured)) == told
    assert any("give or take 30%; balls cover the upper end" in note for note in told)


def test_yarn_in_hand_in_all_three_forms() -> None:
    """The largest size it is enough for, and how far the others get, in words, cells and data."""
    found = _checked()
    assert found.document is not None
    assert found.measured is not None
    hand = reached(found.document, found.measured, [read_in_hand("5 balls", found.document)])
    rest = (found.document, _grading(found), found.proof, found.measured, hand)
    text = write_table(*rest)
    assert "Largest size it is surely enough for: 6 years; at best: 12 years." in text
    rows = [row for row in csv.reader(io.StringIO(write_csv(*rest))) if row[0] == "yarn in hand"]
    assert ["yes", "yes", "yes", "perhaps", "perhaps", "perhaps"] == rows[0][3:]
    assert ["enough for all of it", "reaches surely, part", "reaches surely, row", "reaches at best, row"] == [
        row[1] for row in rows
    ]
    data = json.loads(write_json(*rest))
    schema = json.loads(read_data("grading.schema.json", under="schema"))
    assert [] == [error.message for error in Draft202012Validator(schema).iter_errors(data)]
    assert ("6", "12") == (data["in_hand"]["largest_surely"], data["in_hand"]["largest_at_best"])
    stop = data["in_hand"]["sizes"][3]["surely"]
    assert f"{stop['rows']} of {stop['of']}" == rows[2][6]
    assert {"part": "sleeve", "copy": 1} == {key: stop[key] for key in ("part", "copy")}


def test_one_size_worked_out_by_hand() -> None:
    """Size 2 years: chest 53 cm and 7.5 cm of ease are 60.5 cm; at 1.6 stitches a cm that is 96.8, even: 96.

    2 fronts of 20, 4 times 11 yoke rounds and 2 underarms of 6 are 40 + 44 + 12 = 96 stitches, 60 cm. The sleeve
    has 10 + 22 + 6 = 38 stitches, 23.75 cm for 18 + 5. The yoke has 12.5 cm by 0.9 rounds a centimetre, 11.25: 11
    rounds.
    """
    size = _grading(_checked()).sizes[0]
    found = {number.name: number.value for number in size.numbers}
    assert {"body": 96, "arm": 38, "yoke": 11} == {name: found[name] for name in ("body", "arm", "yoke")}
    assert 2 * found["panel"] + 4 * found["yoke"] + 2 * found["bridge"] == found["body"]


def test_figures_from_memory_are_marked() -> None:
    found = _checked()
    assert found.document is not None
    text = write_table(found.document, _grading(found), found.proof, found.measured)
    assert "From memory, not confirmed by a source: child chest." in text
    assert "rests on the gauge alone, give or take 30%" in text


def test_rows_of_two_yarns_say_that_yarn_carried_along_is_not_counted() -> None:
    """Stripes that change at the end of a row do not."""
    row = "Row 2: Ch 1, sc in next 5 sts, change to B, sc in next 5 sts, turn. (10 sc)"
    stripe = "Row 2: Ch 1, sc in each st across, change to B, turn. (10 sc)"
    for line, counted in ((row, True), (stripe, False)):
        text = f"""\
format: "1"
title: Strip
terms: us
gauge: {{stitches: 16, rows: 18, over: 10 cm, stitch: sc}}
yarn: [{{key: A, name: Wool}}, {{key: B, name: Wool}}]
parts:
  - name: Strip
    rows:
      - "Row 1: With A, ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)"
      - "{line}"
      - "Row 3: Ch 1, sc in each st across. (10 sc)"
"""
        found = check_source(Source("strip", text), "yaml", ReadOptions())
        assert () == found.findings
        assert found.document is not None
        told = write_table(found.document, _grading(found), found.proof, found.measured)
        assert counted == ("carried along behind the stitches is not counted" in told)


@pytest.mark.parametrize(
    ("yarn", "why"),
    [
        ("[{name: Wool}]", "What yarn Wool takes is not known: there is neither a gauge nor a weight class."),
        ("[{name: Wool, weight: 4}]", "Yarn Wool rests on the usual gauge of the yarn's class alone, give or take 45%"),
        ("[{name: Wool}, {name: Silk}]", "What yarn Silk takes is not known: the rows do not say which yarn"),
    ],
)
def test_why_an_amount_is_not_known_is_said(yarn: str, why: str) -> None:
    row = "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"
    text = f'format: "1"\ntitle: Mat\nterms: us\nyarn: {yarn}\nparts: [{{name: Mat, rows: ["{row}"]}}]\n'
    found = check_source(Source("mat", text), "yaml", ReadOptions())
    assert found.document is not None
    assert why in write_table(found.document, _grading(found), found.proof, found.measured)


def test_a_maker_with_another_gauge_gets_other_numbers_that_are_proved() -> None:
    found = _checked(wish=Wish(read_gauge("14 sts 8 rounds = 10 cm")))
    assert () == found.findings
    assert _grading(found).sizes[0].number("body") != _grading(_checked()).sizes[0].number("body")


def test_one_size_for_a_measurement_of_ones_own() -> None:
    found = _checked(wish=Wish(targets=(read_measure("chest=77 cm"),)))
    assert () == found.findings
    assert found.document is not None
    assert ["Made to measure"] == [size.name for size in found.document.sizes]
    chest = next(m.length.cm for m in _grading(found).sizes[0].measures if m.name == "chest")
    assert abs(chest - 77) <= 2


@pytest.mark.parametrize("said", ["16", "rows = 10 cm", "16 sts = 10", "0 sts = 10 cm"])
def test_what_is_no_gauge_is_refused(said: str) -> None:
    with pytest.raises(NoWish, match="is no gauge"):
        read_gauge(said)


def test_a_measurement_that_the_pattern_lacks_is_refused() -> None:
    with pytest.raises(NoWish, match="no size has a target called"):
        _checked(wish=Wish(targets=(read_measure("girth=1 m"),)))
