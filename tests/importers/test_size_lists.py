"""Sizes in the many ways in which patterns name them, with a heading and without one."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.importers.size_lists import told_sizes
from convert.importers.typed.sizes import read_sizes
from convert.pipeline import check_source
from convert.source import Passage, Source


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("XS (S, M) (L, XL)", ["XS", "S", "M", "L", "XL"]),
        ("2X [3X] {4X}", ["2X", "3X", "4X"]),
        ("6/8/10/12", ["6", "8", "10", "12"]),
        ("S / M / L", ["S", "M", "L"]),
        ("14 (16/18/20)", ["14", "16", "18", "20"]),
        ("M (L, XL). The sample is a size L.", ["M", "L", "XL"]),
        ("34 (36, 38, 40) inches around", []),
        ("3 (5, 7) years", ["3 years", "5 years", "7 years"]),
        ("0-3 (6-12) mos. The hat stretches.", ["0-3 mos", "6-12 mos"]),
        ("S/M", []),
    ],
)
def test_a_line_of_sizes(text: str, names: list[str]) -> None:
    """Brackets of several kinds, groups of them, slashes, and a sentence behind the list."""
    assert names == [size.name for size in read_sizes(Passage(text))]


@pytest.mark.parametrize(
    ("line", "rows", "names"),
    [
        ("Kettle Vest - S/M (L/XL, 2X/3X)", "Ch 40 (46, 52).", ["S/M", "L/XL", "2X/3X"]),
        ("Kettle Vest - S/M (L/XL, 2X/3X)", "Ch 40 (46).", []),
        ("Figures stand for 2 yrs [4 yrs, 6 yrs].", "Ch 30 [33, 36].", ["2 yrs", "4 yrs", "6 yrs"]),
        ("          Small    Medium    Large", "Ch 30 (33)(36).", ["Small", "Medium", "Large"]),
        ("| Size | M | L |", "Ch 21/25.", ["M", "L"]),
        ("Yarn in tan (cream, rust)", "Ch 40 (46, 52).", []),
    ],
)
def test_sizes_without_a_heading(line: str, rows: str, names: list[str]) -> None:
    """They are taken where the names are those of sizes, and where the rows give a number for each."""
    assert names == told_sizes([line], [rows])[0]


HEADLINE = """\
Kettle Vest / US terms / S/M (L/XL, 2X/3X)

Front
Ch 13 (17, 21).
Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 (16, 20) sc)
"""
TABLE = """\
# Kettle Vest

US terms

| Size | S | M |
|---|---|---|
| Bust | 30 in | 34 in |

## Front

**Row 1:** Ch 13 (17), sc in 2nd ch from hook and in each ch across, turn. (12 (16) sc)
"""
SENTENCE = """\
Kettle Vest

US terms
Sizes: S (M). The sample is a size S.

Front
Ch 13 (17).
Row 1: Sc in 2nd ch from hook and in each ch across, turn. (12 (16) sc)
"""


@pytest.mark.parametrize(
    ("name", "text", "sizes"),
    [
        ("vest.txt", HEADLINE, ["S/M", "L/XL", "2X/3X"]),
        ("vest.md", TABLE, ["S", "M"]),
        ("vest.txt", SENTENCE, ["S", "M"]),
    ],
)
def test_a_pattern_with_such_sizes_is_worked_in_each(name: str, text: str, sizes: list[str]) -> None:
    """The first row is executed in every size, and nothing is found wrong."""
    done = check_source(Source(name, text), "markdown" if name.endswith("md") else "text", ReadOptions())
    assert done.document is not None
    assert done.proof is not None
    assert sizes == [size.name for size in done.document.sizes]
    assert [True] * len(sizes) == [size.proved for size in done.proof.rows[-1].sizes]
    assert [] == list(done.findings)


def test_a_sentence_behind_the_sizes_is_kept() -> None:
    """It is a note on how the pattern is to be read."""
    document = check_source(Source("vest.txt", SENTENCE), "text", ReadOptions()).document
    assert document is not None
    assert ("The sample is a size S.",) in document.notes
    assert () == document.sections


FEW_OF_THEM = """\
Fen Mitt
US terms
Ages 1 (3, 5) yrs

Hand
Rnd 1: 6 hdc in magic ring (6)
Rnd 2: 2 hdc in each st (12)
Rnd 3: sizes 3 and 5: [hdc 5 (2), 2 hdc in next st] to end  (14, 16)
Rnd 4: hdc in each st  (12, 14, 16)
"""


def test_counts_of_a_row_for_some_sizes_are_theirs() -> None:
    """Two figures without brackets, behind a row for two of three sizes."""
    done = check_source(Source("mitt.txt", FEW_OF_THEM), "text", ReadOptions())
    assert () == done.findings
    assert done.proof is not None
    assert all(size.proved for row in done.proof.rows for size in row.sizes)
