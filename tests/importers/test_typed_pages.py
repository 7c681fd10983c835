"""Page numbers and running heads that were copied out with a text are no part of the pattern."""

from __future__ import annotations

import json

import pytest

from convert.document.read import ReadOptions
from convert.importers import reader
from convert.importers.typed.form import read_typed
from convert.importers.typed.pages import page_lines
from convert.source import Source

TEXT = """\
TARN THE NEWT
Page 1 of 3

US terms.

BODY
Rnd 1: 6 sc in adjustable ring. (6)
Rnd 2: 2 sc in each st around. (12)

TARN THE NEWT
Page 2 of 3

Rnd 3: Sc in each st around. (12)

TARN THE NEWT
Page 3 of 3

Rnd 4: [Sc2tog] 6 times. (6)
"""


def test_the_rows_of_several_pages_are_those_of_one_part() -> None:
    found = read_typed(Source("newt.txt", TEXT), ReadOptions())
    assert found.document is not None
    assert "TARN THE NEWT" == found.document.title
    assert [("BODY", 4)] == [(part.name, len(part.rows)) for part in found.document.parts]
    assert () == found.document.sections
    assert ["pages-set-aside"] == [finding.code for finding in found.findings]


def test_what_was_set_aside_is_kept() -> None:
    found = read_typed(Source("newt.txt", TEXT), ReadOptions())
    assert found.document is not None
    (extra,) = found.document.extra
    head = "TARN THE NEWT"
    assert ["Page 1 of 3", head, "Page 2 of 3", head, "Page 3 of 3"] == json.loads(extra.value)


@pytest.mark.parametrize(
    "lines",
    [
        ["Owl", "Page 3 of the book tells how.", "Page 4 of the book tells more."],
        ["Owl", "Page 1", "Rnd 1: 6 sc in ring.", "Page 7", "Rnd 2: Sc in each st."],
        ["Owl", "Page 1", "Rnd 1: 6 sc in ring."],
        ["Owl", "P 6", "6 sc in ring", "P 12"],
    ],
)
def test_other_lines_are_left_alone(lines: list[str]) -> None:
    assert () == page_lines(lines)


@pytest.mark.parametrize("kind", ["text", "markdown"])
def test_a_break_between_pages_is_white_space(kind: str) -> None:
    text = "# Owl\n\n## Body\n\nRnd 1: 6 sc in ring. (6)\n\n\x0cRnd 2: 2 sc in each st around. (12)\n"
    found = reader(kind)(Source("owl", text), ReadOptions())
    assert found.document is not None
    assert [1, 2] == [row.label.first for part in found.document.parts for row in part.rows]
