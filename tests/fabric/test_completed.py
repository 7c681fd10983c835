"""Pieces that are joined to others on their way, and whose rounds end as those of the first one."""

from __future__ import annotations

from convert.document.read import ReadOptions
from convert.fabric.results import Proof
from convert.pipeline import check_source
from convert.source import Source
from tests.fabric.working import made

FIRST = """Star Net

US terms.

First Star

Ch 7, join with sl st to form a ring.
Rnd 1: Ch 1, 9 sc in ring, join.
Rnd 2: Ch 1, sc in first sc, *ch 8, sc in next sc; rep from * around, ch 8, join. Fasten off.

Second Star

Ch 7, join with sl st to form a ring.
Rnd 1: Ch 1, 9 sc in ring, join.
"""
ONE = "ch 4, sl st in any loop on First Star, ch 4, sc in next sc"


def _last(text: str) -> tuple[str, bool, list[str]]:
    """What the last row makes, whether it is proved, and the errors."""
    checked = check_source(Source("net.txt", text), "text", ReadOptions())
    assert isinstance(checked.proof, Proof)
    size = checked.proof.rows[-1].sizes[0]
    tally = ", ".join(f"{t.number} {t.kind}" for t in size.made) if size.made is not None else "?"
    return tally, size.proved, [f.code for f in checked.findings if f.severity == "error"]


def test_a_round_is_completed_as_that_of_the_first_piece() -> None:
    """One loop is joined, the eight others are as they were, the last of them closed by the same join."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}. Complete round as for First Star.\n"
    assert ("9 sc, 2 ch-4 sp, 1 sl-st, 8 ch-8 sp", True, []) == _last(FIRST + row)


def test_the_last_chains_before_the_end_are_those_of_the_first_piece() -> None:
    """The chain that is told stands for the first piece's at that place, and is not made twice."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}, ch 6, finish rnd same as First Star.\n"
    assert ("9 sc, 2 ch-4 sp, 1 sl-st, 1 ch-6 sp, 7 ch-8 sp", True, []) == _last(FIRST + row)


def test_a_round_that_begins_otherwise_is_unknown() -> None:
    """Two stitches in one place are not what the first piece begins with."""
    row = f"Rnd 2: Ch 1, 2 dc in first sc, {ONE}. Complete round as for First Star.\n"
    assert ("?", False, []) == _last(FIRST + row)


def test_a_round_on_other_stitches_is_unknown() -> None:
    """Ten stitches below are not the nine that the first piece had."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}. Complete round as for First Star.\n"
    assert ("?", False, []) == _last(FIRST[: FIRST.rindex("9 sc")] + "10 sc in ring, join.\n" + row)


def test_a_piece_that_nobody_knows_is_no_piece() -> None:
    """No part has that name."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}. Complete round as for Big Moon.\n"
    assert ("?", False, []) == _last(FIRST + row)


def test_a_picot_joined_in_its_middle_is_one_picot() -> None:
    """The chains on both sides of the joining are the picot's chains, and the joining is one of them."""
    rows = ["Ch 8, join with sl st to form a ring.", "Rnd 1: Ch 1, 3 sc in ring, {}, 3 sc in ring, join."]
    joined = "ch 3, sl st in any picot on first star, ch 3, sl st in 7th ch from hook"
    assert "6 sc, 1 picot" == made([rows[0], rows[1].format(joined)])[-1]
    assert "?" == made([rows[0], rows[1].format(joined.replace("7th", "9th"))])[-1]


def test_further_chains_of_a_space_follow_those_already_passed() -> None:
    """ "Skip first 2 ch of ch-4, dc in next ch": the next chain is the third of the same space."""
    rows = [
        "Ch 6, join with sl st to form a ring.",
        "Rnd 1: Ch 1, sc in ring, *ch 4, 2 sc in ring; rep from * 4 times more, ch 4, sc in ring, join.",
    ]
    body = "skip first 2 ch of ch-4, dc in next ch, dc in next sc, ch 1, dc in next sc"
    assert "18 dc, 6 ch-1 sps" == made([*rows, f"Rnd 2: Ch 3, *{body}; rep from * around, join."])[-1]


