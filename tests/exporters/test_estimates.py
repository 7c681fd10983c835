"""Yarn that the author does not state, worked out for pages and for patterns made to measure."""

from __future__ import annotations

import re
from decimal import Decimal
from pathlib import Path

import pytest

from convert.document.materials import Amount
from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.exporters.estimates import with_estimates
from convert.grader.made_to_measure import Wish, read_gauge, read_measure
from convert.pipeline import Checked, check_source
from convert.publish import Edition, publish
from convert.source import Source
from convert.terms.naming import write_prose

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
SWEATER = DEMO / "otter-brook-sweater.pattern.yaml"
SHAWL = DEMO / "heron-reach-shawl.md"
BLANKET = DEMO / "pebble-lane-blanket.pattern.yaml"


def _checked(path: Path, wish: Wish | None = None) -> Checked:
    kind = "markdown" if path.suffix == ".md" else "yaml"
    return check_source(Source(path.name, path.read_text("utf-8")), kind, ReadOptions(), wish)


def _page(path: Path, wish: Wish | None = None, system: TermSystem = TermSystem.US) -> str:
    return publish(_checked(path, wish), Edition("html", system)).data.decode()


def test_a_pattern_that_states_no_yarn_is_given_the_upper_end_of_every_size() -> None:
    found = _checked(SWEATER)
    assert found.document is not None
    assert found.measured is not None
    (yarn,) = with_estimates(found.document, found.measured).materials.yarns
    needs = [size.yarn[0] for size in found.measured.sizes]
    assert tuple(need.balls for need in needs) == yarn.amount.balls
    for need, metres in zip(needs, yarn.amount.metres, strict=True):
        assert need.metres is not None
        assert 0 <= float(metres) - need.metres * 1.3 < 10
        assert 0 == metres % 10


def test_the_page_tells_what_it_rests_on_in_the_reader_s_terms() -> None:
    assert "worked out from the gauge alone, give or take 30%" in _page(SWEATER)
    assert "worked out from the tension alone, give or take 30%" in _page(SWEATER, system=TermSystem.UK)
    assert "worked out from a swatch on the scales, give or take 10%" in _page(BLANKET)


def test_what_several_yarns_rest_on_is_told_once() -> None:
    """Behind the last of them, for all."""
    text = " ".join(re.sub(r"<[^>]*>", " ", _page(BLANKET).partition("<main")[2]).split())
    assert [0, 1] == [text.count(said) for said in ("The amount is worked out", "The amounts are worked out from")]
    assert text.index("gorse") < text.index("The amounts are worked out from")


def test_what_the_author_states_stays() -> None:
    assert "worked out from the" not in _page(SHAWL)
    found = _checked(SHAWL)
    assert found.document is not None
    assert found.document.materials == with_estimates(found.document, found.measured).materials


def test_a_note_of_the_author_s_stands_before() -> None:
    text = SWEATER.read_text("utf-8").replace(
        "    colour: brook\n", "    colour: brook\n    note: Any plain yarn will do.\n"
    )
    found = check_source(Source("s", text), "yaml", ReadOptions())
    assert found.document is not None
    (yarn,) = with_estimates(found.document, found.measured).materials.yarns
    assert write_prose(yarn.note, TermSystem.US).startswith("Any plain yarn will do. The amount is worked out")


def test_nothing_is_told_where_a_row_could_not_be_worked() -> None:
    text = BLANKET.read_text("utf-8").replace(
        "Row 5: Ch 3 (counts as dc), dc in next st and in each st across", "Row 5: Wobble"
    )
    found = check_source(Source("b", text), "yaml", ReadOptions())
    assert found.document is not None
    assert {Amount()} == {y.amount for y in with_estimates(found.document, found.measured).materials.yarns}


def test_forms_that_are_read_back_keep_what_the_author_wrote() -> None:
    for form in ("yaml", "json", "markdown"):
        assert b"worked out from" not in publish(_checked(SWEATER), Edition(form)).data


@pytest.mark.parametrize("form", ["yaml", "json", "markdown"])
def test_a_pattern_made_to_measure_carries_its_own_yarn_in_every_form(form: str) -> None:
    """The author's amounts were for the author's gauge: they are replaced, and say what they rest on."""
    wish = Wish(read_gauge("15 sts 8 rows = 10 cm"))
    found = _checked(SHAWL, wish)
    assert found.document is not None
    assert {Amount()} == {yarn.amount for yarn in found.document.materials.yarns}
    data = publish(found, Edition(form)).data
    again = check_source(Source("again", data.decode()), form, ReadOptions())
    assert () == again.findings
    assert again.document is not None
    (yarn,) = again.document.materials.yarns
    assert (Decimal(420), Decimal(1050)) != yarn.amount.metres
    assert len(found.document.sizes) == len(yarn.amount.metres) == len(yarn.amount.balls)
    assert "worked out from the gauge alone" in write_prose(yarn.note, TermSystem.US)


def test_a_size_made_to_measure_is_not_weighed_as_the_sample_was() -> None:
    """The sample was of the size before; its weight says nothing exact of the new one. A swatch does."""
    sample = SWEATER.read_text("utf-8").replace(
        "    colour: brook\n", '    colour: brook\n    weighed: {grams: 300, size: "6"}\n'
    )
    wish = Wish(targets=(read_measure("chest=77 cm"),))
    for text, rests_on in ((sample, "gauge"), (sample.replace('size: "6"', "stitches: 400, rows: 1"), "swatch")):
        found = check_source(Source("s", text), "yaml", ReadOptions(), wish)
        assert found.measured is not None
        assert rests_on == found.measured.sizes[0].yarn[0].rests_on
