"""YAML as authors write it."""

from __future__ import annotations

from decimal import Decimal

import pytest

from convert.document.lengths import Length
from convert.document.numbers import Formula, PerSize
from convert.document.read import Read, ReadOptions
from convert.document.records import Document, Remark, Row, TermSystem, Worked
from convert.document.steps import Again, Counts, Repeat
from convert.exporters.yaml.form import write_yaml
from convert.importers.yaml.form import read_yaml
from convert.source import Source

THROW = """\
title: Hearth Throw
terms: us
version: 1.10
summary: |
  A throw in sc.

  It is
  warm.
sizes:
  - {id: lap, name: Lap, target: {width: 90 cm, length: 4 ft}, numbers: {shells: 12}, to-fit: knees}
  - {id: NO, target: {width: 55 in}, numbers: {shells: 20}, x-mark: no}
  - Bed of 3
gauge: {stitches: 14, rounds: 8.5, stitch: single crochet, words: blocked}
yarn:
  - {key: A, name: smooth wool, weight: 4, ball: {grams: 100, metres: 220 yd}, metres: [800, 1010.5, 1200], colour: on}
  - plain yarn
hooks: [5 mm, {mm: 4.5, use: for the border}, US I-9 (5.5 mm), "6 mm for the cast-on"]
beginning-chains: {3: dc, 1: none, 4: dc + 1}
special-stitches:
  - {name: shell, abbreviation: sh, plural: shells, make: 5 dc in next st}
  - {name: double shell, make: 2 sh in next st, words: Two shells.}
parts:
  - name: Throw
    worked: rounds
    make: [1, 1, 2]
    rows:
      - "Rnd 1: 6 sc in adjustable ring. (6 sc)"
      - {row: "Rnd 2: 2 sc in each st around. (12 sc)", sizes: [lap, "no"], before: Loosely., x-f: [1, 2.50]}
      - {remark: Now breathe., sizes: [Lap]}
  - name: Edge
    make: "{shells*2}"
    rows: |
      Row 1: Ch 1, [sh, skip 2 sts] {shells} times.

      Row 2: Change to B, sc in each st across.
sections:
  - {heading: Thanks, text: [One., Two.]}
x-top: {a: 1.10, b: yes}
"""


def read(text: str, terms: TermSystem | None = None) -> Read:
    return read_yaml(Source("throw.yaml", text), ReadOptions(terms))


@pytest.fixture(scope="module")
def throw() -> Document:
    found = read(THROW)
    assert () == found.findings
    assert found.document is not None
    return found.document


def test_heads(throw: Document) -> None:
    assert ("Hearth Throw", "hearth-throw", "1.10") == (throw.title, throw.id, throw.version)
    assert (2, ("It is warm.",)) == (len(throw.summary), throw.summary[1])
    assert [("x-top", '{"a": 1.10, "b": "yes"}')] == [(e.key, e.value) for e in throw.extra]


def test_sizes(throw: Document) -> None:
    assert [("lap", "Lap"), ("NO", "NO"), ("Bed of 3", "Bed of 3")] == [(s.id, s.name) for s in throw.sizes]
    assert [Length(Decimal(90), "cm"), Length(Decimal("121.92"), "ft")] == [m.length for m in throw.sizes[0].target]
    assert '"no"' == throw.sizes[1].extra[0].value


def test_materials(throw: Document) -> None:
    wool = throw.materials.yarns[0]
    assert (Decimal("201.168"), "on", "A") == (wool.ball_metres, wool.colour, wool.key)
    assert (Decimal(800), Decimal("1010.5"), Decimal(1200)) == wool.amount.metres
    assert [("5", ()), ("4.5", ("for the border",)), ("5.5", ()), ("6", ("for the cast-on",))] == [
        (str(hook.mm), hook.use) for hook in throw.materials.hooks
    ]
    assert throw.gauge is not None
    assert ("sc", Decimal("8.5"), True, ("blocked",)) == (
        throw.gauge.stitch,
        throw.gauge.rows,
        throw.gauge.rounds,
        throw.gauge.words,
    )


