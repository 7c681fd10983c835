"""A chain that begins a row twice is a slip, unless something says that both are meant."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

HEAD = "Coaster\n\nUS terms.\n\n{note}Rnd 1: 6 sc in adjustable ring. (6)\nRnd 2: 2 sc in each st around. (12)\n"
BARE = "Rnd 3: Ch 3, ch 3, skip next st, *dc in next st, ch 3, skip next st; rep from * around, join."


def codes(rnd: str, note: str = "") -> list[str]:
    """What is found in a pattern with this third round."""
    return [
        finding.code
        for finding in check_source(
            Source("c.txt", HEAD.format(note=note) + rnd + "\n"), "text", ReadOptions()
        ).findings
    ]


@pytest.mark.parametrize(
    "rnd", ["Rnd 3: Ch 1, ch 1, sc in each st around. (12 sc)", "Rnd 3: Ch 3, ch 3, dc in each st around."]
)
def test_a_chain_that_stands_twice_is_found(rnd: str) -> None:
    assert "chain-twice" in codes(rnd)


@pytest.mark.parametrize(
    ("rnd", "note"),
    [
        (f"{BARE} (6 dc, 6 ch-3 sps)", ""),
        (BARE, "Ch 3 counts as a dc throughout.\n\n"),
        ("Rnd 3: Ch 3, ch 3, sl st in 3rd ch from hook, dc in next 11 sts, join.", ""),
        ("Rnd 3: Ch 3 (counts as dc), ch 3, skip next st, dc in next st, leave rem sts unworked.", ""),
    ],
)
def test_two_chains_that_are_meant_are_right(rnd: str, note: str) -> None:
    """The count states the space, the pattern says what the first stands for, or the second is a picot."""
    assert "chain-twice" not in codes(rnd, note)
