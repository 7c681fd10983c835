"""Loading JSON: strict, bounded, with places."""

from __future__ import annotations

import json
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from convert.errors import LimitExceeded
from convert.importers.json.data import load_json
from convert.limits import LIMITS

_TEXTS = st.text(st.characters(blacklist_categories=["Cs"], blacklist_characters="\0"))
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**17), 10**17) | _TEXTS,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(_TEXTS, inner, max_size=4),
    max_leaves=20,
)


@given(VALUES, st.booleans(), st.sampled_from([None, 2]))
def test_agrees_with_the_standard_library(value: object, ascii_only: bool, indent: int | None) -> None:
    """Outside check: what `json` writes is read as the same."""
    data, findings = load_json(json.dumps(value, ensure_ascii=ascii_only, indent=indent))
    assert () == findings
    assert data is not None
    assert value == data.plain()


NO_JSON = """
[1,]|{"a":1,}|[NaN]|[Infinity]|[-Infinity]|[1e999]|[1e-999]|["\\ud800"]|["\\u0000"]|1 2|{"a" 1}|["x|[-]|[01]|[.5]
[1.]|{a: 1}|['a']|[1 2]|nul|[true|{|{"a"|// x 1|[+1]|"\\x"
""".strip().replace("\n", "|")


@pytest.mark.parametrize("text", ["", " ", "[" + "9" * 5000 + "]", '["\n"]', *NO_JSON.split("|")])
def test_what_is_no_json_is_one_finding(text: str) -> None:
    data, findings = load_json(text)
    assert data is None
    assert ["json-syntax"] == [f.code for f in findings]


def test_duplicates_are_errors() -> None:
    _, findings = load_json('{"a": 1,\n "a": 2}')
    assert [("duplicate-key", (2, 2), [(1, 2)])] == [
        (f.code, f.span.for_people, [s.for_people for s in f.related]) for f in findings
    ]


def test_numbers_are_exact() -> None:
    data, _ = load_json("[1.10, 2.0, 1e2, 0.1, -0]")
    assert data is not None
    assert [Decimal("1.1"), 2, 100, Decimal("0.1"), 0] == data.plain()
    assert ["1.10", "2.0", "100", "0.1", "-0"] == [item.text for item in data.items]


def test_depth_and_number_of_values_are_bounded() -> None:
    with pytest.raises(LimitExceeded, match="deep"):
        load_json("[" * 100_000)
    with pytest.raises(LimitExceeded, match="values"):
        load_json(f"[{'1,' * LIMITS.nodes}1]")


def test_values_know_their_place() -> None:
    data, _ = load_json('{\n  "a": [1,\n    "x"]}')
    assert data is not None
    assert (3, 5) == data.at(["a", 1]).span.for_people
    assert (2, 3) == data.keys["a"].for_people
