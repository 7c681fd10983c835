"""A round whose number stands once more: another version of it. Common practice of the trade, no source."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.findings import Severity
from convert.pipeline import check_source
from convert.source import Source

TILE = """Harbour Tile

US terms.

Tile
Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 8 sc in ring, join. (8 sc)
Rnd 2: Ch 1, sc in first sc, ch 2, *sc in next sc, ch 2; rep from * around, join. (8 sc, 8 ch-2 sps)
Rnd 3: Sl st in next ch-2 sp, ch 1, *2 sc in next ch-2 sp, ch 3; rep from * around, join. (16 sc, 8 ch-3 sps)
Fasten off.

"""
LAST = "*2 sc in next ch-2 sp, ch 1, sl st in next ch-3 sp of first tile, ch 1; rep from * around, join."


def _checked(text: str) -> tuple[list[str], list[str]]:
    """The errors, and what each row makes."""
    checked = check_source(Source("tile.txt", text), "text", ReadOptions())
    assert checked.proof is not None
    sizes = [row.sizes[0] for row in checked.proof.rows]
    made = ["?" if s.made is None else ", ".join(f"{t.number} {t.kind}" for t in s.made) for s in sizes]
    return [f.code for f in checked.findings if f.severity is Severity.ERROR], made


def test_a_joining_round_is_worked_in_place_of_the_last_one() -> None:
    """On round 2, though round 3 was worked before, with the same number or under a heading of its own."""
    joined = "16 sc, 16 ch-1 sp, 8 sl-st"
    for heading in ("Joining Round", "Second Tile"):
        errors, made = _checked(f"{TILE}{heading}\nRnd 3: Sl st in next ch-2 sp, ch 1, {LAST}\n")
        assert [] == errors
        assert joined == made[-1]


def test_a_version_that_does_not_fit_is_not_called_wrong() -> None:
    """Nobody knows whether the rounds before it were worked alike; it is counted by itself."""
    errors, made = _checked(f"{TILE}Joining Round\nRnd 3: Ch 1, sc in next 30 sc, join.\n")
    assert [] == errors
    assert "30 sc" == made[-1]


def test_a_number_that_stands_twice_without_a_word_is_still_told() -> None:
    """It may be a row that was copied."""
    copied = TILE.replace("Fasten off.\n", "").rstrip() + "\nRnd 3: Ch 1, sc in each sc around, join.\n"
    assert ["row-numbers"] == _checked(copied)[0]
