"""Rows told by others whose repeats go on or end otherwise. Common practice of the trade, no source."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from convert.document.records import Part, TermSystem
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from convert.fabric.rows.open_rounds import TURNS
from convert.instructions.rows.variation_ends import EndingInstead, TimesInstead
from convert.instructions.rows.variations import ChainsEach, Variation, variations
from convert.terms.prose import read_prose
from tests.fabric.working import made, pattern

RING = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 6 sc in ring, join."
FANS = "Rnd 2: Ch 1, *sc in next sc, **ch 3, sc in same sc; rep from ** 4 times more, ch 5; rep from * around, join."
LOOPS = "Rnd 2: Sc in first sc, *ch 6, sc in next sc; rep from * around, ending with ch 3, dc in first sc."
AGAIN = "Rnd 3: *Ch 8, sc in next loop; rep from * around, ending with ch 5, dc in dc."


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ("but repeating from * 9 times instead of 5 times", (TimesInstead(9, 5),)),
        ("but rep from ** 2 times instead of 3", (TimesInstead(2, 3),)),
        ("but ending last rnd with ch 4", (EndingInstead(0, 4),)),
        ("but ending 12th round with ch 2", (EndingInstead(12, 2),)),
        ("but having 7 chs in each loop and ending last round with ch 4", (ChainsEach(7), EndingInstead(0, 4))),
        ("but repeating from * 9 times", ()),
        ("but ending last rnd with a knot", ()),
        ("but ending last rnd with ch 4 and a knot", ()),
    ],
)
def test_how_repeats_go_on_or_end_otherwise(words: str, told: tuple[Variation, ...]) -> None:
    """All that the words tell is understood, or nothing is."""
    assert told == variations(read_prose(words, TermSystem.US, ()))


@pytest.mark.parametrize(
    ("line", "expected"),
    [
        ("Rnd 3: Same as 2nd rnd but repeating from ** 6 times instead of 4 times.", "48 sc, 42 ch-3 sps, 6 ch-5 sps"),
        ("Rnd 3: Same as 2nd rnd but repeating from ** once instead of 4 times.", "?"),
        ("Rnd 3: Same as 2nd rnd but repeating from ** 2 times instead of 4 times.", "24 sc, 18 ch-3 sps, 6 ch-5 sps"),
        ("Rnd 3: Same as 2nd rnd but repeating from ** 7 times instead of 3 times.", "?"),
    ],
)
def test_a_repeat_of_the_row_told_worked_another_number_of_times(line: str, expected: str) -> None:
    """As the row's own number counts, of "4 times more" or "4 times"; no repeat of it goes 3 times."""
    plain = "Rnd 3: Ch 1, *sc in next sc, skip next 5 sc; rep from * around, join."
    again = line.replace("Rnd 3", "Rnd 4").replace("Same as 2nd rnd", "Same as 2nd rnd")
    assert expected == made([RING, FANS, plain, again])[-1]


def test_the_last_of_several_rows_ends_otherwise() -> None:
    """All have six loops, the last of which a single crochet or a treble closes."""
    rows = [RING, LOOPS, AGAIN]
    both = "Rnds 4-5: Same as last rnd but ending {}th rnd with {}."
    assert "6 ch-8 sps, 5 sc" == made(rows)[-1]
    assert "6 ch-8 sps, 5 sc" == made([*rows, both.format(5, "ch 7, sc in dc")])[-1]
    assert "5 ch-8 sps, 5 sc, 1 ch-5 sp" == made([*rows, both.format(5, "ch 1, tr in dc")])[-1]
    assert "?" == made([*rows, both.format(4, "ch 1, tr in dc")])[-1]
    assert "?" == made([*rows, "Rnd 4: Same as last rnd but ending with a sigh, sc in dc."])[-1]


def _parts(*parts: list[str]) -> list[list[str]]:
    """What the rows of each part made; its name stands first."""
    named = tuple(Part(f"p{i}", rows[0], pattern(rows[1:]).parts[0].items) for i, rows in enumerate(parts))
    outcomes = [[w.outcome for w in run.rows] for run in work_document(replace(pattern([]), parts=named), {})]
    return [[describe_strip(o.made) if o and o.made is not None else "?" for o in part] for part in outcomes]


CUFF = ["Lower Cuff", RING, FANS]


def test_a_row_of_another_piece_with_changes() -> None:
    """The words name the piece, and how its row differs."""
    other = "Rnd 2: Same as 2nd rnd of lower cuff but repeating from ** 2 times instead of 4 times."
    assert ["6 sc", "24 sc, 18 ch-3 sps, 6 ch-5 sps"] == _parts(CUFF, ["Frill", RING, other])[-1]
    assert ["6 sc", "?"] == _parts(CUFF, ["Frill", RING, other.replace("lower cuff", "hood")])[-1]


SENT = ["Base", "Work first 3 rnds as for Bluebell Coaster.", AGAIN.replace("3:", "4:"), AGAIN.replace("3:", "5:")]


def test_rows_of_a_piece_whose_beginning_is_told_elsewhere() -> None:
    """The motif begins as the base does, on what another page tells; its last round ends otherwise."""
    told = "Work first 5 rnds same as base but ending last rnd with ch 2, tr in dc."
    dots = "Rnd 6: *Sc in next loop, ch 2; rep from * around, join."
    base, motif = _parts(SENT, ["Motif", told, dots])
    assert "?" == base[0]
    assert f"{TURNS + 1} ch-8 sps, {TURNS} sc" == base[-1]
    assert [f"{TURNS} ch-8 sps, {TURNS} sc, 1 ch-6 sp", f"{TURNS + 1} sc, {TURNS + 1} ch-2 sps"] == motif
