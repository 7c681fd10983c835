"""Rows told by the last one and by the stitches that they have more between their shapings.

Common practice of the trade, no source.
"""

from __future__ import annotations

import pytest

from convert.document.steps import Step
from convert.fabric.parts.growing import grown
from convert.fabric.places.place import describe_strip
from convert.instructions.reader import Context, read_steps
from convert.source import Passage
from tests.fabric.working import made, work

DISC = [
    "Rnd 1: 7 sc in adjustable ring.",
    "Rnd 2: 2 sc in each st around.",
    "Rnd 3: *Sc in next st, 2 sc in next st; rep from * around.",
]


def _steps(line: str) -> tuple[Step, ...]:
    return read_steps(Passage.at(line, 0, 0), Context()).row.steps


def test_each_row_has_more_stitches_than_the_one_before() -> None:
    """Rounds 4 to 6 of a disc of seven sections make 28, 35 and 42 stitches."""
    rows = [*DISC, "Rnds 4-6: Continue in this manner, with 1 more st between increases. (42 sc)"]
    strips = [outcome.made for _, outcome in work(rows)[3].each]
    assert ["28 sc", "35 sc", "42 sc"] == [describe_strip(strip) if strip is not None else "?" for strip in strips]


def test_later_lines_go_on_from_the_last_of_them() -> None:
    """The row that they refer to is the one with the most stitches."""
    growing = "Next 2 rnds: Continue in this manner, with 1 more st between increases."
    assert "49 sc" == made([*DISC, growing, growing])[-1]


@pytest.mark.parametrize(
    ("line", "more", "longer"),
    [
        ("*Sc in next 3 sts, 2 sc in next st; rep from *.", 1, "*Sc in next 4 sts, 2 sc in next st; rep from *."),
        ("*2 dc in next st, dc in next st; rep from *.", 2, "*2 dc in next st, dc in next 3 sts; rep from *."),
        ("2 dc in each st around.", 1, "*Dc in next st, 2 dc in next st; rep from * around."),
        ("Inc in every 4th sc around.", 1, "Inc in every 5th sc around."),
        ("*Sc in next 4 sts, sc2tog; rep from * around.", -1, "*Sc in next 3 sts, sc2tog; rep from * around."),
    ],
)  # fmt: skip
def test_a_row_with_other_numbers(line: str, more: int, longer: str) -> None:
    """Only the plain stitches between the shapings change."""
    assert _steps(longer) == grown(_steps(line), more)


@pytest.mark.parametrize(
    "line",
    [
        "Sc in each st around.",
        "*Sc in next st, 2 sc in next st, sc in next st; rep from * around.",
        "*Sc in next 2 sts, ch 3; rep from * around.",
        "*2 sc in next st, 3 sc in next st; rep from * around.",
        "*Sc in next st, 2 sc in next st; rep from * 5 times.",
        "Dec in every 4th sc around.",
    ],
)
def test_rows_of_another_form_are_not_guessed_at(line: str) -> None:
    """Nobody can tell which of their stitches are meant."""
    assert () == grown(_steps(line), 1)


def test_between_decreases_one_stitch_at_least_is_left() -> None:
    """A row that would have none is told otherwise."""
    assert () == grown(_steps("*Sc in next st, sc2tog; rep from * around."), -1)
