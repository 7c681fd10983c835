"""Meshes of filet made beside the end of a row, and slip stitches that climb them. Common practice, no source."""

from __future__ import annotations

import pytest

from tests.fabric.working import faults, made, whys

NET = "Row 1: Ch 20, dc in 8th ch from hook, make 4 more sps. Ch 5, turn."
BESIDE = "Ch 5, turn. Skip 2 ch, dc in following ch. "


@pytest.mark.parametrize("meshes", [2, 3, 5])
def test_the_row_is_longer_by_the_meshes_beside_it(meshes: int) -> None:
    """One begins in the place of the last stitch, each further one behind a turn."""
    wider = f"Row 2: Make 5 sps, ch 5, dc in same dc. {BESIDE * (meshes - 1)}Turn."
    rows = [
        NET,
        wider,
        "Row 3: Sl st in next 3 ch, ch 5, sp over each sp across. Ch 5, turn.",
        "Row 4: Sp over each sp.",
    ]
    net = f"{6 + meshes} dc, {5 + meshes} ch-2 sps"
    assert [net, f"3 sl st, {net}", net] == made(rows)[1:]
    assert [""] * 4 == faults(rows)


@pytest.mark.parametrize(
    "beside",
    [
        "Ch 5, turn. Skip 3 ch, dc in following ch.",
        "Ch 6, turn. Skip 2 ch, dc in following ch.",
        "Ch 5, turn. Dc in next ch.",
    ],
)
def test_chains_that_are_no_mesh_are_unknown(beside: str) -> None:
    """What is skipped and what stands for the stitch are all the chains."""
    rows = [NET, f"Row 2: Make 5 sps, ch 5, dc in same dc. {beside} Turn."]
    assert ("?", "") == (made(rows)[-1], faults(rows)[-1])
    assert "the work is turned in the middle of the row" == whys(rows)[-1]


def test_a_stitch_is_not_climbed_chain_by_chain() -> None:
    """Where no chain stands for the last stitch, the next chains are those of its space, and they are two."""
    rows = [NET, "Row 2: Make 5 sps. Turn.", "Row 3: Sl st in next 3 ch, ch 5, sp over next 4 sps. Turn."]
    assert "out-of-stitches" == faults(rows)[-1]


def test_spaces_more_behind_the_last_one() -> None:
    """Each is chains and a stitch like those of the row; the slip stitches over one come to its other side."""
    rows = [
        NET,
        "Row 2: Sp over each sp, inc 2 sps, turn.",
        "Row 3: Sl st in each ch across next sp and in following dc, ch 5, sp over each sp. Turn.",
        "Row 4: Sl st across next 2 sps, ch 5, sp over next 3 sps. Turn.",
    ]
    assert ["8 dc, 7 ch-2 sps", "2 sl st, 7 dc, 6 ch-2 sps", "2 sl st, 4 dc, 3 ch-2 sps"] == made(rows)[1:]
    assert [""] * 4 == faults(rows)


def test_spaces_more_in_front_of_all_others_are_unknown() -> None:
    """They go on behind a stitch, and none is made yet."""
    rows = [NET, "Row 2: Inc 2 sps, sp over each sp, turn."]
    assert ("?", "work told elsewhere") == (made(rows)[-1], whys(rows)[-1])
