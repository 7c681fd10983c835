"""Popcorns and puffs told by how many stitches they have, and groups that begin rounds. Common practice, no source."""

from __future__ import annotations

import pytest

from convert.document.records import Special
from convert.document.steps import Chain, Decrease, Place, Which
from convert.fabric.counts import agrees
from tests.fabric.working import faults, made, work

PLAIN = "Row 1: Ch 16, sc in 2nd ch from hook and in each ch across, turn."
SIX = "Rnd 1: 6 sc in adjustable ring."


@pytest.mark.parametrize("name", ["5-dc popcorn", "4 dc popcorn", "3-hdc puff", "4-dc bobble"])
def test_what_is_closed_at_the_top_is_one_stitch(name: str) -> None:
    """Twelve plain stitches and three others: the next row meets fifteen."""
    rows = [
        PLAIN,
        f"Row 2: Ch 1, sc in first 3 sts, *{name} in next st, sc in next 3 sts; rep from * across, turn.",
        "Row 3: Ch 1, hdc in each st across. (15 hdc)",
    ]
    assert "15 hdc" == made(rows)[-1]
    assert ["", "", ""] == faults(rows)


def test_a_bracket_behind_stitches_in_one_place_calls_them_a_popcorn() -> None:
    """Once closed they are not closed again; a shell is not closed by its name."""
    assert "6 pc" == made([SIX, "Rnd 2: *5 dc in next sc (popcorn); rep from * around."])[-1]
    assert "30 dc" == made([SIX, "Rnd 2: *5 dc in next sc (shell); rep from * around."])[-1]
    told = "Rnd 2: *5 dc in next sc, drop loop from hook, insert in first dc, pull loop through (popcorn); rep from *."
    assert "6 pc" == made([SIX, told])[-1]


@pytest.mark.parametrize(("count", "right"), [("6 clusters", True), ("5 clusters", True), ("7 clusters", False)])
def test_the_group_that_begins_a_round_may_be_counted_with_the_others(count: str, right: bool) -> None:
    """The beginning cluster is one of six, or stands beside the five of that name."""
    here = Place(which=Which.SAME)
    specials = (
        Special("cluster", "cluster", "cl", steps=(Decrease("dc", 3, (here,)),)),
        Special("beginning-cluster", "beginning cluster", "beg cl", steps=(Chain(2), Decrease("dc", 2, (here,)))),
    )
    row = f"Rnd 2: Beg cl in first st, ch 3, *cl in next st, ch 3; rep from * around, join. ({count})"
    worked = work([SIX, row], specials=specials)[-1]
    assert worked.outcome is not None
    assert worked.outcome.made is not None
    assert () == worked.outcome.faults
    assert [right] == [agrees(worked.outcome.made, item, 0) for item in worked.stated]


def test_a_repeat_up_to_a_place_ends_where_only_what_it_passes_is_left() -> None:
    """Two stitches are left in front of the last one, which each working would pass."""
    begin = "Row 1: Ch 15, dc in 4th ch from hook (3 skipped chs count as dc) and in each ch across, turn."
    row = "Row 2: Ch 1, sc in first st, *skip next 2 sts, 3 sc in next st; rep from * to turning ch, sc in top of tch."
    assert ["13 dc", "11 sc"] == made([begin, row])
    assert ["", ""] == faults([begin, row])
    more = "Row 2: Ch 1, sc in first st, *skip next st, sc in next 3 sts; rep from * to turning ch, sc in top of tch."
    assert "" != faults([begin, more])[-1]


@pytest.mark.parametrize(("place", "right"), [("(knop, ch 1, knop) in next sc", None), ("hdc in next sc", False)])
def test_stitches_of_the_authors_own_in_one_place_are_not_counted(place: str, right: bool | None) -> None:
    """What they are called is not known any more; a row without any such group surely has none of them."""
    knop = (Special("knop", "knop", "knop", steps=(Decrease("hdc", 3, (Place(which=Which.SAME),)),)),)
    worked = work([SIX, f"Rnd 2: *{place}; rep from * around. (12 knops)"], specials=knop)[-1]
    assert worked.outcome is not None
    assert worked.outcome.made is not None
    assert [right] == [agrees(worked.outcome.made, item, 0) for item in worked.stated]
