"""Stitches of several places: named behind what they are made of, worked across, and worked into. Common practice."""

from __future__ import annotations

from convert.document.records import Special
from convert.instructions.reader import Context, read_steps
from convert.source import Passage
from tests.fabric.working import faults, made, work

CROSS = Special(
    "cross",
    "cross",
    "cross",
    steps=read_steps(
        Passage.at("Skip next 2 sts, 2 dc in next st, dc in first skipped st.", 0, 0), Context()
    ).row.steps,
)
FIRST = "Row 1: Ch 31, sc in 2nd ch from hook and in each ch across, turn."


def test_a_stitch_of_several_places_is_worked_across_as_often_as_it_fits() -> None:
    """Ten crosses of three stitches on thirty, and one stitch too many for them on thirty-one."""
    assert ["30 sc", "30 dc"] == made([FIRST, "Row 2: Ch 1, cross across, turn. (10 crosses)"], specials=(CROSS,))
    longer = FIRST.replace("31", "32")
    assert ["", "stitches-left-over"] == faults([longer, "Row 2: Ch 1, cross across, turn."], specials=(CROSS,))


def test_a_group_worked_into_by_its_name_is_used_up() -> None:
    """The two stitches beside the one that the hook enters belong to the last cross, and are not left over."""
    rows = [FIRST, "Row 2: Ch 1, 10 crosses, turn.", "Row 3: Ch 1, 2 sc in each of next 10 crosses, turn."]
    assert ["", "", ""] == faults(rows, specials=(CROSS,))
    behind = rows[2].replace("next 10 crosses", "next 9 crosses, sc in next 3 sts")
    assert ["", "", ""] == faults([*rows[:2], behind], specials=(CROSS,))


def test_a_repeat_of_what_a_stitch_is_made_of_is_that_stitch() -> None:
    """It can be counted by the name, and worked into by it."""
    written = "Row 2: Ch 1, *skip next 2 sts, 2 dc in next st, dc in first skipped st; rep from * across, turn."
    rows = [FIRST, written, "Row 3: Ch 1, sc in each cross across, turn."]
    assert "10 sc" == made(rows, specials=(CROSS,))[-1]
    assert "?" == made([FIRST, written, "Row 3: Ch 1, sc in each cross across, turn."])[-1]


def test_stitches_in_front_of_the_one_told_by_its_number_are_passed() -> None:
    """ "In 3rd st" passes two, into which the row may go back."""
    rows = [FIRST, "Row 2: Ch 1, *2 dc in 3rd st, dc in 2nd skipped st; rep from * across, turn."]
    assert ["30 sc", "30 dc"] == made(rows)
    rows = [FIRST, "Row 2: Ch 1, *2 dc in 3rd st, dc in 3rd skipped st; rep from * across, turn."]
    assert "?" == made(rows)[-1]


def test_yarn_joined_where_the_row_began_meets_its_stitches_in_the_same_order() -> None:
    """Five tall stitches and twenty-five low ones: the tall ones come first again."""
    two = "Row 2: Ch 1, dc in next 5 sc, sc in each sc across. Cut the yarn."
    three = "Row 3: Join yarn at the beginning of the row, 2 dc in each of next 5 dc, sc in each sc across."
    assert ["", "", ""] == faults([FIRST, two, three])
    assert "10 dc, 25 sc" == made([FIRST, two, three])[-1]
    behind = [
        two.replace("yarn.", "yarn and join in again at the beginning."),
        "Row 3: 2 dc in each of next 5 dc, sc in each sc across.",
    ]
    assert "10 dc, 25 sc" == made([FIRST, *behind])[-1]
    turned = work([FIRST, two, "Row 3: Ch 1, sc in next 25 sc, dc in next 5 dc."])
    assert turned[-1].outcome is not None and not turned[-1].outcome.faults
