"""Rounds closed by a stitch, beginning chains that are part of a cluster, repeats that end otherwise than they began.

Common practice of the trade, no source.
"""

from __future__ import annotations

from convert.document.records import Special
from convert.document.steps import Decrease, Place, Which
from tests.fabric.working import faults, made

NET = [
    "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 8 sc in ring, join.",
    "Rnd 2: Sc in first sc, *ch 4, sc in next sc; rep from * around, ending with ch 2, hdc in first sc.",
]


def test_the_loop_that_a_stitch_closed_is_met_last() -> None:
    """The work stands in its middle: the loops in between are worked, and the round is closed on the stitch again."""
    rows = [*NET, "Rnd 3: *Ch 5, sc in next loop; rep from * around, ending with ch 2, dc in hdc."]
    assert ["8 sc", "8 sc, 8 ch-4 sps", "8 ch-5 sps, 7 sc"] == made(rows)
    assert ["", "", ""] == faults(rows)


def test_a_beginning_chain_takes_the_loop_in_whose_middle_it_stands() -> None:
    """ch 9 is a tr and five chains, so that each of the eight loops has one tr."""
    rows = [*NET, "Rnd 3: Ch 9, *tr in next loop, ch 5; rep from * around, ending with ch 2, dc in 4th ch of ch-9."]
    assert "8 tr, 8 ch-5 sps" == made(rows)[-1]


def test_a_stitch_where_the_round_began_closes_it() -> None:
    """ "In same sp as beginning": with the chain before it, it is the last of twice as many loops as there are below,
    and as many as the next round has.
    """
    begun = "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, *sc in ring, ch 5; rep from * 6 times, join."
    double = "Rnd 2: *Ch 5, sc in next loop, ch 5, sc in next sc; rep from * around, ending with ch 2, {}."
    again = "Rnd 3: *Ch 6, sc in next loop; rep from * around, ending with ch 3, dc in dc."
    rows = [begun, double.format("dc in same sp as beginning"), again]
    assert ["7 sc, 7 ch-5 sps", "14 ch-5 sps, 13 sc", "14 ch-6 sps, 13 sc"] == made(rows)
    assert ["", "", ""] == faults(rows)
    assert "13 ch-5 sps, 13 sc, 1 ch-2 sp, 1 dc" == made([begun, double.format("dc in same sp")])[-1]


def test_the_loop_formed_by_a_stitch_can_be_named() -> None:
    """ "Sp formed by hdc" is where the work stands; with or without a chain before it, it is worked once."""
    rows = [*NET, "Rnd 3: Ch 1, sc in sp formed by hdc, *ch 5, sc in next loop; rep from * around, ch 5, join."]
    assert "8 sc, 8 ch-5 sps" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_a_loop_that_a_stitch_closed_may_come_last_of_all() -> None:
    """ "Skip next loop, sc in next loop": of eight loops four are worked, the last of them where the round began."""
    rows = [*NET, "Rnd 3: *Ch 7, skip next loop, sc in next loop; rep from * around. Join."]
    assert "4 ch-7 sps, 4 sc" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_a_closing_stitch_of_a_kind_that_the_round_has_elsewhere() -> None:
    """ "Dc in tr" closes on the tr that closed the last round, though the groups are of tr as well."""
    rows = [
        *NET,
        (
            "Rnd 3: Ch 6, tr in same loop, *ch 4, (tr, ch 2, tr) in next loop; rep from * around,"
            " ending with ch 1, tr in 4th ch of ch-6."
        ),
        "Rnd 4: *Ch 5, sc in next loop; rep from * around, ending with ch 2, dc in tr.",
    ]
    assert ["16 tr, 8 ch-2 sps, 7 ch-4 sps, 1 ch-5 sp", "16 ch-5 sps, 15 sc"] == made(rows)[2:]


def test_an_ending_may_stand_for_half_of_the_repeat() -> None:
    """Two loops a repeat: the last one works the ch-2 loop, and the ending takes the other."""
    rows = [
        *NET,
        (
            "Rnd 3: Ch 6, tr in same loop, *ch 4, (tr, ch 2, tr) in next loop; rep from * around,"
            " ending with ch 1, dc in 4th ch of ch-6."
        ),
        "Rnd 4: *Ch 4, sc in next ch-2 loop, ch 4, sc in next loop; rep from * around, ending with ch 1, dc in dc.",
    ]
    assert "16 ch-4 sps, 15 sc" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_a_slip_stitch_at_the_end_is_a_join_and_lengthens_no_loop() -> None:
    """The last loop has its three chains."""
    rows = [NET[0], "Rnd 2: Ch 6, *dc in next sc, ch 3; rep from * around. Sl st in 3rd ch of ch-6."]
    assert "8 dc, 8 ch-3 sps" == made(rows)[-1]


