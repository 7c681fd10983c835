"""Groups that begin a round with its chain, and what a round passes at its end as it did on the way."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source
from tests.fabric.working import faults, made

SQUARE = [
    "Ch 5, join with sl st to form a ring.",
    "Rnd 1: (Ch 3, dc, ch 3) in ring, (2 dc, ch 3) 3 times in ring, join.",
]
CORNER = "(2 dc, ch 3, 2 dc) in next ch-3 sp"


def test_a_chain_inside_the_first_group_stands_for_a_stitch() -> None:
    """However the place is called, if the work stands there: the same, the corner, the next space, no slip stitch."""
    assert "8 dc, 4 ch-3 sps" == made(SQUARE)[-1]
    for begin in (
        "Sl st to ch-3 sp, (ch 3, dc, ch 3, 2 dc) in same sp",
        "Sl st in next dc and in ch-3 sp, (ch 3, dc, ch 3, 2 dc) in corner sp",
        "(Ch 3, dc, ch 3, 2 dc) in first ch-3 sp",
    ):
        rows = [*SQUARE, f"Rnd 2: {begin}, ch 2, *{CORNER}, ch 2; rep from * twice more, join."]
        assert "16 dc, 4 ch-3 sps, 4 ch-2 sps" == made(rows)[-1]
        further = f"Rnd 3: Sl st to ch-3 sp, (ch 3, dc, ch 3, 2 dc) in same sp, 2 dc in next ch-2 sp, *{CORNER}, "
        further += "2 dc in next ch-2 sp; rep from * around, join."
        assert "24 dc, 4 ch-3 sps" == made([*rows, further])[-1]


def test_a_chain_in_the_first_group_that_is_too_short_stands_for_nothing() -> None:
    """As it would in front of the group."""
    row = "Rnd 2: Sl st to ch-3 sp, (ch 1, sc, 3 hdc, sc) in same sp, (sc, 3 hdc, sc) in each ch-3 sp around, join."
    assert "8 sc, 12 hdc" == made([*SQUARE, row])[-1]


FAN = "ch 2, 6 dc in next shell, ch 2"
LOOPS = "ch 2, (sc in next dc, ch 2) 6 times"
FEWER = "ch 2, skip next ch-2 sp, (sc in next ch-2 sp, ch 2) {} times"
PINEAPPLE = f"""Gorse Mat

US terms.

SPECIAL STITCHES
Shell: (2 dc, ch 3, 2 dc) in same sp.
Beginning shell (beg shell): (Ch 3, dc, ch 3, 2 dc) in same sp.

Rnd 1: Ch 6, sl st to form a ring, ch 1, 12 sc in ring, join.
Rnd 2: Ch 1, sc in first sc, *ch 3, skip next sc, sc in next sc; rep from * around, ch 3, join. (6 ch-3 sps)
Rnd 3: Sl st in first ch-3 sp, beg shell, ch 3, *shell in next ch-3 sp, ch 3; rep from * around, join. (6 shells)
Rnd 4: Sl st to ch-3 sp, beg shell, {FAN}, *shell in next shell, {FAN}; rep from * around, join. (3 shells)
Rnd 5: Sl st to ch-3 sp, beg shell, {LOOPS}, *shell in next shell, {LOOPS}; rep from * around, join.
Rnd 6: Sl st to ch-3 sp, beg shell, {FEWER.format(5)}, *shell in next shell, {FEWER}; rep from * around, join.
"""


def _errors(text: str) -> list[str]:
    findings = check_source(Source("mat.txt", text), "text", ReadOptions()).findings
    return [f.code for f in findings if f.severity == "error"]


def test_spaces_passed_at_the_end_as_on_the_way_are_no_left_overs() -> None:
    """Behind each fan one space is passed, also behind the last; spaces between shells are others."""
    assert [] == _errors(PINEAPPLE.format(5))
    assert ["stitches-left-over"] == _errors(PINEAPPLE.format(4))


def test_a_repeat_too_few_leaves_spaces_over() -> None:
    """The parts of the round are alike, but there is one more of them."""
    begin = "Rnd 2: Sl st to ch-3 sp, (ch 3, dc, ch 3, 2 dc) in same sp"
    assert "stitches-left-over" == faults([*SQUARE, f"{begin}, *{CORNER}; rep from * once more, join."])[-1]


def test_a_picot_inside_a_group_is_no_group() -> None:
    """The stitches of the group behind the picot are still there."""
    body = "(2 dc, ch 3, sl st in 3rd ch from hook, 2 dc) in next ch-3 sp"
    rows = [*SQUARE, f"Rnd 2: Ch 1, *{body}; rep from * around, join."]
    further = "Rnd 3: Ch 1, *sc in next 2 dc, 3 sc in picot, sc in next 2 dc; rep from * around, join."
    assert "28 sc" == made([*rows, further])[-1]


def test_picots_that_the_row_below_does_not_mark_are_not_missed() -> None:
    """They were worked by their name alone."""
    rows = [*SQUARE, "Rnd 2: Ch 1, (2 sc, picot, 2 sc) in each ch-3 sp around, join."]
    assert "" == faults([*rows, "Rnd 3: Ch 1, *sc in next 2 sc, sc in next picot; rep from * around, join."])[-1]
