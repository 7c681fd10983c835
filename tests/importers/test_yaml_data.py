"""Loading YAML: what means what, what is refused, and where every character stands."""

from __future__ import annotations

from decimal import Decimal

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from convert.errors import LimitExceeded
from convert.importers.yaml.data import load_yaml
from convert.limits import LIMITS


def plain(text: str) -> object:
    data, findings = load_yaml(text)
    assert () == findings
    assert data is not None
    return data.plain()


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("no", "no"),
        ("on", "on"),
        ("NO", "NO"),
        ("1:30", "1:30"),
        ("012", "012"),
        ("1_000", "1_000"),
        ("0x10", "0x10"),
        ("1e3", "1e3"),
        (".nan", ".nan"),
        (".inf", ".inf"),
        ("2024-05-17", "2024-05-17"),
        ("True", "True"),
        ("12", 12),
        ("-3", -3),
        ("2.50", Decimal("2.5")),
        ("2.0", 2),
        ("true", True),
        ("null", None),
        ("'12'", "12"),
        ('"true"', "true"),
    ],
)
def test_only_plain_numbers_and_three_words_are_no_text(typed: str, meant: object) -> None:
    found = plain(f"key: {typed}")
    assert {"key": meant} == found
    assert isinstance(found, dict)
    assert type(meant) is type(found["key"])


def test_a_number_remembers_how_it_was_typed() -> None:
    data, _ = load_yaml("version: 1.10")
    assert data is not None
    assert "1.10" == data.at(["version"]).words


def test_a_key_that_stands_twice_names_both_lines() -> None:
    _, findings = load_yaml("title: A\nterms: us\ntitle: B\n")
    assert ["duplicate-key"] == [f.code for f in findings]
    assert (3, 1) == findings[0].span.for_people
    assert [(1, 1)] == [span.for_people for span in findings[0].related]
    assert "line 1" in findings[0].message


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("a: &x 1\nb: *x", "yaml-alias"),
        ("a: &x [*x]", "yaml-alias"),
        ("a: !!python/object/apply:os.system [ls]", "yaml-tag"),
        ("a: !!str 12", "yaml-tag"),
        ("a: 1\n--- \nb: 2", "yaml-syntax"),
        ("? [a]\n: b", "wrong-type"),
        ("rows: Rnd 1: 6 sc", "yaml-syntax"),
        ("a: [1, 2", "yaml-syntax"),
        ("a: 'x", "yaml-syntax"),
        ("\ta: 1", "yaml-syntax"),
        ('a: "\\q"', "yaml-syntax"),
        ("a: 1\n b: 2", "yaml-syntax"),
        ("- a\nb", "yaml-syntax"),
        ("- *Sc in next st; rep from * around.", "yaml-alias"),
    ],
)
def test_what_is_refused_is_one_finding(text: str, code: str) -> None:
    _, findings = load_yaml(text)
    assert [code] == [f.code for f in findings]
    assert findings[0].span.line >= 0


def test_depth_and_number_of_values_are_bounded() -> None:
    with pytest.raises(LimitExceeded, match="deep"):
        load_yaml("[" * (LIMITS.depth + 1))
    with pytest.raises(LimitExceeded, match="values"):
        load_yaml(f"[{'1,' * (LIMITS.nodes + 1)}]")


STYLES = [
    "text: Rnd 1, 6 sc",
    "text: 'it''s six'",
    'text: "a \\"b\\" \\t c \\u00e9 d"',
    "text: Rnd 1\n  goes on\n  and on",
    "text: 'Rnd 1\n  goes\n\n  on'",
    'text: "Rnd 1\n  goes \\\n  on\n\n\n  still"',
    "text: |\n  Rnd 1\n    indented\n\n  Rnd 2\n",
    "text: |2\n    two more\n  less\n",
    "text: >-\n  folded\n  here\n\n  para\n   kept\n",
    "text: |+\n  keep\n\n",
    "text: |\r\n  one\r\n  two\r\n",
    "- - text: |\n      é\u0301 \U0001f9f6 wide\n      tab\there\n",
    "text: a\u2028b",
    "text: |\n  a\x85  b\n  c\n",
]


@pytest.mark.parametrize("source", STYLES)
def test_every_character_of_a_text_knows_its_place(source: str) -> None:
    """What stands in the file at the place of a character is that character, or what it was written as."""
    data, _ = load_yaml(source)
    while data is not None and not data.passage:
        data = data.items[0] if data.items else data.mapping["text"]
    assert data is not None
    lines = source.split("\n")
    passage = data.as_passage
    for offset, char in enumerate(passage.text):
        line, column = passage.place(offset)
        there = lines[line][column : column + 1]
        assert char == there or char.isspace() or there in ("\\", "'"), (offset, char, there)
    assert sum(not char.isspace() for char in passage.text) > 1


@given(
    st.text(st.characters(blacklist_categories=["Cs", "Cc"]), min_size=1, max_size=60),
    st.sampled_from(['"', "'", "|", ">", ""]),
    st.integers(8, 40),
)
def test_places_hold_for_any_text_as_a_yaml_writer_breaks_it(text: str, style: str, width: int) -> None:
    """PyYAML writes the text; each character that is no white space stands where it is said to stand."""
    source = yaml.dump({"text": text}, default_style=style or None, width=width, allow_unicode=True)
    data, _ = load_yaml(source)
    assert data is not None
    found = data.at(["text"])
    assert text == found.words
    lines = source.split("\n")
    for offset, char in enumerate(found.as_passage.text):
        line, column = found.as_passage.place(offset)
        there = lines[line][column : column + 1]
        assert char == there or char.isspace() or there in ("\\", "'")
