"""Materials and gauge under headings of a Markdown text, as people publish it, are data as in text as typed."""

from __future__ import annotations

from decimal import Decimal

from convert.document.read import ReadOptions
from convert.document.records import Document, TermSystem
from convert.document.steps import ChangeColour
from convert.document.walking import each
from convert.exporters import data_writer
from convert.importers import reader
from convert.source import Source

SUPPLIES = """## What you'll need

- 2 balls of DK cotton in rust (R)
- 1 ball of DK cotton in cream (C)
- 4 mm hook
- Stitch marker

## Gauge

18 sts and 10 rows = 10 cm in dc
"""
ROWS = """## Coaster

- Rnd 1: With R, 6 sc in adjustable ring. (6)
- Rnd 2: Change to C, 2 sc in each st around. (12)
"""


def document(supplies: str, head: str = "") -> Document:
    read = reader("markdown")(Source("a.md", f"{head}# Coaster set\n\nUS terms.\n\n{supplies}\n{ROWS}"), ReadOptions())
    assert read.document is not None
    return read.document


def test_lists_of_materials_and_the_gauge_are_read() -> None:
    found = document(SUPPLIES)
    assert [(Decimal(2),), (Decimal(1),)] == [yarn.amount.balls for yarn in found.materials.yarns]
    assert ["R", "C"] == [yarn.key for yarn in found.materials.yarns]
    assert [Decimal(4)] == [hook.mm for hook in found.materials.hooks]
    assert (("Stitch marker",),) == found.materials.notions
    assert found.gauge is not None
    assert (Decimal(18), Decimal(10), "dc") == (found.gauge.stitches, found.gauge.rows, found.gauge.stitch)
    assert () == found.sections


def test_rows_may_call_the_yarns_by_their_letters() -> None:
    assert ["R", "C"] == [step.colour for step in each(document(SUPPLIES).parts, ChangeColour)]


def test_the_data_at_the_head_go_before_and_the_text_stays() -> None:
    found = document(SUPPLIES, "---\nhooks: [5 mm]\ngauge: {stitches: 20, over: 10 cm}\n---\n")
    assert [Decimal(5)] == [hook.mm for hook in found.materials.hooks]
    assert ["What you'll need", "Gauge"] == [section.heading for section in found.sections]


def test_a_table_keeps_its_columns() -> None:
    found = document("## Materials\n\n| What | How much |\n|---|---|\n| Rust yarn | 60 g |\n")
    assert ["Materials"] == [section.heading for section in found.sections]


def test_what_was_read_is_written_as_data() -> None:
    found = document(SUPPLIES)
    text = data_writer("markdown")(found, TermSystem.UK).text
    assert found == reader("markdown")(Source("b.md", text), ReadOptions()).document
