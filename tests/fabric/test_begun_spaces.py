"""Chains that begin a row of low stitches may be a space, if a later row works into it; the turning chain's space."""

from __future__ import annotations

from tests.fabric.working import made, work

WOVEN = "Row 1: Ch 23, sc in 3rd ch from hook, *ch 1, skip next ch, sc in next ch; rep from * across, turn."


def _faults(rows: list[str]) -> list[list[str]]:
    outcomes = [worked.outcome for worked in work(rows)]
    return [[fault.code for fault in outcome.faults] if outcome is not None else [] for outcome in outcomes]


def test_the_chains_at_the_hook_are_a_space_where_the_next_row_ends_in_it() -> None:
    """Eleven stitches, ten spaces between them, and the one that two chains make at the edge."""
    rows = [WOVEN, "Row 2: Ch 2, *sc in next ch-1 sp, ch 1; rep from * across, sc in the ch-2 sp, turn."]
    assert ["1 ch-2 sp, 11 sc, 10 ch-1 sps"] * 2 == made(rows)
    assert work(rows)[0].outcome.unusual  # type: ignore[union-attr]


def test_they_are_none_where_no_row_asks_for_it() -> None:
    """The usual reading is kept, and nothing is told of it."""
    rows = [WOVEN, "Row 2: Ch 1, sc in each sc and ch-1 sp across, turn."]
    assert "11 sc, 10 ch-1 sps" == made(rows)[0]
    assert not work(rows)[0].outcome.unusual  # type: ignore[union-attr]


def test_a_space_that_no_chains_can_be_is_missed_as_before() -> None:
    """No row begins with five chains."""
    rows = [WOVEN, "Row 2: Ch 2, *sc in next ch-1 sp, ch 1; rep from * across, sc in the ch-5 sp, turn."]
    assert [[], ["place-not-found"]] == _faults(rows)


def test_the_turning_chains_space_is_beside_the_stitch_that_the_chain_stands_for() -> None:
    """A mesh: the chain is a stitch and two chains, and three stitches go into its space."""
    rows = [
        "Row 1: Ch 17, dc in 8th ch from hook, *ch 2, skip next 2 ch, dc in next ch; rep from * across, turn.",
        "Row 2: Ch 5 (counts as dc and ch 2), dc in next dc, *ch 2, dc in next dc; rep from * across, turn.",
        "Row 3: Ch 1, sc in each dc and 2 sc in each ch-2 sp to last sp, 3 sc in turning ch-5 sp, turn.",
    ]
    assert [] == _faults(rows)[1]


def test_where_the_chain_is_a_stitch_alone_its_space_is_around_it() -> None:
    """Three chains for a stitch leave nothing beside it."""
    rows = [
        "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn.",
        "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn.",
        "Row 3: Ch 1, sc in each of next 10 dc, 2 sc in turning ch sp, turn.",
    ]
    assert ([[], [], []], "12 sc") == (_faults(rows), made(rows)[-1])


def test_the_first_chains_skipped_on_a_foundation_are_counted_with_the_one_below_the_beginning_chain() -> None:
    """One of the first two lies under the chain that counts as a stitch."""
    row = (
        "Rnd 1: Ch 20, join with sl st to form a ring, ch 2 (counts as sc and ch 1), skip first 2 ch, "
        "*sc in next ch, ch 1, skip next ch; rep from * around, join with sl st in first ch of beg ch-2."
    )
    assert ("10 sc, 10 ch-1 sps", [[]]) == (made([row])[-1], _faults([row]))