def test_where_another_piece_was_joined_may_be_told_by_its_last_joining() -> None:
    """ "Joining" is a noun there, and no join of this round."""
    joined = ONE.replace("any loop on", "next loop following last joining on")
    row = f"Rnd 2: Ch 1, sc in first sc, {joined}."
    assert ("9 sc, 2 ch-4 sp, 1 sl-st, 8 ch-8 sp", True, []) == _last(
        FIRST + f"{row} Complete rnd as for First Star.\n"
    )


def test_further_pieces_told_behind_a_completed_round_are_none_of_it() -> None:
    """They are worked as this one was, and joined where the words say."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}. Complete round as for First Star. "
    more = "Work 3rd star in same manner, joining to 2 loops of second star. Fasten off.\n"
    assert ("9 sc, 2 ch-4 sp, 1 sl-st, 8 ch-8 sp", True, []) == _last(FIRST + row + more)


def test_a_chain_slipped_into_the_stitch_below_it_is_a_picot() -> None:
    """Without "just made", if the row below has no such stitch; else the next one there is meant."""
    rows = ["Ch 6, join with sl st to form a ring.", "Rnd 1: Ch 3, 11 dc in ring, join."]
    body = "Rnd 2: Ch 1, *sc in next 3 dc, ch 4, sl st in top of {}; rep from * around, join."
    assert "12 sc, 4 picot" == made([*rows, body.format("sc")])[-1]
    assert "picot" not in made([*rows, body.format("dc")])[-1]


def test_what_is_passed_on_another_piece_is_none_of_this_one() -> None:
    """The repeat is joined to a third piece, and goes on around this one as before."""
    rows = ["Ch 6, join with sl st to form a ring.", "Rnd 1: Ch 1, 12 sc in ring, join."]
    joined = "ch 3, sl st in next petal of first star, ch 3, sc in next 3 sc"
    row = f"Rnd 2: Ch 1, sc in same st, sc in next 2 sc, *{joined}; rep from * once but joining to petals of next star,"
    end = "ch 3, skip 1 petal of centre, sl st in next petal of centre, ch 3, sc in next 3 sc, join."
    assert "12 sc, 6 ch-3 sps, 3 sl st" == made([*rows, f"{row} {end}"])[-1]


def test_the_round_of_the_piece_may_be_named() -> None:
    """It is the one with that number, whatever this one's label; another round begins otherwise."""
    row = f"Rnd 2: Ch 1, sc in first sc, {ONE}, "
    joined = "9 sc, 2 ch-4 sp, 1 sl-st, 8 ch-8 sp"
    for words, comes in (
        ("continue as for Rnd 2 of First Star", joined),
        ("complete as in Rnd 2 of First Star", joined),
        ("complete as for Rnd 1 of First Star", "?"),
    ):
        assert comes == _last(f"{FIRST}{row}{words}.\n")[0]


def test_rows_told_by_their_numbers_and_the_name_of_a_piece() -> None:
    """ "Rnds 1-2: Work as for First Star": its rounds of those numbers, on the ring that is there or on its own."""
    head, ring = FIRST[: FIRST.rindex("Ch 7")], "Ch 7, join with sl st to form a ring.\n"
    told = ("9 sc, 9 ch-8 sp", True, [])
    assert told == _last(f"{head}{ring}Rnds 1-2: Work as for First Star.\n")
    assert told == _last(f"{head}Rnds 1 and 2: Same as First Star.\n")
    assert told == _last(f"{head}Work as for First Star through Rnd 2.\n")
    assert "?" == _last(f"{head}Rnds 1-7: Work as for First Star.\n")[0]
