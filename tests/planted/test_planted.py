"""A planted mistake is reported where it stands. All of them, with rates: `python -m tests.planted.report`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.planted.judge import PATTERNS, Judged, Verdict, checked, judge, mistakes_in
from tests.planted.mistakes import plant_all

EACH = 12
"""How many mistakes are planted in one pattern here, spread over its rows and kinds; the report plants them all."""


def _repeats_rows(one: Judged) -> bool:
    return any(said.lstrip('-"* ').casefold().split(":")[-1].strip(" *").startswith("rep ") for said in _said(one))


def _said(one: Judged) -> tuple[str, str]:
    return one.planted.was, one.planted.now


EXCEPTIONS: dict[str, Callable[[Judged], bool]] = {
    # What is left of the row has no sure meaning or no end: it is unknown, which a warning at the row says.
    "the row became unknown": lambda one: one.verdict is Verdict.WARNED,
    # Rows worked even, once more or once less: no count of stitches tells how long a piece is to be.
    "rows repeated more or less often": lambda one: one.verdict is Verdict.MISSED and _repeats_rows(one),
    # The earlier row that is worked again fails on the changed one, and the finding stands at the words that fail.
    "an earlier row fails when it is repeated": lambda one: (
        one.verdict is Verdict.MISPLACED
        and one.finding.split(",")[0] in ("place-not-found", "stitches-left-over", "out-of-stitches", "too-much-work")
    ),
}
"""Mistakes that need not be reported as an error at their row, by the reason why."""


@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.name)
def test_a_correct_pattern_is_clean(path: Path) -> None:
    """Nothing is found in it, and every row is proved: what a planted mistake brings about comes from the mistake."""
    right = checked(path)
    assert () == right.findings
    assert right.proof is not None
    assert (right.proof.understood.rows, 0) == (
        right.proof.understood.proved_rows,
        right.proof.understood.verbatim_clauses,
    )


@pytest.mark.timeout(60)
@pytest.mark.parametrize("path", PATTERNS, ids=lambda path: path.name)
def test_a_planted_mistake_is_reported_where_it_stands(path: Path) -> None:
    """As an error, if it alters what the rows make or a stated count; or it is one of the exceptions."""
    planted = list(mistakes_in(path))
    judged = [judge(path, one) for one in planted[:: max(1, len(planted) // EACH)]]
    silent = [
        (one.planted.kind, one.planted.now, one.verdict, one.finding)
        for one in judged
        if one.alters and one.verdict is not Verdict.REPORTED and not any(is_one(one) for is_one in EXCEPTIONS.values())
    ]
    assert [] == silent


def test_every_kind_of_mistake_is_planted() -> None:
    """The nine kinds, in the patterns together."""
    kinds = {planted.kind for path in PATTERNS for planted in mistakes_in(path)}
    assert {
        "count off by one",
        "number of one size",
        "number changed",
        "chain one longer",
        "wrong space",
        "repeat one short",
        "clause dropped",
        "clause doubled",
        "rows swapped",
    } == kinds


def test_a_planted_text_differs_in_the_lines_it_names() -> None:
    """And in no others."""
    for path in PATTERNS:
        text = path.read_text("utf-8").split("\n")
        document = checked(path).document
        assert document is not None
        for planted in plant_all("\n".join(text), tuple(row for part in document.parts for row in part.rows)):
            new = planted.text.split("\n")
            changed = [number for number, (old, now) in enumerate(zip(text, new, strict=True)) if old != now]
            assert {planted.line, planted.last} == set(changed)
