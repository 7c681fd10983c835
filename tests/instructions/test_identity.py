"""Standard wording reads and writes back unchanged, and the two systems stand for the same tree."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from convert.document.records import TermSystem
from tests.instructions.reading import read, written

FIXTURES = Path(__file__).parents[2] / "fixtures" / "instructions"
US = (FIXTURES / "identity.us.txt").read_text("utf-8").splitlines()
UK = (FIXTURES / "identity.uk.txt").read_text("utf-8").splitlines()
PAIRS = yaml.safe_load((FIXTURES / "pairs.yaml").read_text("utf-8"))


@pytest.mark.parametrize("line", US)
def test_us_lines_come_back_unchanged(line: str) -> None:
    """Nothing of a standard US line is lost or reworded."""
    found = read(line)
    assert (line, 0, ()) == (written(found.row), found.verbatim_clauses, found.findings)


@pytest.mark.parametrize("line", UK)
def test_uk_lines_come_back_unchanged(line: str) -> None:
    """Nothing of a standard UK line is lost or reworded."""
    found = read(line, TermSystem.UK)
    assert (line, 0) == (written(found.row, TermSystem.UK), found.verbatim_clauses)


@pytest.mark.parametrize(("us", "uk"), list(zip(US, UK, strict=True)))
def test_both_systems_read_as_the_same_tree(us: str, uk: str) -> None:
    """A line and its translation are one row; each is written from the other's tree."""
    assert read(us).row == read(uk, TermSystem.UK).row
    assert uk == written(read(us).row, TermSystem.UK)
    assert us == written(read(uk, TermSystem.UK).row)


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.get("us") or pair.get("uk"))
def test_lines_as_typed_are_read_as_their_standard_wording(pair: dict[str, str]) -> None:
    """Abbreviations, full words, capitals, brackets of all kinds, number words: one tree."""
    system = TermSystem.US if "us" in pair else TermSystem.UK
    typed = pair.get("us") or pair["uk"]
    expected = pair["is"].replace("Rnd", "Row") if pair.get("label") == "row" else pair["is"]
    assert expected == written(read(typed, system).row, system)
