"""A pattern as it arrives in an inbox."""

from __future__ import annotations

import json

import pytest

from convert.document.read import Read, ReadOptions
from convert.document.records import TermSystem
from convert.importers.typed.form import read_typed
from convert.source import Source

ROWS = "Rnd 1: 6 sc in adjustable ring. (6)\nRnd 2: 2 sc in each st around. (12)\n"
HEAD = "From: Tilda Marrowby\nSubject: Fwd: a cup for the spring issue\n\n"


def read(text: str) -> Read:
    return read_typed(Source("cup.txt", text), ReadOptions(TermSystem.US))


@pytest.mark.parametrize(
    ("letter", "title"),
    [
        (f"{HEAD}Here it is at last, with my thanks!\n\n", "Rush Cup\nby Tilda Marrowby\n\n"),
        (f"{HEAD}Dear Ottoline,\n\nHere it is.\n\nSpring Things\n\n", "Rush Cup\nDesigned by Tilda Marrowby\n\n"),
        (f"{HEAD}", "Rush Cup\n\n"),
    ],
)
def test_a_letter_is_kept_beside_the_pattern(letter, title):
    found = read(letter + title + ROWS)
    assert found.document is not None
    assert "Rush Cup" == found.document.title
    assert () == found.document.summary
    assert ["letter-set-aside"] == [finding.code for finding in found.findings]
    kept = {extra.key: json.loads(extra.value) for extra in found.document.extra}
    assert "".join(letter.split()) == "".join("".join(kept["x-letter"]).split())


def test_a_pattern_without_a_letter_is_whole():
    found = read("Rush Cup\nby Tilda Marrowby\n\nFrom the hedge: a cup of rushes.\n\n" + ROWS)
    assert found.document is not None
    assert () == found.document.extra
    assert [] == [finding.code for finding in found.findings]


def test_a_letter_and_nothing_else_is_kept_as_a_text():
    found = read(HEAD)
    assert found.document is not None
    assert () == found.document.extra
