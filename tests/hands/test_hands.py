"""What people may write in any hand is read as the pattern that it was written from."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from tests.hands.hand import FORMS, Hand, draw_hand
from tests.hands.judge import Pattern, Verdict, judge, judge_changed, proved_patterns, random_pattern, written_by

SEEDS = st.integers(0, 2**32)
PATTERNS = [pattern for pattern in proved_patterns() if written_by(pattern, Hand({})) is not None]


@settings(derandomize=True, max_examples=60)
@pytest.mark.timeout(60)
@given(SEEDS)
def test_a_random_pattern_in_any_hand_is_read_as_it_is(seed: int) -> None:
    """No error, every row executed, and the same counts in every row."""
    random = Random(seed)
    _is_read(random_pattern(random), draw_hand(random))


@settings(derandomize=True, max_examples=30)
@pytest.mark.timeout(60)
@given(SEEDS, st.integers(0, len(PATTERNS) - 1))
def test_a_correct_pattern_in_any_hand_is_read_as_it_is(seed: int, number: int) -> None:
    """The patterns of the fixtures likewise, in every size."""
    _is_read(PATTERNS[number], draw_hand(Random(seed)))


def _is_read(pattern: Pattern, hand: Hand) -> None:
    judged = judge(pattern, hand)
    assert judged is not None
    assert (Verdict.RIGHT, "") == (judged.verdict, judged.why), judged.text


@settings(derandomize=True, max_examples=40)
@pytest.mark.timeout(60)
@given(SEEDS)
def test_a_count_changed_by_one_is_reported_in_its_row(seed: int) -> None:
    """In whatever hand, as an error."""
    random = Random(seed)
    pattern, hand = random_pattern(random), draw_hand(random)
    judged = judge_changed(pattern, hand, random)
    assume(judged is not None)
    assert judged is not None
    assert (Verdict.RIGHT, "") == (judged.verdict, judged.why), judged.text


def test_a_random_pattern_is_right() -> None:
    """What is drawn is proved before it is written: no warning, no error, no row unknown."""
    for seed in range(40):
        proof = random_pattern(Random(seed)).proof
        assert {"reading-taken"} >= {finding.code for finding in proof.findings}
        assert all(size.proved for row in proof.rows for size in row.sizes)


def test_most_correct_patterns_can_be_written() -> None:
    """The hands have words for most of the fixtures, and say each row."""
    assert 2 * len(PATTERNS) > len(proved_patterns())
    for pattern in PATTERNS:
        text = written_by(pattern, Hand({}))
        assert text is not None
        assert len(text.lines) >= sum(1 for part in pattern.document.parts for row in part.rows if row.label.first)


def test_the_forms_of_a_notation_differ() -> None:
    """No form is listed twice, so that a hand that departs from the plain one says something else."""
    assert [] == [name for name, forms in FORMS.items() if len(set(forms)) < len(forms)]
