"""Parts that go on from the edge that the part before them left. Common practice of the trade, no source."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Part
from convert.fabric.places.place import describe_strip
from convert.fabric.proving import work_document
from tests.fabric.working import pattern

ROUND = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 8 sc in ring, join."
FLAT = "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn."


def _worked(*parts: list[str], make: int = 1) -> list[tuple[str, str, str]]:
    """The last row of all: what it made, its faults, why it is unknown."""
    document = replace(
        pattern([]),
        parts=tuple(Part(f"p{i}", f"P{i}", pattern(rows).parts[0].items, make=make) for i, rows in enumerate(parts)),
    )
    found = []
    for run in work_document(document, {}):
        outcome = run.rows[-1].outcome
        assert outcome is not None
        made = describe_strip(outcome.made) if outcome.made is not None else "?"
        found.append((made, ",".join(f.code for f in outcome.faults), outcome.why))
    return found


def test_a_heading_inside_one_piece_of_work_begins_no_new_piece() -> None:
    """The yarn was not cut: the ruffle is worked on the last round."""
    assert ("16 dc", "", "") == _worked([ROUND], ["Rnd 1: 2 dc in each sc around, join."])[-1]


def test_yarn_joined_anew_on_a_finished_round() -> None:
    """A round has one edge, so the stitch named is found there."""
    edging = ["Rnd 1: Join yarn with sl st in any sc, ch 1, 2 sc in each sc around, join."]
    assert ("16 sc", "", "") == _worked([ROUND + " Fasten off."], edging)[-1]


def test_a_piece_worked_flat_has_other_edges() -> None:
    """Yarn joined anew may stand on a side: unknown, and not worked on the last row."""
    edging = ["Rnd 1: Join yarn with sl st in any sc, ch 1, sc in each sc around, join."]
    assert "?" == _worked([FLAT + " Fasten off."], edging)[-1][0]


def test_a_part_with_a_beginning_of_its_own_starts_anew() -> None:
    """Its mistakes are its own as well."""
    assert ("5 sc", "", "") == _worked([ROUND], ["Row 1: Ch 6, sc in 2nd ch from hook and in next 4 ch, turn."])[-1]
    wrong = _worked([ROUND], ["Row 1: Ch 6, sc in 2nd ch from hook and in next 6 ch, turn."])[-1]
    assert "out-of-stitches" == wrong[1]


def test_what_does_not_come_out_on_the_edge_before_is_unknown_and_not_wrong() -> None:
    """Nobody says that the edge before is meant."""
    assert ("?", "", "an edge that is not told") == _worked([ROUND], ["Rnd 1: Dc in next 12 sc, join."])[-1]


def test_yarn_that_was_not_cut_is_sure_to_go_on() -> None:
    """So a wrong count there is told as one; after a cut, another edge may be meant."""
    rows = ["Rnd 1: 2 dc in each sc around, join. (15 dc)"]
    assert ("16 dc", "", "") == _worked([ROUND], rows)[-1]
    rows = ["Rnd 1: Join yarn in any sc, ch 1, 2 sc in each sc around, join. (15 sc)"]
    assert "?" == _worked([ROUND + " Fasten off."], rows)[-1][0]


def test_the_first_part_of_all_must_have_a_beginning() -> None:
    """There is no edge before it."""
    assert "out-of-stitches" == _worked(["Row 1: Sc in next 12 sts, turn."])[-1][1]


def test_a_part_made_twice_leaves_no_one_edge() -> None:
    """Which of the two pieces would it be?"""
    assert "?" == _worked([ROUND], ["Rnd 1: 2 dc in each sc around, join."], make=2)[-1][0]


def test_a_line_that_only_joins_the_yarn_works_nothing() -> None:
    """Nobody tells where that is: the rows behind it are counted by themselves, and the line itself is nothing."""
    border = ["Join yarn in any corner.", "Rnd 1: Ch 1, *3 sc in next loop; rep from * 6 times, join."]
    parts = tuple(Part(f"p{i}", f"P{i}", pattern(rows).parts[0].items) for i, rows in enumerate(([FLAT], border)))
    joined, round_one = work_document(replace(pattern([]), parts=parts), {})[-1].rows
    assert (None, 0) == (joined.outcome, joined.worked)
    assert round_one.outcome is not None
    assert round_one.outcome.made is not None
    assert "21 sc" == describe_strip(round_one.outcome.made)
