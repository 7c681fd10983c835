"""Messages about data of the wrong shape, and agreement with a second implementation of JSON Schema."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import jsonschema_rs
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from referencing import Registry, Resource

from convert.document.codec import encode
from convert.document.json_text import json_text
from convert.document.located import located
from convert.importers.json.data import load_json
from convert.importers.validation import SCHEMAS, sound_part, validate
from convert.importers.yaml.data import load_yaml
from convert.trade.tables import read_data
from tests.strategies import documents

LOADED = {name: json.loads(read_data(f"{name}.schema.json", under="schema")) for name in SCHEMAS}
REGISTRY: Any = Registry().with_resources([(s["$id"], Resource.from_contents(s)) for s in LOADED.values()])


@pytest.mark.parametrize("name", SCHEMAS)
def test_schema_is_a_schema(name: str) -> None:
    jsonschema.Draft202012Validator.check_schema(LOADED[name])
    assert jsonschema_rs.meta.is_valid(LOADED[name])


def test_names_of_definitions_are_disjoint() -> None:
    """References are resolved by the last part of their name."""
    assert set() == set(LOADED["pattern"]["$defs"]) & set(LOADED["authored"]["$defs"])


def _properties(schema: Any) -> Any:
    if isinstance(schema, dict):
        for key, value in schema.get("properties", {}).items() if isinstance(schema.get("properties"), dict) else ():
            yield key, value
        for value in schema.values():
            yield from _properties(value)
    elif isinstance(schema, list):
        for value in schema:
            yield from _properties(value)


@pytest.mark.parametrize("name", SCHEMAS)
def test_every_property_is_described_and_its_example_is_valid(name: str) -> None:
    for key, schema in _properties(LOADED[name]):
        assert schema["description"].endswith("."), key
        if "const" in schema:
            continue
        whole = {**schema, "$defs": LOADED[name]["$defs"], "$id": LOADED[name]["$id"] + ".part"}
        for example in schema["examples"]:
            errors = list(jsonschema.Draft202012Validator(whole, registry=REGISTRY).iter_errors(example))
            assert [] == errors, (key, example)


def _second(name: str) -> Any:
    registry = jsonschema_rs.Registry([(s["$id"], s) for s in LOADED.values()])
    return jsonschema_rs.Draft202012Validator(LOADED[name], registry=registry, validate_formats=True)


@settings(max_examples=60)
@given(documents())
def test_second_implementation_agrees_on_documents(document: Any) -> None:
    """Outside check: jsonschema-rs, an independent implementation of JSON Schema 2020-12."""
    data = json.loads(json_text(encode(document)))
    assert _second("pattern").is_valid(data)
    assert jsonschema.Draft202012Validator(LOADED["pattern"], registry=REGISTRY).is_valid(data)


_WRONG = st.sampled_from([None, True, -1, 2.5, "x", [], {}, {"kind": "x"}, [1], 10**7, "1", {"formula": ""}])


@pytest.mark.timeout(60)
@settings(max_examples=200)
@given(documents(), _WRONG, st.data())
def test_second_implementation_agrees_on_spoilt_documents(document: Any, wrong: Any, data: Any) -> None:
    """One value somewhere is replaced; ours and the second implementation say the same of the result."""
    spoilt = json.loads(json_text(encode(document)))
    at = spoilt
    while True:
        keys = list(range(len(at))) if isinstance(at, list) else list(at)
        if not keys:
            break
        key = data.draw(st.sampled_from(keys))
        if not isinstance(at[key], dict | list) or not at[key] or data.draw(st.booleans()):
            at[key] = wrong
            break
        at = at[key]
    ours, findings = load_json(json.dumps(spoilt))
    assert ours is not None
    assert () == findings
    assert _second("pattern").is_valid(spoilt) == (validate(ours, "pattern") == ())


WRONG = [
    ("titel: Hat", "unknown-key", (1, 1), 'Did you mean "title"?'),
    ("sizes:\n  - {nam: M}", "unknown-key", (2, 6), 'Did you mean "name"?'),
    ("sizes:\n  - id: M\n    target:\n      width: 90", "wrong-type", (4, 14), "For example: 90 cm or 35.5 in."),
    ("gauge: {stitches: many}", "wrong-type", (1, 19), ""),
    ("gauge: {rows: -1}", "value-not-allowed", (1, 15), ""),
    ("skill: eazy", "value-not-allowed", (1, 8), 'Did you mean "easy"?'),
    ("date: 2024-02-30", "value-not-allowed", (1, 7), "For example: 2024-05-17."),
    ("hooks: [3:5]", "value-not-allowed", (1, 9), "For example: 5 mm."),
    ("parts:\n  - rows: []", "missing-key", (2, 5), "What readers see."),
    ('format: "2"', "newer-format", (1, 10), "A later version of the program may read it."),
    ("title:", "wrong-type", (1, 7), ""),
]


@pytest.mark.parametrize(("text", "code", "place", "hint"), WRONG, ids=[entry[0].split("\n")[0] for entry in WRONG])
def test_wrong_data_are_reported_where_they_stand(text: str, code: str, place: tuple[int, int], hint: str) -> None:
    data, _ = load_yaml(text)
    assert data is not None
    findings = validate(data, "authored")
    assert [(code, place, hint)] == [(f.code, f.span.for_people, f.hint) for f in findings]


def test_an_example_with_a_fraction_is_written_as_it_stands() -> None:
    data: Any = {"format": "1", "id": "t", "title": "T", "written": "us", "gauge": {"over": None}}
    findings = validate(located(data), "pattern")
    assert ['For example: {"cm": 139.7, "unit": "in"}.'] == [f.hint for f in findings]


def test_a_wrong_kind_of_step_names_the_kinds() -> None:
    """The message is about the kind alone, not about every branch of the choice."""
    row: Any = {"kind": "row", "label": {}, "steps": [{"kind": "tern"}]}
    parts: Any = [{"id": "p", "name": "P", "items": [row]}]
    findings = validate(located({"format": "1", "id": "t", "title": "T", "written": "us", "parts": parts}), "pattern")
    assert [("value-not-allowed", 'Did you mean "turn"?')] == [(f.code, f.hint) for f in findings]
    assert findings[0].message.startswith("parts 1, items 1, steps 1: expected work, group,")


def test_what_is_wrong_is_left_out_and_the_rest_stays() -> None:
    data, _ = load_yaml("title: Hat\nskill: eazy\nsizes: [S, {nam: M}, {id: L, target: {width: wide!}}]\n")
    assert data is not None
    sound, findings = sound_part(data, "authored")
    assert {"title": "Hat", "sizes": ["S", {}, {"id": "L", "target": {}}]} == sound.plain()
    assert ["value-not-allowed", "unknown-key", "value-not-allowed"] == [f.code for f in findings]
    assert () == validate(sound, "authored")
