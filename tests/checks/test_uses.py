"""Which stitches the rows of a document use or name."""

from __future__ import annotations

import pytest

from convert.checks.uses import named_ids
from convert.document.records import Special
from tests.fabric.working import pattern

SHELL = Special("shell", "Shell", "shell")


@pytest.mark.parametrize(
    "line",
    [
        "Row 1: Shell in next st.",
        "Row 1: Sc in next shell.",
        "Row 1: Dc2tog over next 2 shells.",
        "Row 1: *Sc in next st; rep from * across, ending with sc in next shell.",
        "Row 1: Sc in 3rd dc of next shell.",
    ],
)
def test_a_stitch_is_named_wherever_it_is_worked_or_worked_into(line: str) -> None:
    """Also as the place of a decrease, in the ending of a repeat, and as what a place is part of."""
    assert "shell" in named_ids(pattern([line], specials=(SHELL,)))


def test_a_stitch_that_stands_nowhere_is_not_named() -> None:
    assert "shell" not in named_ids(pattern(["Row 1: *Sc in next st; rep from * across."], specials=(SHELL,)))
