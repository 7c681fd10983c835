"""Which term system a text is written in."""

from __future__ import annotations

import pytest

from convert.document.records import TermSystem
from convert.source import Passage
from convert.terms.evidence import marks, readings
from convert.terms.inference import infer_system
from convert.terms.statement import stated_system

US, UK = TermSystem.US, TermSystem.UK


def inferred(text: str, stated: TermSystem | None = None) -> TermSystem | None:
    return infer_system([Passage(line) for line in text.split("\n")], stated).system


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Rnd 2: 2 sc in each st", US),
        ("sc2tog over next 2 sts", US),
        ("work h d c to the end", US),
        ("htr in next st", UK),
        ("dc = double crochet\nhtr = half treble", UK),
        ("sc = single crochet, dc = double crochet", US),
        ("ch 3 (counts as dc), dc in next st", US),
        ("ch 3 (counts as tr), tr in next st", UK),
        ("3ch (counts as first tr)", UK),
        ("Ch 4 counts as dc and ch 1", US),
        ("Ch 4 (counts as tr)", US),
        ("4 ch (counts as 1 dtr)", UK),
        ("chain 3 for a treble, 15 trebles in ring", UK),
        ("ch 3 for first dc, dc in next st", US),
        ("in the center, any color: 4 doubles in each", None),
        ("dc in 4th ch from hook, dc in each ch", US),
        ("tr in 4th ch from hook, tr in each ch", UK),
        ("dc in 2nd ch from hook", UK),
        ("Check your gauge: 10 dc", US),
        ("Check your tension: 10 dc", UK),
        ("miss 2, tr in next", UK),
    ],
)
def test_what_the_words_tell(text: str, expected: TermSystem) -> None:
    assert expected is inferred(text)


@pytest.mark.parametrize(
    "text", ["ch 3, dc in next, tr in ring, sl st", "", "skip 2", "ch 3 (does not count as tr)", "Ch 2 (counts as dc)"]
)
def test_what_tells_nothing(text: str) -> None:
    assert inferred(text) is None


def test_htr_beside_sc_is_a_contradiction() -> None:
    result = infer_system([Passage("sc in next st, htr in next st")], None)
    assert result.system is None
    assert ["sc", "htr"] == [evidence.word for evidence in result.conflicts]


def test_one_slip_among_many_does_not_hide_the_system() -> None:
    result = infer_system([Passage("sc, " * 6 + "htr")], None)
    assert result.system is US
    assert ["htr"] == [evidence.word for evidence in result.conflicts]


def test_conflicts_with_the_statement_have_their_place() -> None:
    result = infer_system([Passage.at("Row 1: sc in each ch", 4, 2)], UK)
    assert result.system is UK
    assert [("sc", (5, 10))] == [(e.word, e.span.for_people) for e in result.conflicts]
    assert all(evidence.strong for evidence in result.conflicts)


def test_what_old_books_used_for_another_stitch_is_no_conflict_by_itself() -> None:
    """ "Single crochet" stood for a slip stitch in old UK books; beside other US words it is a US word."""
    assert () == infer_system([Passage("a single crochet in the last double")], UK).conflicts
    both = infer_system([Passage("a single crochet in the last hdc")], UK).conflicts
    assert ["single crochet", "hdc"] == [evidence.word for evidence in both]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("single crochet in each st", US),
        ("3 long stitches, 1 single crochet", None),
        ("3 long stitches, miss 2, 1 single crochet", UK),
    ],
)
def test_an_old_word_tells_no_more_than_a_hint(text: str, expected: TermSystem | None) -> None:
    """With hints of the other system beside it, the text does not tell, or tells the other."""
    assert expected is inferred(text)


def test_hints_are_no_conflicts() -> None:
    assert () == infer_system([Passage("Check your tension, then miss 2 sts")], US).conflicts


def test_each_word_once_where_it_first_stands() -> None:
    result = infer_system([Passage("sc, sc, Sc")], None)
    assert [("sc", 0)] == [(e.word, e.span.column) for e in result.evidence]


def test_words_inside_other_words_are_no_evidence() -> None:
    assert inferred("Oscar's scarf, discs, htrx") is None


def test_the_marks_of_one_system_are_forms_of_that_system_alone() -> None:
    for form, mark in marks().marks.items():
        if mark.strong:
            other = UK if mark.system is US else US
            assert form in readings(mark.system)
            assert form not in readings(other)


@pytest.mark.parametrize(
    ("text", "system", "whole"),
    [
        ("US terms", US, True),
        ("This pattern is written in UK crochet terms.", UK, True),
        ("Written in American English crochet terminology", US, True),
        ("Terms: UK", UK, True),
        ("UK terminology is used throughout. Use a small hook.", UK, False),
        ("Written in UK terms (US terms in brackets)", UK, False),
    ],
)
def test_statements(text: str, system: TermSystem, whole: bool) -> None:
    statement = stated_system(Passage(text))
    assert statement is not None
    assert (system, whole) == (statement.system, statement.whole)


@pytest.mark.parametrize(
    "text",
    [
        "These are not UK terms",
        "Convert to US terms first",
        "US/UK terms",
        "the terms of use",
        "for US terms see below",
    ],
)
def test_no_statements(text: str) -> None:
    assert stated_system(Passage(text)) is None
