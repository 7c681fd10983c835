"""Rows behind a wrong one, and rounds on an edge that only a count tells. Common practice of the trade, no source."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source
from tests.fabric.working import faults, made, work

RING = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 12 sc in ring, join."
MISNAMED = "Rnd 2: Ch 1, sc in first sc, *ch 3, skip next sc, sc in next tr; rep from * around, join."
NET = "Rnd 3: Sl st in next loop, ch 1, sc in same loop, *ch 4, sc in next loop; rep from * around, join."

SIDES = (
    "Rnd 1: Join yarn in any corner, 3 sc in same place, *20 sc across to next corner, 3 sc in corner; "
    "rep from * around"
)


def test_rows_behind_a_misnamed_stitch_are_worked_and_not_proved() -> None:
    """The row below has stitches of one kind alone, so that another name can only mean the next one."""
    rows = [RING, MISNAMED, NET]
    assert ["", "place-not-found", ""] == faults(rows)
    assert ["?", "6 sc, 6 ch-4 sps"] == made(rows)[1:]
    last = work(rows)[-1].outcome
    assert last is not None
    assert last.edge.untested


def test_rows_behind_a_wrong_row_are_never_called_wrong() -> None:
    """What the wrong row was meant to be is likely and not sure."""
    rows = [RING, MISNAMED, "Rnd 3: Sc in next 40 sts."]
    assert ["", "place-not-found", ""] == faults(rows)
    outcome = work(rows)[-1].outcome
    assert outcome is not None
    assert outcome.edge.untested


def test_a_stitch_that_may_be_one_of_several_is_not_taken_for_any() -> None:
    """Where the row below has two kinds, nobody knows which was meant."""
    mixed = "Rnd 2: Ch 1, *sc in next sc, dc in next sc; rep from * around, join."
    rows = [RING, mixed, "Rnd 3: *Sc in next tr, ch 2; rep from * around, join.", "Rnd 4: Ch 1, sc in each sc around."]
    assert "?" == made(rows)[-1]


def test_a_count_decides_how_many_sides_an_edge_has() -> None:
    """Four sides of 20 with 3 in each corner, the first of which the round began with."""
    assert "92 sc" == made([f"{SIDES}, join. (92 sc)"])[-1]
    assert "?" == made([f"{SIDES}, join. (90 sc)"])[-1]
    assert "?" == made([f"{SIDES}, join."])[-1]


def test_the_rows_on_a_counted_edge_are_proved() -> None:
    """The stated count bears out the edge that nobody tells."""
    rows = [f"{SIDES}, join. (92 sc)", "Rnd 2: Ch 1, sc in next 90 sc, join."]
    assert "stitches-left-over" == faults(rows)[-1]


def test_a_round_whose_last_stitch_is_its_first() -> None:
    """Behind a chain and what is skipped, the join stands for the stitch with which the round began."""
    body = "ch 4, sc in next loop, ch 6, skip next loop, sc in next loop"
    rows = [
        RING,
        "Rnd 2: Ch 1, sc in first sc, *ch 3, skip next sc, sc in next sc; rep from * around, ch 3, join.",
        f"Rnd 3: Sl st in next loop, ch 1, sc in same loop, *{body}; rep from * around, join.",
    ]
    assert "4 sc, 2 ch-4 sps, 2 ch-6 sps" == made(rows)[-1]


def test_first_of_one_group_after_the_other() -> None:
    """ "1st dc" in a repeat is the first of the next group, and not that of the round."""
    rows = [
        "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 4 sc in ring, join.",
        "Rnd 2: *4 dc in next sc, ch 3; rep from * around, join.",
        "Rnd 3: *Ch 5, sc in 1st dc, (ch 2, sc in next dc) 3 times; rep from * around, join.",
    ]
    assert "4 ch-5 sps, 16 sc, 12 ch-2 sps" == made(rows)[-1]


LOOPS = f"""Net Mat

US terms.

{RING}
Rnd 2: Ch 1, sc in first sc, *ch 5, skip next sc, sc in next sc; rep from * around, ch 5, join.
Rnd 3: Sl st in next loop, sc in same loop, *ch 3, sc in next loop; rep from * 4 times more, ch 3, join.
"""
BEGIN = "Sl st in next loop, sc in same loop"
END = "rep from * 3 times more, ch 6, sc in last loop, join.\n"


def _checked(further: str) -> tuple[list[str], list[str], bool]:
    """The errors, what the last rows make, and whether the last one is proved."""
    checked = check_source(Source("mat.txt", LOOPS + further), "text", ReadOptions())
    assert checked.proof is not None
    sizes = [row.sizes[0] for row in checked.proof.rows[-2:]]
    found = ["?" if s.made is None else ", ".join(f"{t.number} {t.kind}" for t in s.made) for s in sizes]
    return [f.code for f in checked.findings if f.severity == "error"], found, sizes[-1].proved


def test_a_repeat_without_its_mark_repeats_what_an_earlier_row_repeats() -> None:
    """The row keeps its error; the next one is worked on it as it was very likely meant, and not proved by that."""
    further = f"Rnd 4: {BEGIN}, ch 3, sc in next loop, {END}"
    last = f"Rnd 5: {BEGIN}, *ch 2, sc in next loop; rep from * around, join.\n"
    assert (["unopened-mark"], ["?", "5 sc, 5 ch-2 sp"], False) == _checked(further + last)


def test_a_repeat_without_its_mark_that_no_row_has_is_not_guessed() -> None:
    """No earlier row repeats a chain of 4 and a double crochet."""
    further = f"Rnd 4: {BEGIN}, ch 4, dc in next loop, {END}"
    last = f"Rnd 5: {BEGIN}, *ch 2, sc in next loop; rep from * around, join.\n"
    assert (["unopened-mark"], ["?", "?"], False) == _checked(further + last)
