"""How the last working of a repeat across ends in the turning chain."""

from __future__ import annotations

import pytest

from convert.document.read import ReadOptions
from convert.findings import Severity
from convert.pipeline import check_source
from convert.source import Source
from tests.fabric.working import faults, made

ROW_1 = "Row 1: Ch 14, sc in 2nd ch from hook and in each ch across, turn. (13 sc)"
HALVES = (
    "Row 2: Ch 3 (counts as dc), 3 dc in first sc, *sk next 2 sc, sc in next sc, sk next 2 sc, 7 dc in next sc; "
    "rep from * across, ending with 4 dc in last sc, turn."
)
SHELLS = "Row 3: Ch 1, sc in first dc, *7 dc in next sc, sc in center dc of next shell; rep from * across, {}."


@pytest.mark.parametrize(
    "ending", ["ending with sc in top of tch", "ending last rep with sc in top of turning ch", "ending with sc in tch"]
)
def test_an_ending_in_the_turning_chain_leaves_no_stitch_that_the_repeat_begins_in(ending: str) -> None:
    """Between the last full shell and the half shell stands an sc: a shell goes into it as into all others."""
    assert "3 sc, 14 dc" == made([ROW_1, HALVES, SHELLS.format(ending)])[-1]


@pytest.mark.parametrize(("stitches", "errors"), [(14, []), (7, ["count-mismatch"]), (21, ["count-mismatch"])])
def test_a_wrong_count_of_such_a_row_is_told(stitches: int, errors: list[str]) -> None:
    row = f"{SHELLS.format('ending with sc in top of tch, turn')} ({stitches} dc, 3 sc)"
    text = f"Hem\n\nUS terms\n\n{ROW_1}\n{HALVES}\n{row}\n"
    checked = check_source(Source("hem.txt", text), "text", ReadOptions())
    assert errors == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]


def test_an_ending_in_the_turning_chain_stands_for_a_whole_working_where_no_stitch_is_left_by_it() -> None:
    row_3 = (
        "Row 3: Ch 3 (counts as dc), sk first hdc, dc in next dc, *2 hdc in next hdc, sc in next dc; rep from * "
        "across, ending with dc in top of tch."
    )
    row_2 = "Row 2: Ch 3 (counts as dc), sk first sc, *dc in next sc, hdc in next sc; rep from * across, turn."
    assert "" == faults([ROW_1, row_2, row_3])[-1]
    assert "3 dc, 10 hdc, 5 sc" == made([ROW_1, row_2, row_3])[-1]


@pytest.mark.parametrize(
    ("count", "errors"),
    [("6 sc, 6 ch-1 sps", []), ("6 sc, 5 ch-1 sps", []), ("12 sts", []), ("6 sc, 7 ch-1 sps", ["count-mismatch"])],
)
def test_a_chain_over_a_skipped_stitch_at_the_end_of_a_row_may_be_its_last_space(count: str, errors: list[str]) -> None:
    """Its maker counts it, or takes it for the turning chain: both are seen; no other number is right."""
    text = (
        "Net\n\nUS terms\n\nRow 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn. (12 sc)\n"
        f"Row 2: Ch 1, *sc in next st, ch 1, sk 1; rep from * across; turn. ({count})\n"
    )
    checked = check_source(Source("net.txt", text), "text", ReadOptions())
    assert errors == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]


def test_a_row_on_such_a_space_is_followed() -> None:
    rows = [
        "Row 1: Ch 13, sc in 2nd ch from hook and in each ch across, turn. (12 sc)",
        "Row 2: Ch 1, *sc in next st, ch 1, sk 1; rep from * across; turn. (6 sc, 6 ch-1 sps)",
    ]
    into_spaces = "Row 3: Ch 1, *sc in next ch-1 sp, ch 1, sk next sc; rep from * across; turn. (6 sc, 6 ch-1 sps)"
    assert "6 sc, 6 ch-1 sps" == made([*rows, into_spaces])[-1]


CLIMB = """Ladder Lace

US terms.

Row 1: Ch 14, dc in 4th ch from hook and in each ch across, turn. (12 dc)
Row 2: Ch 1, (sc, 5 dc, sc) in first dc, skip next dc, sl st in next dc, ch 3, dc in next 9 dc, turn. ({})
"""


@pytest.mark.parametrize(
    ("count", "errors"),
    [
        ("1 petal, 10 dc", []),
        ("15 dc", []),
        ("14 dc", []),
        ("1 petal, 11 dc", ["count-mismatch"]),
        ("16 dc", ["count-mismatch"]),
    ],
)
def test_a_chain_behind_a_slip_stitch_may_stand_for_a_stitch(count: str, errors: list[str]) -> None:
    """Nine behind the chain and five in the petal, which is counted as one or by its stitches; the chain is a tenth."""
    checked = check_source(Source("lace.txt", CLIMB.format(count)), "text", ReadOptions())
    assert errors == [finding.code for finding in checked.findings if finding.severity is Severity.ERROR]
