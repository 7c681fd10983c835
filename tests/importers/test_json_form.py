"""The neutral JSON as it comes from others."""

from __future__ import annotations

from typing import Any

import pytest

from convert.document.json_text import json_text
from convert.document.read import Read, ReadOptions
from convert.errors import LimitExceeded
from convert.importers.json.form import read_json
from convert.limits import LIMITS
from convert.source import Source

HEAD = {"format": "1", "id": "hat", "title": "Hat", "written": "us"}


def read(text: str) -> Read:
    return read_json(Source("hat.json", text), ReadOptions())


def with_steps(*steps: object) -> str:
    row: Any = {"kind": "row", "label": {"kind": "row", "first": 1}, "steps": list(steps)}
    return json_text({**HEAD, "parts": [{"id": "p", "name": "P", "items": [row]}]}, 2)


def test_steps_keep_their_place_and_are_counted() -> None:
    text = with_steps({"kind": "turn"}, {"kind": "verbatim", "words": ["wibble"]})
    found = read(text)
    assert found.document is not None
    assert (2, 1) == (found.clauses, found.verbatim_clauses)
    step = found.document.parts[0].rows[0].steps[1]
    assert '{"kind": "verbatim"' == text.split("\n")[step.span.line][step.span.column :][:19]


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("{", "json-syntax"),
        (json_text({**HEAD, "format": "2"}), "newer-format"),
        (json_text({**HEAD, "nots": []}), "unknown-key"),
        (json_text({"format": "1", "id": "hat", "title": "Hat"}), "missing-key"),
        (with_steps({"kind": "jump"}), "value-not-allowed"),
        (with_steps({"kind": "work"}), "missing-key"),
        (with_steps({"kind": "work", "stitch": "dc", "each": True}), "wrong-type"),
        (with_steps({"kind": "chain", "number": 10_000_000}), "value-not-allowed"),
        ("[]", "wrong-type"),
        ("null", "wrong-type"),
    ],
)
def test_other_data_are_refused_with_one_finding(text: str, code: str) -> None:
    found = read(text)
    assert found.document is None
    assert [code] == [f.code for f in found.findings]


def test_parts_with_one_name_are_told() -> None:
    part: Any = {"id": "p", "name": "P", "items": []}
    found = read(json_text({**HEAD, "parts": [part, part]}))
    assert ["same-name"] == [f.code for f in found.findings]


def test_nesting_within_the_limit_but_beyond_sense_ends_well() -> None:
    step: Any = {"kind": "turn"}
    for _ in range(LIMITS.depth):
        step = {"kind": "repeat", "steps": [step]}
    with pytest.raises(LimitExceeded):
        read(with_steps(step))


def test_steps_in_the_ending_of_a_repeat_are_counted() -> None:
    """Words that nobody understood stand there as anywhere else."""
    ending = {"kind": "with", "steps": [{"kind": "verbatim", "words": ["wibble"]}]}
    repeat = {"kind": "repeat", "steps": [{"kind": "turn"}], "extent": "end", "ending": ending}
    found = read(with_steps(repeat))
    assert (3, 1) == (found.clauses, found.verbatim_clauses)