def test_own_stitches_may_use_one_another(throw: Document) -> None:
    assert [("shell", "sh"), ("double-shell", "")] == [(s.id, s.abbreviation) for s in throw.specials]
    assert ["shell"] == [getattr(step, "stitch", None) for step in throw.specials[1].steps]
    assert [Counts("dc"), Counts(), Counts("dc", 1)] == [chain.counts for chain in throw.beginning_chains]


def test_parts(throw: Document) -> None:
    body, edge = throw.parts
    assert (Worked.ROUNDS, PerSize((1, 1, 2)), Formula("shells * 2")) == (body.worked, body.make, edge.make)
    _, second, remark = body.items
    assert isinstance(second, Row)
    assert (("lap", "NO"), ("Loosely.",), "[1, 2.50]") == (second.sizes, second.before, second.extra[0].value)
    assert Remark(("Now breathe.",), ("lap",)) == remark
    repeat = edge.rows[0].steps[1]
    assert isinstance(repeat, Repeat)
    assert Formula("shells") == repeat.times


def test_rows_in_a_block_know_their_place(throw: Document) -> None:
    row = throw.parts[1].rows[1]
    line, column = row.span.for_people
    assert "      Row 2" == THROW.split("\n")[line - 1][: column + 4]


def test_a_missing_title_is_told_and_the_rows_are_read_all_the_same() -> None:
    found = read('terms: us\nparts:\n  - name: A\n    rows: ["Row 1: Ch 1, sc in each st across."]\n')
    assert ["missing-key"] == [f.code for f in found.findings]
    assert found.document is not None
    assert 1 == len(found.document.parts[0].rows)


@pytest.mark.parametrize("text", ["", "# nothing\n", "just words", "- a\n- b", "12", "null"])
def test_what_is_no_pattern_is_an_error(text: str) -> None:
    found = read(text)
    assert found.document is None
    assert [] != list(found.findings)


PART = '\ntitle: Hat\nparts:\n  - name: A\n    rows: ["Row 1: Ch 1, sc in each st across."]\n'


@pytest.mark.parametrize(
    ("head", "code"),
    [
        ("terms: us\nsizes: [M, m]", "same-name"),
        ("terms: us\ngauge: {stitches: 14, stitch: wibble}", "unknown-abbreviation"),
        ("terms: us\ngauge: {over: 10 parsecs}", "value-not-allowed"),
        ("terms: us\nbeginning-chains: {3: wibble}", "unknown-abbreviation"),
        ("terms: uk", "terms-contradicted"),
        ("terms: us\ntitle: Cap", "duplicate-key"),
    ],
)
def test_faults_of_meaning(head: str, code: str) -> None:
    found = read(head + PART)
    assert [code] == [f.code for f in found.findings]
    assert found.document is not None


def test_the_terms_are_inferred_or_asked_for() -> None:
    rows = '\ntitle: Hat\nparts:\n  - name: A\n    rows: ["Row 1: Dc in each st across."]\n'
    assert ["terms-untold"] == [f.code for f in read(rows).findings]
    asked = read(rows, TermSystem.UK)
    assert () == asked.findings
    assert asked.document is not None
    assert TermSystem.UK == asked.document.written
    inferred = read(PART)
    assert inferred.document is not None
    assert (TermSystem.US, ()) == (inferred.document.written, inferred.findings)


def test_unknown_sizes_of_a_row_are_told_where_they_stand() -> None:
    found = read('title: Hat\nterms: us\nparts:\n  - name: A\n    rows:\n      - {row: "Row 1: Turn.", sizes: [XL]}\n')
    assert [("unknown-size", (6, 39))] == [(f.code, f.span.for_people) for f in found.findings]


def test_repeats_of_rows_and_a_written_copy(throw: Document) -> None:
    for system in TermSystem:
        again = read(write_yaml(throw, system).text)
        assert () == again.findings
        assert throw == again.document
    rows = PART.replace(
        '["Row 1: Ch 1, sc in each st across."]', "|\n      Row 1: Sc in each st.\n      Rows 2-9: Rep Row 1."
    )
    found = read(rows)
    assert found.document is not None
    assert isinstance(found.document.parts[0].rows[1].steps[0], Again)
