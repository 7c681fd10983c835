"""Groups: stitches that go into one place, what they are called afterwards, and where the work stands in them.

Common practice of the trade, no source.
"""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.findings import Severity
from convert.pipeline import check_source
from convert.source import Source
from tests.fabric.working import faults, made

NET = (
    "Rnd 1: Ch 6, join with sl st to form a ring, ch 5, *dc in ring, ch 2; rep from * 4 times, join in 3rd ch of ch-5."
)


def test_stitches_that_go_on_into_the_same_place_are_one_group() -> None:
    """Two clauses or one bracket: the next round finds the same middle."""
    apart = "Rnd 2: Sl st in next sp, ch 1, *2 dc in next ch-2 sp, ch 2, 2 dc in same sp; rep from * around, join."
    together = "Rnd 2: Sl st in next sp, ch 1, *(2 dc, ch 2, 2 dc) in next ch-2 sp; rep from * around, join."
    third = "Rnd 3: *Sc in center of next shell, ch 5; rep from * around, join."
    assert made([NET, together, third]) == made([NET, apart, third])
    assert ["6 dc, 6 ch-2 sps", "24 dc, 6 ch-2 sps", "6 sc, 6 ch-5 sps"] == made([NET, apart, third])


def test_a_beginning_chain_is_the_first_stitch_of_the_group_that_goes_into_its_place() -> None:
    """So that a round has as many shells as it was worked into, the first among them."""
    rows = [
        NET,
        "Rnd 2: Sl st in next sp, ch 3, 1 dc, ch 2, 2 dc in same sp, *2 dc, ch 2, 2 dc in next sp; rep from * around.",
        "Rnd 3: Sl st to center of shell, ch 3, 1 dc, ch 2, 2 dc in same sp, *2 dc, ch 2, 2 dc in next shell; rep.",
        "Rnd 4: Sl st to center of shell, ch 1, sc in same sp, *ch 6, sc in next shell; rep from * around, ch 6, join.",
    ]
    assert ["24 dc, 6 ch-2 sps", "24 dc, 6 ch-2 sps", "6 sc, 6 ch-6 sps"] == made(rows)[1:]
    assert [""] * 4 == faults(rows)


def test_a_place_behind_the_last_of_several_stitches_is_the_place_of_all() -> None:
    """ "2 dc, ch 2, 2 dc in next loop" is four stitches in one loop."""
    rows = [NET, "Rnd 2: Sl st in next sp, ch 1, *1 sc, ch 3, 1 sc in next loop, ch 1; rep from * around, join."]
    assert "12 sc, 6 ch-3 sps, 6 ch-1 sps" == made(rows)[-1]


def test_chains_between_each_stitch_of_several_kinds() -> None:
    """ "2 tr, 1 dtr, 2 tr with ch 1 between each st": five stitches and four spaces."""
    rows = [
        NET,
        "Rnd 2: *2 tr, 1 dtr, 2 tr with ch 1 between each st in next loop; rep from * around, join.",
    ]
    assert "24 tr, 24 ch-1 sps, 6 dtr" == made(rows)[-1]


def test_what_stands_before_a_stitch_in_one_place_may_be_stitches_of_their_own() -> None:
    """ "Sc, ch 1, sc in next st" says nothing of one place."""
    rows = [
        "Rnd 1: 6 sc in adjustable ring.",
        "Rnd 2: *Sc, ch 1, sc in next st; rep from * around.",
    ]
    assert "6 sc, 3 ch-1 sps" == made(rows)[-1]


def test_groups_that_a_round_does_not_come_to_are_left_over() -> None:
    """Where chains stand between the stitches, what is left is counted in groups; a single one may be passed."""
    shells = "Rnd 2: Sl st in next sp, ch 1, *(2 dc, ch 2, 2 dc) in next ch-2 sp; rep from * around, join."
    row = "Rnd 3: *2 sc in next ch-2 sp, ch 3, sc in last dc of same shell; rep from * {} times more, join."
    assert "" == faults([NET, shells, row.format(5)])[-1]
    assert "stitches-left-over" in faults([NET, shells, row.format(2)])[-1]


SQUARE = """Moth Square

US terms.

Cluster = 3 dc in the same space
Corner = (3 dc, ch 1, 3 dc) in the same space

Rnd 1: Ch 5, sl st in first ch to form a ring. Ch 3 (counts as dc throughout), 2 dc in ring, ch 1, (3 dc in \
ring, ch 1) 3 times, sl st in top of ch-3. (12 dc, 4 ch-1 sps)
Rnd 2: Sl st in next 2 dc and in ch-1 sp, ch 3, (2 dc, ch 1, 3 dc) in same sp, (Corner in next ch-1 sp) 3 \
times, sl st in top of ch-3. (24 dc, 4 ch-1 sps)
Rnd 3: Sl st in next 2 dc and in ch-1 sp, ch 3, (2 dc, ch 1, 3 dc) in same sp, *Cluster in sp between next \
two clusters, Corner in next ch-1 sp; repeat from * 2 more times, Cluster in sp between next two clusters, sl \
st in top of ch-3. (36 dc, 4 ch-1 sps)
Rnd 4: Sl st in next 2 dc and in ch-1 sp, ch 3, (2 dc, ch 1, 3 dc) in same sp, *Cluster in each sp between \
clusters to next corner, Corner in next ch-1 sp; repeat from * 2 more times, Cluster in each sp between \
clusters to end, sl st in top of ch-3. ({} dc, 4 ch-1 sps)
"""


@pytest.mark.parametrize(("stitches", "errors"), [(48, []), (45, ["count-mismatch"]), (60, ["count-mismatch"])])
def test_the_halves_of_a_corner_are_clusters_too_where_a_cluster_is_plain_stitches(
    stitches: int, errors: list[str]
) -> None:
    """The author's cluster is three open stitches in one place, as stand on either side of a corner."""
    checked = check_source(Source("square.txt", SQUARE.format(stitches)), "text", ReadOptions())
    assert errors == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]


def test_a_group_written_out_is_the_one_that_the_pattern_names() -> None:
    """A shell and a group of three side by side: only the shell is meant by its name, and only it is counted."""
    ring = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, 12 sc in ring, join."
    shells = "Rnd 2: *2 tr, ch 1, 2 tr (shell) in next sc, skip next sc, 3 dc in next sc; rep from * around, join."
    into = "Rnd 3: *Sc in next shell, ch 4; rep from * around, join."
    assert ["", "", ""] == faults([ring, shells, into])
    assert "4 sc, 4 ch-4 sps" == made([ring, shells, into])[-1]
    assert "8 sc, 8 ch-4 sps" == made([ring, shells.replace(" (shell)", ""), into.replace("shell", "group")])[-1]


def test_clusters_of_a_group_without_a_name_are_met_one_after_the_other() -> None:
    """Three clusters in each space: a stitch goes into each of them."""
    ring = "Rnd 1: Ch 6, join with sl st to form a ring, ch 1, (sc in ring, ch 5) 6 times, join."
    three = "3-dc cluster, ch 2, 3-dc cluster, ch 2, 3-dc cluster"
    fans = f"Rnd 2: Sl st in next loop, *({three}) in loop, ch 1; rep from * around, join."
    into = "Rnd 3: *(Sc in next cluster, ch 3) twice, sc in next cluster, ch 7; rep from * around, join."
    assert "18 sc, 12 ch-3 sps, 6 ch-7 sps" == made([ring, fans, into])[-1]
