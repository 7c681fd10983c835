"""Rows told by an earlier row and by how they differ from it. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from convert.document.records import TermSystem
from convert.document.steps import Work
from convert.instructions.rows.variations import (
    ChainsAround,
    ChainsBetween,
    ChainsEach,
    ChainsInstead,
    FewerLoops,
    GroupInstead,
    LoopsAcross,
    MoreChains,
    Variation,
    variations,
)
from convert.terms.prose import read_prose
from tests.fabric.working import faults, made, whys

RING = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 8 sc in ring, join."
WHEEL = (
    "Rnd 2: Ch 1, sc in first sc, *ch 2, dc in next sc, ch 2, sc in next sc; "
    "rep from * around, ending with ch 2, dc in next sc, ch 2, join."
)
MESH = "Rnd 2: Ch 1, sc in first sc, ch 5, *sc in next sc, ch 5; rep from * around, join."
SPOKES = WHEEL.replace("Rnd 2", "Rnd 3").replace("dc in next sc", "dc in next dc")
LOOPS = "Rnd 3: Sl st in next loop, ch 1, sc in same loop, *ch 5, sc in next loop; rep from * around, ch 5, join."
POINT = "Row 2: Ch 1, sc in next loop, (ch 3, sc in next loop) 5 times, turn."
ARCHES = "Row 1: Ch 1, 7 sc in adjustable ring, turn."


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("but having ch 6 between shells", (ChainsBetween(6, frozenset({"shell"})),)),
        ("having ch-3 between dc and sc", (ChainsBetween(3, frozenset({"dc", "sc"})),)),
        ("with ch 3 between each dc", (ChainsBetween(3, frozenset({"dc"})),)),
        ("making ch 7 instead of ch 5", (ChainsInstead(7, 5),)),
        ("having 1 loop less on each row", (FewerLoops(1),)),
        ("having 2 more chains in each loop", (MoreChains(2),)),
        (
            "but having 4 loops across each leaf and ch 2 between dc",
            (LoopsAcross(4), ChainsBetween(2, frozenset({"dc"}))),
        ),
        ("but having ch 4 before and after each shell", (ChainsAround(4, "shell"),)),
        ("but having 7 chs in each loop", (ChainsEach(7),)),
        (
            "but having 2 dc, 1 tr, 2 dc in each shell",
            (GroupInstead((Work("dc", 2), Work("tr", 1), Work("dc", 2)), "shell"),),
        ),
        ("but having ch 4 before each shell", ()),
        ("but having ch 3 between shells and 2 dc in each corner", ()),
        ("but having a blue border", ()),
        ("having 3 dc across each leaf", ()),
    ],
)
def test_how_rows_differ(words: str, told: tuple[Variation, ...]) -> None:
    """All that the words tell is understood, or nothing is."""
    assert told == variations(read_prose(words, TermSystem.US, ()))


def test_chains_of_another_length_between_two_stitches() -> None:
    """All around, at the end of the round as well; the round told is the base of the next one."""
    rows = [
        RING,
        WHEEL,
        SPOKES,
        "Rnd 4: Repeat 3rd rnd but having ch 4 between sc and dc.",
        "Rnd 5: Same as last rnd but having ch 6 between dc and sc.",
    ]
    assert ["4 sc, 8 ch-4 sps, 4 dc", "4 sc, 8 ch-6 sps, 4 dc"] == made(rows)[3:]


def test_chains_that_grow_from_round_to_round() -> None:
    """Every round of the line has one more than the one before it; the chain that begins the round stays."""
    rows = [RING, MESH, LOOPS, "Rnds 4-6: Repeat 3rd rnd, having 1 more chain in each loop."]
    assert ["8 sc, 8 ch-5 sps", "8 sc, 8 ch-8 sps"] == made(rows)[2:]


def test_loops_that_become_fewer_from_row_to_row() -> None:
    """As many turns fewer of the one repeat of loops."""
    first = "Row 1: Ch 25, sc in 4th ch from hook, (ch 3, skip 2 ch, sc in next ch) 7 times, turn."
    second = "Row 2: Ch 3, sc in next loop, (ch 3, sc in next loop) 6 times, turn."
    third = "Rows 3-5: Repeat last row, having 1 loop less on each row."
    assert "4 sc, 3 ch-3 sps" == made([first, second, third])[-1]


def test_changes_that_do_not_fit_the_row_are_unknown() -> None:
    """No such chain in the row, or no stretch of loops: nothing is guessed, and nothing is an error."""
    for words in ("but having ch 4 between tr and sc", "but having 3 loops across each leaf"):
        rows = [RING, WHEEL, SPOKES, f"Rnd 4: Repeat 3rd rnd {words}."]
        assert ("?", "") == (made(rows)[-1], faults(rows)[-1])
        assert "work told elsewhere" == whys(rows)[-1]


def test_a_row_told_so_that_does_not_come_out_is_unknown() -> None:
    """The row that was meant may be another one: "repeat 2nd rnd" where the loops of the 3rd are below."""
    rows = [
        RING,
        WHEEL,
        SPOKES,
        LOOPS.replace("Rnd 3", "Rnd 4"),
        "Rnd 5: Repeat 3rd rnd but having ch 4 between sc and dc.",
    ]
    assert ("?", "", "earlier rows with changes") == (made(rows)[-1], faults(rows)[-1], whys(rows)[-1])


FANS = "Rnd 2: *Ch 1, shell in next sc, ch 1, sc in next sc; rep from * around, join."


def test_chains_on_both_sides_of_a_group() -> None:
    """The chain in front of the sc is behind the shell: both are longer."""
    told = FANS.replace("Rnd 2", "Rnd 3").replace("shell in next sc", "shell in next shell")
    rows = [RING, FANS, told, "Rnd 4: Same as 3rd rnd but having ch 4 before and after each shell."]
    assert ["8 ch-1 sps, 20 dc, 4 sc", "8 ch-4 sps, 20 dc, 4 sc"] == made(rows)[2:]


def test_one_length_for_all_loops_and_rows_told_behind_it() -> None:
    """The line tells two things: the round with longer loops, and both rounds once more, the last of them last."""
    rows = [RING, MESH, LOOPS, "Rnd 4: Same as last rnd but having 9 chs in each loop. Repeat the last 2 rnds once."]
    assert "8 sc, 8 ch-9 sps" == made(rows)[-1]


def test_other_stitches_in_each_group() -> None:
    """The list is told whole, over its commas; it takes the place of the one group that the round writes out."""
    fans = "Rnd 2: *(2 dc, ch 1, 2 dc) in next sc, skip next sc; rep from * around, join."
    again = fans.replace("Rnd 2", "Rnd 3").replace("in next sc, skip next sc", "in next ch-1 sp")
    rows = [RING, fans, again, "Rnd 4: Same as 3rd rnd but having 3 tr, 2 dtr, 3 tr in each shell."]
    assert ["16 dc, 4 ch-1 sps", "24 tr, 8 dtr"] == made(rows)[2:]


def test_other_stitches_in_groups_of_two_kinds_are_unknown() -> None:
    """Which of them is meant nobody says."""
    mixed = "Rnd 2: *3 dc in next sc, (2 dc, ch 1, 2 dc) in next sc, (dc, ch 3, dc) in next sc; rep from * once, join."
    rows = [RING, mixed, "Rnd 3: Same as 2nd rnd but having 3 tr in each shell."]
    assert "?" == made(rows)[-1]
