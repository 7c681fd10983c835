"""Records that know where they stood: equal and unequal by what they mean."""

from __future__ import annotations

import pytest

from convert.document.steps import Place, Turn, Which
from convert.source import Span

HERE, THERE = Span(2, 4, 2, 9), Span(7, 0, 7, 5)


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        (Place(span=HERE), Place(span=THERE), True),
        (Turn(HERE), Turn(THERE), True),
        (Place(), Place(which=Which.LAST), False),
        (Place(), Turn(), False),
    ],
)
def test_where_it_stood_counts_for_nothing(one: object, other: object, same: bool) -> None:
    """`==` and `!=` are each other's opposite, and neither looks at the place in the text."""
    assert (same, not same) == (one == other, one != other)
