"""Rows whose numbers differ by size are worked as often as each size says."""

from __future__ import annotations

import pytest

from convert.document.each_row import each_row
from convert.document.records import Document
from convert.fabric.proving import work_document
from tests.fabric.working import pattern

LINES = [
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn.",
    "Row 2: Ch 1, 2 sc in first st, sc in each st across, turn.",
    "Rows 3-6 (8): Rep Row 2.",
    "Row 7 (9): Ch 1, sc in each st across, turn.",
    "Rows 8 (10)-9 (12): Ch 1, sc2tog, sc in each st across, turn.",
]


def _document() -> Document:
    return pattern(LINES, sizes=("S", "L"))


def _worked(size: int) -> list[tuple[int, int]]:
    """How many rows each line stands for, and how many stitches the last of them has."""
    rows = work_document(_document(), {})[size].rows
    made = [row.outcome.made if row.outcome is not None else None for row in rows]
    return [(row.worked, strip.length if strip is not None else 0) for row, strip in zip(rows, made, strict=True)]


@pytest.mark.parametrize(
    ("size", "expected"),
    [(0, [(1, 10), (1, 11), (4, 15), (1, 15), (2, 13)]), (1, [(1, 10), (1, 11), (6, 17), (1, 17), (3, 14)])],
)
def test_each_size_works_its_own_number_of_rows(size: int, expected: list[tuple[int, int]]) -> None:
    """Four rows of one more stitch in the small size, six in the large; two and three of one fewer."""
    assert expected == _worked(size)


def test_rows_written_out_are_those_of_the_size() -> None:
    """Row by row, the large size goes on to 12."""
    labels = [item.label.first for item in each_row(_document(), 1, {}).parts[0].rows]  # type: ignore[union-attr]
    assert [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12] == labels


def test_a_label_for_all_sizes_stays_as_it_is() -> None:
    """Written for both sizes, a line whose numbers differ is not taken apart."""
    labels = [item.label for item in each_row(_document(), None, {}).parts[0].rows]  # type: ignore[union-attr]
    assert [None, None, None, (7, 9), (8, 10)] == [
        getattr(label.starts, "values", None) for label in labels if label.first in (1, 2, 3, 7, 8)
    ]
