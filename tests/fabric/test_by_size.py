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
