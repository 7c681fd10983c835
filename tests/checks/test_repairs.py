"""What a finding proposes: the one edit with which the row and those after it come out."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source

HEAD = "Coaster\n\nUS terms.\n\nRnd 1: 6 sc in adjustable ring. (6)\nRnd 2: 2 sc in each st around. (12)\n"


def hints(rows: str) -> list[str]:
    """The hints of all that is found in a pattern of these rounds."""
    done = check_source(Source("coaster.txt", HEAD + rows), "text", ReadOptions())
    return [finding.hint for finding in done.findings]


CASES = {
    "the rounds after it are worked on the count that it states: the row is wrong": (
        (
            "Rnd 3: [Sc in next st, 2 sc in next st] 5 times. (18)\n"
            "Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)\n"
        ),
        "“6 times” instead of “5 times” makes this row and those after it come out.",
    ),
    "the rounds after it are worked on what it makes: the count is wrong": (
        (
            "Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (19)\n"
            "Rnd 4: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)\n"
        ),
        "If the row is right, the count should be 18 sts.",
    ),
    "nothing tells which of the two is wrong": (
        "Rnd 3: 2 sc in each of next 11 sts, sc in next st. (24)\n",
        "“2 sc in next st” instead of “sc in next st” would make the count right. Or the count should be 23 sts.",
    ),
    "a clause that stands twice": (
        (
            "Rnd 3: *Sc in next st, sc in next st, 2 sc in next st; rep from * around. (18)\n"
            "Rnd 4: Sc in next 18 sts. (18)\n"
        ),
        "Leaving out one of the two “sc in next st” makes this row and those after it come out.",
    ),
    "the count is wrong, and a round further on has a mistake of its own": (
        (
            "Rnd 3: *Sc in next st, 2 sc in next st; rep from * around. (20)\n"
            "Rnd 4: Sc in each st around. (18)\n"
            "Rnd 5: [Sc in next st, sc2tog] 5 times. (12)\n"
        ),
        "If the row is right, the count should be 18 sts.",
    ),
    "the row is wrong, and a round further on has a mistake of its own": (
        (
            "Rnd 3: [Sc in next st, 2 sc in next st] 5 times. (18)\n"
            "Rnd 4: Sc in each st around. (18)\n"
            "Rnd 5: [Sc in next st, sc2tog] 5 times. (12)\n"
        ),
        "“6 times” instead of “5 times” makes the row come out.",
    ),
    "rounds that have changed places": (
        (
            "Rnd 3: *Sc in next 2 sts, 2 sc in next st; rep from * around. (24)\n"
            "Rnd 4: *Sc in next st, 2 sc in next st; rep from * around. (18)\n"
            "Rnd 5: Sc in next 24 sts. (24)\n"
        ),
        "Rnd 3 and Rnd 4 seem to have changed places.",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_one_edit_is_proposed(name: str) -> None:
    """The one that fits the rounds around the mistake, and no other."""
    rows, hint = CASES[name]
    assert hint == hints(rows)[0]


def test_no_count_is_proposed_that_the_next_row_contradicts() -> None:
    """A clause is missing, and the next round goes on from the stated count."""
    rows = "Rnd 3: Ch 1, turn, sc in each st to last 2 sts, sc in last st. (12)\nRnd 4: Sc in next 12 sts. (12)\n"
    assert not any("the count should be" in hint for hint in hints(rows))


def test_the_beginning_chain_is_blamed_last() -> None:
    """A longer chain, of which nothing is said, would let the round come out; a stitch behind it is one too many."""
    text = HEAD.replace("US terms.", "US terms. Ch 3 at start of rnd counts as dc.") + (
        "Rnd 3: Ch 3, dc in next 3 sts, [dc in next 3 sts] 3 times, join. (12 dc)\n"
        "Rnd 4: Ch 3, dc in each dc around, join. (12 dc)\n"
    )
    done = check_source(Source("coaster.txt", text), "text", ReadOptions())
    assert ["“dc in next 2 sts” instead of “dc in next 3 sts” makes this row and those after it come out."] == [
        finding.hint for finding in done.findings
    ]


def test_one_chain_that_was_no_stitch_is_none_in_the_next_round() -> None:
    """A round that lacks a stitch is not mended by counting its chain, which counted nowhere before."""
    rows = (
        "Rnd 3: Ch 1, [sc in next st, 2 sc in next st] 6 times, join. (18)\n"
        "Rnd 4: Ch 1, sc in next 7 sts, 2 sc in next st, [sc in next 2 sts, 2 sc in next st] 3 times, join. (22)\n"
    )
    done = check_source(Source("coaster.txt", HEAD + rows), "text", ReadOptions())
    assert ["stitches-left-over"] == [finding.code for finding in done.findings]
