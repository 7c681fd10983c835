"""The neutral form carries every document, and schema and records say the same."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from msgspec import Struct
from msgspec.structs import fields

from convert.document import extra, materials, records, shaping, sizing, steps
from convert.document.codec import ITEM_NAMES, STEP_NAMES, decode, encode, keys_of
from convert.document.coders import CodecError
from convert.document.json_text import json_text
from convert.document.lengths import Length, parse_length
from convert.document.located import located
from convert.document.placed import Placed
from convert.document.records import Document, TermSystem
from convert.document.sizing import Measure, Size
from convert.document.steps import STEP_KINDS
from convert.exporters.json.form import write_json
from convert.importers.json.data import load_json
from convert.importers.validation import validate
from convert.source import Span
from convert.trade.tables import read_data
from tests.strategies import any_step, documents
from tests.strategies import of as any_of

SCHEMA = json.loads(read_data("pattern.schema.json", under="schema"))
DEFINED = {
    Document: SCHEMA,
    Size: "size",
    sizing.Fit: "fit",
    sizing.Demand: "demand",
    sizing.BodyTarget: "body-target",
    materials.Weighed: "weighed",
    shaping.Shaping: "shaping",
    shaping.Block: "block",
    sizing.Gauge: "gauge",
    materials.Amount: "amount",
    materials.Yarn: "yarn",
    materials.Hook: "hook",
    materials.Materials: "materials",
    records.BeginningChain: "beginning-chain",
    records.Special: "special-stitch",
    records.CountItem: "count-item",
    records.Label: "label",
    records.Row: "row",
    records.Remark: "remark",
    records.Part: "part",
    records.Brand: "brand",
    records.Logo: "logo",
    records.Picture: "picture",
    records.Colours: "colours",
    records.Section: "section",
    steps.Place: "place",
    steps.Counts: "counts",
    steps.Ending: "ending",
    steps.Until: "until",
    steps.Reached: "reached",
    Length: "length",
    **{kind: f"step-{name}" for name, kind in STEP_NAMES.items()},
}


def test_every_kind_of_step_has_a_name() -> None:
    assert set(STEP_KINDS) == set(STEP_NAMES.values())


@pytest.mark.parametrize("kind", DEFINED, ids=lambda kind: kind.__name__)
def test_schema_and_record_have_the_same_keys(kind: type) -> None:
    """A field without a property, or a property without a field, is drift."""
    where = DEFINED[kind]
    schema = where if isinstance(where, dict) else SCHEMA["$defs"][where]
    named = kind in (*STEP_NAMES.values(), *ITEM_NAMES.values())
    assert list(keys_of(kind)) == [key for key in schema["properties"] if not (named and key == "kind")]
    assert ("patternProperties" in schema) == any(field.name == "extra" for field in fields(kind))


def test_every_record_is_in_the_schema() -> None:
    """`Extra`, `Measure` and `NamedNumber` are keys with values there."""
    known = {
        kind
        for module in (records, materials, sizing, steps)
        for kind in vars(module).values()
        if isinstance(kind, type) and issubclass(kind, Struct) and kind not in (Struct, Placed)
    }
    assert {extra.Extra, Measure, sizing.NamedNumber} == known - set(DEFINED)


@pytest.mark.timeout(60)  # 150 whole documents
@settings(max_examples=150)
@given(documents())
def test_any_document_survives_the_neutral_form(document: Document) -> None:
    text = write_json(document).text
    data, findings = load_json(text)
    assert data is not None
    assert () == findings
    assert () == validate(data, "pattern")
    assert document == decode(data)
    assert text == write_json(decode(data)).text


@settings(max_examples=200)
@given(any_step(2))
def test_any_step_survives(step: Any) -> None:
    row = records.Row(records.Label(), (step,))
    document = Document("T", "t", TermSystem.US, parts=(records.Part("p", "P", (row,)),))
    assert document == decode(located(encode(document)))


@given(any_of(steps.Place))
def test_any_place_survives(place: steps.Place) -> None:
    document = Document(
        "T", "t", TermSystem.US, parts=(records.Part("p", "P", (records.Row(records.Label(), (steps.Slip(place),)),)),)
    )
    assert document == decode(located(encode(document)))


def test_inches_stay_exact() -> None:
    length = parse_length("55 in")
    assert length is not None
    size = Size("m", "M", (Measure("width", length),))
    assert '{"width": {"cm": 139.7, "unit": "in"}}' in json_text(
        encode(Document("T", "t", TermSystem.US, sizes=(size,)))
    )


def test_a_measurement_that_stands_twice_is_refused() -> None:
    length = parse_length("1 cm")
    assert length is not None
    size = Size("m", "M", (Measure("width", length), Measure("width", length)))
    with pytest.raises(CodecError, match="twice"):
        encode(Document("T", "t", TermSystem.US, sizes=(size,)))


def test_where_and_how_a_record_was_typed_does_not_count() -> None:
    """Two records are the same pattern when they mean the same, and different ones by what they mean or are."""
    here, there = (steps.Chain(3, span=Span(line, 1, line, 5)) for line in (1, 9))
    assert here == there
    assert hash(here) == hash(there)
    assert here != steps.Chain(4, span=here.span)
    assert steps.Turn() != steps.FastenOff()
    assert len({steps.Turn(), steps.Turn(span=here.span)}) == 1
