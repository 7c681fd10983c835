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
    assert ["6 sc, 6 ch-3 sps", "6 sc, 6 ch-4 sps"] == made(rows)[1:]
    assert [True, True] == [worked.outcome is not None and worked.outcome.edge.untested for worked in work(rows)[1:]]


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
    """The row keeps its error; it is worked as it was very likely meant and the next one on it, both not proved."""
    further = f"Rnd 4: {BEGIN}, ch 3, sc in next loop, {END}"
    last = f"Rnd 5: {BEGIN}, *ch 2, sc in next loop; rep from * around, join.\n"
    meant = "6 sc, 4 ch-3 sp, 1 ch-6 sp"
    assert (["unopened-mark"], [meant, "5 sc, 5 ch-2 sp"], False) == _checked(further + last)
    assert (["unopened-mark"], meant, False) == _last(further)


def test_a_repeat_without_its_mark_that_no_row_has_is_not_guessed() -> None:
    """No earlier row repeats a chain of 4 and a double crochet, and the round comes out from no place alone."""
    further = f"Rnd 4: {BEGIN}, ch 4, dc in next loop, {END}"
    last = f"Rnd 5: {BEGIN}, *ch 2, sc in next loop; rep from * around, join.\n"
    assert (["unopened-mark"], ["?", "?"], False) == _checked(further + last)


def _last(further: str) -> tuple[list[str], str, bool]:
    """The errors, what the last row makes, and whether it is proved."""
    codes, found, proved = _checked(further)
    return codes, found[-1], proved


def _fans(third: str, fourth: str) -> str:
    """Four shells between groups of three, and two rounds on them."""
    return f"""Fan Square

US terms.

Rnd 1: Ch 7, join with sl st to form a ring, ch 1, 8 sc in ring, join.
Rnd 2: Ch 3, 2 dc in same sc, *ch 2, 3 dc, ch 1, 3 dc (shell) in next sc, ch 2, 3 dc in next sc; rep from * around, \
ending with ch 2, (3 dc, ch 1, 3 dc) in next sc, ch 2, join.
Rnd 3: {third}
Rnd 4: {fourth}
"""


FAN = "Ch 3, dc in next 2 dc, **ch 1, dc in next shell, {}ch 2, dc in same space, rep from * 3 times, ch 1, "
FAN += "dc in next 3 dc, rep from ** around ending to correspond, ch 1, join."
ARCH = "skip next sp, (ch 3, sc in next ch-2 sp) {0} times, ch 3, skip next sp"
OVER = f"Ch 1, sc in first 3 dc, *{ARCH}, sc in next 3 dc; rep from * twice more, {ARCH}, join."


def _square(third: str, fourth: str) -> tuple[list[str], list[str]]:
    """The errors, and what the last two rounds make."""
    checked = check_source(Source("fan.txt", _fans(third, fourth).replace("\\\n", "")), "text", ReadOptions())
    assert checked.proof is not None
    sizes = [row.sizes[0] for row in checked.proof.rows[-2:]]
    found = ["?" if s.made is None else ", ".join(f"{t.number} {t.kind}" for t in s.made) for s in sizes]
    return [f.code for f in checked.findings if f.severity == "error"], found


def test_a_missing_mark_stands_where_the_round_and_the_next_come_out() -> None:
    """From "ch 2" all four spaces of a fan are made that the next round works into; from elsewhere they are not."""
    marked, missing = FAN.format("*"), FAN.format("")
    right = _square(marked, OVER.format(4))
    assert ([], "32 dc, 8 ch-1 sp, 16 ch-2 sp") == (right[0], right[1][0])
    assert (["unopened-mark"], right[1]) == _square(missing, OVER.format(4))


def test_a_missing_mark_is_not_guessed_where_the_next_round_comes_out_from_none() -> None:
    """No place makes the five spaces that the next round asks for."""
    codes, found = _square(FAN.format(""), OVER.format(5))
    assert (["unopened-mark"], "?") == (codes, found[0])


def _noted(text: str) -> list[tuple[str, int, str]]:
    """The notes on how rows were taken: the line, the column, and how."""
    found = check_source(Source("mat.txt", text), "text", ReadOptions()).findings
    return [
        (f.found or "", f.span.line, text.split("\n")[f.span.line][f.span.column :][:7])
        for f in found
        if f.code == "reading-taken"
    ]


def test_a_note_tells_where_the_mark_was_taken_to_stand() -> None:
    """Nobody has to guess on what the rows behind a wrong one were worked."""
    text = _fans(FAN.format(""), OVER.format(4)).replace("\\\n", "")
    assert [("as if the * stood here", 6, "ch 2, d")] == _noted(text)
    assert [] == _noted(_fans(FAN.format("*"), OVER.format(4)).replace("\\\n", ""))


def test_a_note_tells_that_stitches_were_taken_by_any_name() -> None:
    """The next stitches are meant, and not those that the row names."""
    text = f"Net Mat\n\nUS terms.\n\n{RING}\n{MISNAMED}\n{NET}\n"
    assert [("into the next stitches, whatever they are called", 5)] == [one[:2] for one in _noted(text)]