RING = "Rnd 1: Ch 5, join with sl st to form a ring, ch 3 and work 15 dc in ring, join in 3rd st of ch."


def test_a_beginning_chain_is_a_leg_of_a_cluster_in_its_own_place() -> None:
    """ch 3 and dc2tog in the same stitch are one cluster, so that the next round finds as many as were made."""
    rows = [
        RING,
        "Rnd 2: Ch 3, dc2tog in same st, *ch 3, skip next dc, cluster in next dc; rep from * around, ch 3, join.",
        "Rnd 3: Ch 3, cluster in same st, *ch 5, cluster in next cluster; rep from * around, ch 5, join.",
    ]
    explained = Special("cluster", "cluster", "cl", steps=(Decrease("dc", 3, (Place(which=Which.SAME),)),))
    assert ["8 dc3tog, 8 ch-3 sps", "8 dc3tog, 8 ch-5 sps"] == made(rows, specials=(explained,))[1:]


def test_a_beginning_chain_is_a_leg_where_the_other_clusters_have_one_more() -> None:
    """ch 3 and dc3tog over the next three stitches take four, as every dc4tog does."""
    rows = [RING, "Rnd 2: Ch 3, dc3tog over next 3 dc, *ch 6, dc4tog over next 4 dc; rep from * around, ch 6, join."]
    assert "4 dc4tog, 4 ch-6 sps" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_a_beginning_chain_before_a_decrease_is_a_stitch_all_the_same() -> None:
    """Nothing says that ch 3 belongs to a dc2tog over the next two stitches, where no other has three legs."""
    rows = [
        "Row 1: Ch 12, dc in 4th ch from hook and in each ch across, turn.",
        "Row 2: Ch 3, dc2tog over next 2 dc, dc in next 5 dc, dc2tog over last 2 sts, turn.",
    ]
    assert "6 dc, 2 dc2tog" == made(rows)[-1]


def test_the_chain_behind_a_repeat_stands_for_that_of_its_last_working() -> None:
    """ "Ch 3, skip 1, cluster ..., rep around, ch 3, join": seven repeats, and eight spaces of three chains."""
    rows = [
        RING,
        "Rnd 2: Ch 3 (counts as dc), *ch 3, skip next dc, dc in next dc; rep from * around, ch 3, join in top of ch 3.",
    ]
    assert "8 dc, 8 ch-3 sps" == made(rows)[-1]


def test_ending_to_correspond_does_not_double_the_chain_behind_it() -> None:
    """The last repeat is cut short before its own chain."""
    rows = [
        RING,
        (
            "Rnd 2: Ch 3, dc in same st, *dc in next 3 dc, ch 2, 2 dc in next dc; rep from * around"
            " ending to correspond, ch 2, join."
        ),
    ]
    assert "20 dc, 4 ch-2 sps" == made(rows)[-1]


def test_yarn_joined_in_the_same_place_begins_where_the_round_was_joined() -> None:
    """ "Attach B in same st": the new round meets the same first stitch."""
    rows = [
        RING + " Fasten off.",
        "Rnd 2: Attach B in same st, ch 1, sc in same st, 2 sc in next st, sc in next 14 sts, join.",
    ]
    assert ["16 dc", "17 sc"] == made(rows)


def test_a_round_is_closed_on_the_first_cluster_that_it_made() -> None:
    """The ring has no cluster: the first one of this round is meant, and the chains before the stitch form a loop."""
    rows = [
        "Rnd 1: Ch 8, join to form ring, ch 3, dc2tog in ring, (ch 5, dc3tog in ring) x 5, ch 2, dc in first cluster.",
        "Rnd 2: *Ch 6, sc in next loop; rep from * around, ending with ch 3, dc in dc.",
    ]
    assert ["", ""] == faults(rows)
    assert "6 ch-6 sps, 5 sc" == made(rows)[-1]


def test_the_last_chain_passes_what_the_others_pass() -> None:
    """Said or not; two stitches left under a chain that passes one are left over, and so is one without a chain."""
    rows = ["Ch 6, join with sl st to form a ring.", "Rnd 1: Ch 1, {} sc in ring, join."]
    body = "Rnd 2: Ch 1, sc in same st, *ch 4, skip next st, sc in next st; rep from * 3 more times{}, join."
    assert "5 sc, 5 ch-4 sps" == made([rows[0], rows[1].format(10), body.format(", ch 4")])[-1]
    for many, end in ((11, ", ch 4"), (10, ""), (10, ", ch 3")):
        assert "stitches-left-over" == faults([rows[0], rows[1].format(many), body.format(end)])[-1]
