"""Rows along the sides of a piece worked in rows. Common practice of the trade, no source."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.pipeline import Checked, check_source
from convert.source import Source
from tests.fabric.working import faults, made, work

PANEL = [
    "Row 1: Ch 19, sc in 2nd ch from hook and in each ch across, turn. (18 sc)",
    "Row 2: Ch 1, sc in each sc across, turn.",
    "Rep Row 2 10 times more.",
]
"""18 stitches wide and 12 rows high."""
STRIPED = [
    "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn. (11 sc)",
    "Row 2: Ch 3 (counts as dc), dc in next sc and in each sc across, turn.",
    "Row 3: Ch 1, sc in each dc across, turn.",
    "Row 4: Ch 3 (counts as dc), dc in next sc and in each sc across, turn.",
]
"""Two rows of sc and two of dc."""


def checked_text(text: str) -> Checked:
    """What a check of the text finds."""
    return check_source(Source("panel.txt", text), "text", ReadOptions())


def along(base: list[str], line: str) -> str:
    """What the line makes behind these rows."""
    assert {""} == set(faults([*base, line]))
    return made([*base, line])[-1]


@pytest.mark.parametrize(
    ("base", "line", "makes"),
    [
        (PANEL, "Row 13: Ch 1, sc in each row end across.", "12 sc"),
        (PANEL, "Row 13: Ch 1, working in ends of rows, 2 sc in end of every other row.", "12 sc"),
        (
            PANEL,
            "Row 13: Working down the side, ch 1, *sc in next row end, 2 sc in next row end; rep from * across.",
            "18 sc",
        ),
        (STRIPED, "Row 5: Ch 1, sc in side of each sc row, 2 sc in side of each dc row.", "6 sc"),
        (STRIPED, "Row 5: Ch 1, 2 sc in each dc row end, sc in each sc row end.", "6 sc"),
        (
            PANEL,
            (
                "Rnd 13: Ch 1, 3 sc in first sc, sc in each sc across to last sc, 3 sc in last sc, sc in each row end, "
                "working along foundation ch, 3 sc in first ch, sc in each ch across to last ch, 3 sc in last ch, "
                "sc in each row end, join."
            ),
            "68 sc",
        ),
        (
            PANEL,
            (
                "Rnd 13: Ch 1, sc in each sc across to last sc, 3 sc in last sc, sc in each row end, "
                "3 sc in first ch of foundation, sc in each foundation ch to last ch, 3 sc in last ch, "
                "sc in end of each row, 2 sc in same st as first sc, join."
            ),
            "68 sc",
        ),
        (
            PANEL,
            (
                "Rnd 13: Join yarn in any corner, ch 1, *17 sc evenly along short edge, 3 sc in corner, "
                "13 sc evenly along long edge, 3 sc in corner; rep from * once more, join."
            ),
            "72 sc",
        ),
    ],
)
def test_each_edge_is_counted_by_what_the_piece_has_there(base: list[str], line: str, makes: str) -> None:
    """The rows tell how many ends a side has, and of which stitches; the first one how long the foundation is."""
    assert makes == along(base, line)


@pytest.mark.parametrize(
    "line",
    [
        "Rnd 13: Ch 1, sc in each sc across, 3 sc in corner, sc in each row end, 3 sc in corner, join.",
        "Row 13: Ch 1, sc in next 5 sc, sc in each row end across.",
        "Row 13: Ch 1, sc in each dc row end, turn.",
        "Row 13: Ch 1, working along the wavy rim, sc in each st across, turn.",
    ],
)
def test_what_the_piece_does_not_tell_is_unknown(line: str) -> None:
    """Whether a corner is a stitch of the edge, what becomes of stitches left on one."""
    assert "?" == along(PANEL, line)


def test_sides_that_do_not_run_straight_are_not_told() -> None:
    """A triangle has other corners; where a row leaves stitches, nobody knows how far the edge goes."""
    slope = [f"Row {n}: Ch 1, 2 sc in first sc, sc in each sc across, turn." for n in range(2, 8)]
    line = "Row 8: Ch 1, sc in each row end across."
    assert "?" == made(["Row 1: Ch 3, sc in 2nd ch from hook and in next ch, turn.", *slope, line])[-1]
    assert "?" == made([*PANEL[:2], "Row 3: Ch 1, sc in first 6 sc, turn.", line])[-1]


def test_a_stated_count_tells_how_many_go_evenly() -> None:
    """Four corners of 3 leave 52; whether the edge takes as many is not checked, and no count agrees with itself."""
    rows = [*PANEL, "Rnd 13: Ch 1, sc evenly around, working 3 sc in each corner, join. (64 sc)"]
    assert "64 sc" == made(rows)[-1]
    outcome = work(rows)[-1].outcome
    assert outcome is not None
    assert outcome.shared
    assert outcome.edge.untested
    assert "?" == made([*PANEL, rows[-1].replace("64", "13")])[-1]


def test_the_corners_of_an_edging_are_known_to_the_next_round() -> None:
    """Two more in each of four corners."""
    edging = "Rnd 13: Ch 1, sc evenly around, 3 sc in each corner, join. (64 sc)"
    further = "Rnd 14: Ch 1, sc in each sc around, working 3 sc in each corner, join. (72 sc)"
    assert "72 sc" == made([*PANEL, edging, further])[-1]
    wrong = checked_text(panel(edging, further.replace("72", "70")))
    assert ["count-mismatch"] == [finding.code for finding in wrong.findings if finding.severity == "error"]


def test_a_count_that_agrees_proves_an_edging_that_tells_all() -> None:
    """Another one is not called wrong: nobody knows how its author counts the corners."""
    row = "Row 13: Ch 1, 2 sc in each row end across, turn. (24 sc)"
    assert [] == [f.code for f in checked_text(panel(row)).findings]
    assert ["not-executed"] == [f.code for f in checked_text(panel(row.replace("24", "26"))).findings]


def test_the_second_side_is_there_when_the_first_has_its_edging() -> None:
    """Rows along one side leave the other as it was; a round leaves none."""
    first = ["Row 13: Ch 1, sc in each row end across, turn.", "Row 14: Ch 1, 2 sc in each sc across. Fasten off."]
    second = "Next row: Join yarn on the other side, ch 1, 2 sc in each row end across."
    assert ["24 sc", "24 sc"] == made([*PANEL, *first, second])[-2:]
    around = "Rnd 13: Ch 1, sc evenly around, 3 sc in each corner, join. (64 sc) Fasten off."
    assert "?" == made([*PANEL, around, second])[-1]


def panel(*lines: str) -> str:
    """A text with the panel and what is worked around it."""
    return "\n".join(["Panel", "", "US terms.", "", *PANEL, *lines, ""])


def test_an_edging_under_a_heading_of_its_own_goes_around_the_piece_before() -> None:
    """The yarn is joined anew at a corner, and the first stitches go into the last row."""
    around = "sc in each sc across, sc in each row end, sc in each ch across, sc in each row end, join. (60 sc)"
    text = panel("Fasten off.", "", "Edging", f"Rnd 1: Join yarn in top corner, ch 1, {around}")
    checked = checked_text(text)
    assert [] == [f.code for f in checked.findings]
    assert checked.proof is not None
    assert all(size.proved for row in checked.proof.rows for size in row.sizes)


def test_stitches_told_by_number_along_an_edge_that_nobody_tells() -> None:
    """All that the row makes is said; with one edge "evenly", its count tells the rest."""
    ring = [
        "Rnd 1: Ch 5, join with sl st to form a ring, ch 1, 12 sc in ring, join.",
        "Rnd 2: Go on as you please, join.",
    ]
    assert "44 sc" == made([*ring, "Rnd 3: Join yarn at the seam, ch 1, 44 sc evenly around armhole, join."])[-1]
    neck = "Rnd 3: Join yarn at the seam, ch 1, sc evenly around neck edge, join."
    open_ended = work([*ring, neck])[-1].outcome
    assert open_ended is not None
    assert 24 == open_ended.edge.turns
    assert "50 sc" == made([*ring, f"{neck} (50 sc)"])[-1]


def test_the_corner_where_a_round_began_is_a_corner() -> None:
    """Its last two stitches and its first one: with the other three, the next round has four corners."""
    around = (
        "Rnd 13: Ch 1, sc in each sc across to last sc, 3 sc in last sc, sc in each row end, 3 sc in first ch of "
        "foundation, sc in each foundation ch to last ch, 3 sc in last ch, sc in end of each row, {}join. ({} sc)"
    )
    further = "Rnd 14: Ch 1, sc in each sc around, working 3 sc in each corner, join. (76 sc)"
    whole = [*PANEL, around.format("2 sc in same st as first sc, ", 68), further]
    assert {""} == set(faults(whole))
    assert "76 sc" == made(whole)[-1]
    assert "?" == made([*PANEL, around.format("", 66), further])[-1]


def test_the_corner_where_a_round_began_may_be_parted_otherwise() -> None:
    """Two stitches at the beginning and one at the end are the corner too."""
    sides = (
        "sc in next 16 sc, 3 sc in next sc, sc in next 12 row ends, 3 sc in first ch, sc in next 16 ch, 3 sc in next ch"
    )
    around = f"Rnd 13: Ch 1, 2 sc in same sc, {sides}, sc in next 12 row ends, sc in first sc, join. (68 sc)"
    further = "Rnd 14: Ch 1, sc in each sc around, working 3 sc in each corner, join. (76 sc)"
    assert {""} == set(faults([*PANEL, around, further]))
    assert ["68 sc", "76 sc"] == made([*PANEL, around, further])[-2:]


def test_behind_the_last_corner_the_round_goes_on_to_its_beginning() -> None:
    """The stitch behind each corner is one of the next side; that of the last corner is worked too."""
    rows = [
        "Rnd 1: Ch 4, join with sl st to form a ring, ch 1, 12 sc in ring, join.",
        "Rnd 2: Ch 1, *sc in next 2 sc, (sc, ch 2, sc) in next sc; rep from * around, join. (16 sc, 4 ch-2 sps)",
        "Rnd 3: Ch 1, *sc in each sc to corner, 3 sc in corner sp; rep from * around, join. (28 sc)",
    ]
    assert ["", "", ""] == faults(rows)
    assert "28 sc" == made(rows)[-1]
