"""Which files of a folder are taken for patterns, where nobody named them."""

from __future__ import annotations

import pytest

from convert.candidates import holds_pattern

PATTERNS = {
    "labels": ("text", "Bowl\n\nRnd 1: 6 sc in ring.\n"),
    "lines without labels": ("text", "Bowl\n\n6 sc in ring (6)\ninc around (12)\n"),
    "lines without labels and brackets": ("text", "Bowl\n\nmr 6 sc 6\ninc x 6 12\n"),
    "a table of rows": (
        "markdown",
        "# Bowl\n\n| Rnd | Work | Sts |\n|---|---|---|\n| 1 | 6 sc in ring | 6 |\n| 2 | inc | 12 |\n",
    ),
    "an ordered list": ("markdown", "# Bowl\n\n1. Ring: 6 sc. **[6 sc]**\n2. Inc around. **[12 sc]**\n"),
}
OTHERS = {
    "a list of errands": ("markdown", "# To do\n\n1. buy yarn (3 balls)\n2. call the printer (2 pm)\n"),
    "a letter": ("text", "Put your drafts here.\nTea is at 5\nBring 2 hooks (3.5 mm)\n"),
    "one line with a figure": ("text", "Our longest single pattern had 400 rows (412)\n"),
}


@pytest.mark.parametrize("name", PATTERNS)
def test_patterns_are_known_by_their_rows(name: str) -> None:
    assert holds_pattern(*PATTERNS[name])


@pytest.mark.parametrize("name", OTHERS)
def test_other_texts_are_passed_over(name: str) -> None:
    assert not holds_pattern(*OTHERS[name])
