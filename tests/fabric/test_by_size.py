"""Groups told by how many stitches they have. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

BEGIN = ["Rnd 1: 6 sc in adjustable ring.", "Rnd 2: 2 sc in each sc around."]
CLUSTERS = [*BEGIN, "Rnd 3: *3-dc cluster in next sc, ch 3, skip next sc; rep from * around."]
MIXED = [*BEGIN, "Rnd 3: *3 dc in next sc, ch 1, 5 dc in next sc, ch 1; rep from * around."]


@pytest.mark.parametrize(
    "row",
    [
        "Rnd 4: *Sc in next 3-dc cluster, 2 sc in next ch-3 sp; rep from * around.",
        "Rnd 4: Sc in each 3-dc cluster and 2 sc in each ch-3 sp around.",
    ],
)
def test_a_cluster_is_one_place_whatever_it_is_made_of(row: str) -> None:
    """One stitch in it, and not one in each of three others."""
    assert "18 sc" == made([*CLUSTERS, row])[-1]
    assert "" == faults([*CLUSTERS, row])[-1]


def test_clusters_of_another_size_are_unknown() -> None:
    """They may be anywhere: no error, and no count."""
    row = "Rnd 4: *Sc in next 4-dc cluster, 2 sc in next ch-3 sp; rep from * around."
    assert "?" == made([*CLUSTERS, row])[-1]
    assert "" == faults([*CLUSTERS, row])[-1]


def test_of_groups_of_several_sizes_the_very_next_one_has_the_size() -> None:
    """In turn they are known; where another stands in between, and where all of a size are meant, they are not."""
    turns = (
        "Rnd 4: *Sc in center dc of next 3-dc group, ch 2, sc in center dc of next 5-dc group, ch 2; rep from * around."
    )
    assert "12 sc, 12 ch-2 sps" == made([*MIXED, turns])[-1]
    passing = "Rnd 4: *Sc in center dc of next 5-dc group, ch 5; rep from * around."
    assert ("?", "a place that is told in words") == (made([*MIXED, passing])[-1], whys([*MIXED, passing])[-1])
    each = "Rnd 4: Sc in each 5-dc group around."
    assert ("?", "") == (made([*MIXED, each])[-1], faults([*MIXED, each])[-1])


def test_stitches_side_by_side_are_passed_as_the_group_they_are_called() -> None:
    """The first round works all of them into the ring, so that only the spaces part them."""
    rows = [
        "Rnd 1: Make an adjustable ring, ch 3, 2 dc in ring, ch 2, *3 dc in ring, ch 2; rep from * twice more, join.",
        "Rnd 2: Sl st to sp, ch 3, 2 dc in same sp, ch 2, *skip next 3-dc group, 3 dc in ch-2 sp, ch 2; rep from *.",
    ]
    assert ["12 dc, 4 ch-2 sps", "12 dc, 4 ch-2 sps"] == made(rows)
    assert ["", ""] == faults(rows)
    wrong = [rows[0], rows[1].replace("3-dc group", "2-dc group")]
    assert ["12 dc, 4 ch-2 sps", "?"] == made(wrong)


PICOTS = [
    BEGIN[0],
    "Rnd 2: *Sc in next sc, ch 3, sl st in sc just made, (ch 5, sl st in same place) twice; rep from *.",
]


@pytest.mark.parametrize(
    "row",
    [
        "Rnd 3: *Ch 4, sc in center picot of next 3-picot group; rep from * around.",
        "Rnd 3: *Ch 4, sc in 2nd picot of next picot group; rep from * around.",
        "Rnd 3: *Ch 4, sc in last loop of next 3 picot cluster; rep from * around.",
    ],
)
def test_picots_on_one_stitch_are_a_group(row: str) -> None:
    """Whichever of them is meant, there are as many groups as stitches."""
    assert ["6 ch-4 sps, 6 sc", ""] == [made([*PICOTS, row])[-1], faults([*PICOTS, row])[-1]]


def test_the_next_loop_of_the_same_picots_is_the_next_picot() -> None:
    """From one to the next on the same stitch, all around the edge."""
    row = "Rnd 3: *Sl st in first loop of next 3-picot cluster, ch 2, sl st in next loop of same cluster; rep around."
    assert "12 sl st, 6 ch-2 sps" == made([*PICOTS, row])[-1]


def test_picots_that_a_round_does_not_come_to_leave_it_unknown() -> None:
    """The last working would end in the first stitch, which nobody tells; and of five picots nobody knows one."""
    row = "Rnd 3: *Ch 4, sc in center picot of next 3-picot group, ch 4, sc in next sc; rep from * around."
    assert ["?", ""] == [made([*PICOTS, row])[-1], faults([*PICOTS, row])[-1]]
    other = "Rnd 3: *Ch 4, sc in center picot of next 5-picot group; rep from * around."
    assert ["?", ""] == [made([*PICOTS, other])[-1], faults([*PICOTS, other])[-1]]
