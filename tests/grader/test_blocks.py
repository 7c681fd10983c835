"""Blocks of shaping: their rows are proved like any others, and come out as the trade would write them."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.grader.grading import grade
from convert.grader.schedule import NoSchedule, cap_schedule, neck_schedule, positions, sections, shares
from convert.grader.written import written_out
from convert.instructions.writing.rows import write_row
from convert.instructions.writing.wording import wording_for
from convert.limits import LIMITS
from convert.pipeline import Checked, check_source, read_source
from convert.source import Source

FLAT = """\
format: "1"
title: Piece
terms: us
SIZES
parts:
  - name: Piece
    worked: rows
    rows:
      - "Row 1: Ch {wide + 1}, sc in 2nd ch from hook and in each ch across, turn. — {wide} sc"
      - block: {BLOCK}
      - "Next row: Ch 1, sc in each st across. — END sc"
"""
ROUND = """\
format: "1"
title: Piece
terms: us
SIZES
parts:
  - name: Piece
    worked: rounds
    rows:
      - >-
          Rnd 1: Ch {wide}, join with sl st in first ch to form a ring, ch 1, sc in each ch around, join with sl st in
          first sc. — {wide} sc
      - block: {BLOCK}
      - "Next rnd: Ch 1, sc in each st around, join with sl st in first sc. — END sc"
"""
CH2 = "begin: Ch 2 (counts as sc), close: join with sl st in top of beg ch-2"
CH1, JOIN = "begin: Ch 1 (does not count as st)", "close: join with sl st in first st"

TOG = "sc2tog over next 2 sts"
RAGLAN_AND_CAP = {
    "raglan": [
        "Rep last 2 rows 13 (12) times more. — 14 (22) sts",
        "Sizes s1 only: Rep last row 3 times more. — 14 sts",
    ],
    "sleeve-cap": [
        "Rep last row 2 (3) times more. — 36 (40) sts",
        "Rep last 3 rows 4 (3) times more. — 26 (32) sts",
        "Rep last 2 rows 3 (4) times more. — 18 (22) sts",
        "Rep last row 2 (3) times more. — 12 (14) sts",
    ],
}


def _sizes(**numbers: tuple[int, ...]) -> str:
    count = len(next(iter(numbers.values())))
    rows = [", ".join(f"{name}: {values[at]}" for name, values in numbers.items()) for at in range(count)]
    return "sizes:\n" + "\n".join(f"  - {{id: s{at}, numbers: {{{row}}}}}" for at, row in enumerate(rows))


def _checked(text: str, block: str, sizes: str, end: str = "{end}") -> Checked:
    """The number `end` of every size is what the row after the block states, so the proof would show any other."""
    text = text.replace("SIZES", sizes).replace("BLOCK", block).replace("END", end)
    return check_source(Source("piece", text), "yaml", ReadOptions())


def _lines(found: Checked) -> list[str]:
    """The rows that the block was written out as."""
    assert found.written is not None
    wording = wording_for(found.written, TermSystem.US)
    return [write_row(row, wording) for row in found.written.parts[0].rows[1:-1]]


def _short(found: Checked) -> list[str]:
    """The same without what every row begins with."""
    return [line.replace(f"{CH1[7:]}, ", "").removeprefix("Next row: ") for line in _lines(found)]


def _proved(found: Checked) -> list[int]:
    """How many rows each size has, once every one of them was proved."""
    assert () == found.findings
    assert found.proof is not None
    assert all(size.agrees is not False for row in found.proof.rows for size in row.sizes)
    assert found.measured is not None
    return [size.parts[0].rows for size in found.measured.sizes]


def test_increases_spread_over_a_row_leave_half_an_interval_at_either_end() -> None:
    """48 stitches and 12 more: sections of 4, the increase in the middle of each; and two more sizes beside it."""
    sizes = _sizes(wide=(48, 50, 40), end=(60, 57, 40))
    found = _checked(FLAT, f"kind: spread, stitch: sc, start: '{{wide}}', end: '{{end}}', {CH1}", sizes)
    assert [3, 3, 3] == _proved(found)
    ch, sc2 = "Ch 1 (does not count as st)", "2 sc in next st"
    assert [
        (
            f"Next row (sizes s0 only): {ch}, sc in next st, {sc2}, [sc in next 3 sts, {sc2}] 11 times, "
            "sc in next 2 sts, turn. — 60 sts"
        ),
        (
            f"Next row (sizes s1 only): {ch}, sc in next 3 sts, {sc2}, sc in next 7 sts, {sc2}, "
            f"[sc in next 6 sts, {sc2}] 5 times, sc in next 3 sts, turn. — 57 sts"
        ),
        f"Next row (sizes s2 only): {ch}, sc in each st across, turn. — 40 sts",
    ] == _lines(found)


def test_changes_spread_over_a_round_end_their_sections() -> None:
    """52 stitches and 7 more: 3 sections of 8 and 4 of 7; the beginning chain may stand for the first stitch."""
    block = f"kind: spread, stitch: sc, start: '{{wide}}', end: '{{end}}', rounds: true, {CH2}"
    found = _checked(ROUND, block, _sizes(wide=(52,), end=(59,)))
    assert [3] == _proved(found)
    assert [
        (
            "Next rnd: Ch 2 (counts as sc), sc in next 6 sts, 2 sc in next st, sc in next 7 sts, 2 sc in next st, "
            "[sc in next 6 sts, 2 sc in next st] 4 times, sc in next 7 sts, 2 sc in next st, "
            "join with sl st in top of beg ch-2. — 59 sts"
        )
    ] == _lines(found)
    doubled = _checked(ROUND, block, _sizes(wide=(30, 40), end=(60, 80)))
    assert [3, 3] == _proved(doubled)
    assert ["sc in same st, [2 sc in next st] 29 (39) times"] == [
        line.partition("as sc), ")[2].partition(", join")[0] for line in _lines(doubled)
    ]


def test_decreases_spread_evenly() -> None:
    """Every stitch of a decrease takes two places; sizes that differ in numbers alone share one line."""
    sizes = _sizes(wide=(60, 72, 84), end=(48, 60, 72))
    found = _checked(ROUND, f"kind: spread, stitch: sc, start: '{{wide}}', end: '{{end}}', rounds: true, {JOIN}", sizes)
    assert [3, 3, 3] == _proved(found)
    assert [
        (
            "Next rnd: [Sc in next 3 (4, 5) sts, sc2tog over next 2 sts] 12 times, join with sl st in first st. "
            "— 48 (60, 72) sts"
        )
    ] == _lines(found)


def test_an_armhole() -> None:
    """Half goes off at once where no notch is given; every row is used."""
    sizes = _sizes(wide=(60, 66, 70), end=(44, 46, 50), depth=(20, 24, 24))
    block = f"kind: armhole, stitch: sc, start: '{{wide}}', end: '{{end}}', rows: '{{depth}}', {CH1}"
    found = _checked(FLAT, block, sizes)
    assert [22, 26, 26] == _proved(found)
    assert [
        (
            "Sl st in next 4 (5, 5) sts, ch 1 (does not count as st), sc in each st to last 4 (5, 5) sts, "
            "leave rem sts unworked, turn. — 52 (56, 60) sts"
        ),
        f"sc in first st, {TOG}, sc in each st to last 3 sts, {TOG}, sc in last st, turn. — 50 (54, 58) sts",
        "Rep last row 3 (4, 4) times more. — 44 (46, 50) sts",
        "Next 15 (18, 18) rows: sc in each st across, turn.",
    ] == _short(found)


@pytest.mark.parametrize("notch", [0, 5])
def test_a_neck(notch: int) -> None:
    """Round with a notch; a V without, whose decreases all stand at the end of rows towards the neck."""
    sizes = _sizes(wide=(30, 32), end=(16, 16), depth=(30, 34))
    block = f"kind: neck, stitch: sc, start: '{{wide}}', end: '{{end}}', rows: '{{depth}}', notch: {notch}, {CH1}"
    found = _checked(FLAT, block, sizes)
    assert [32, 36] == _proved(found)
    at_end = f"sc in each st to last 3 sts, {TOG}, sc in last st, turn."
    even = "sc in each st across, turn."
    v_shaped = [even, even, f"{at_end} — 29 (31) sts", "Rep last 2 rows 13 (15) times more. — 16 sts", even]
    rounded = [
        "sc in each st to last 5 sts, leave rem sts unworked, turn. — 25 (27) sts",
        f"sc in first st, {TOG}, sc in each st across, turn. — 24 (26) sts",
        f"{at_end} — 23 (25) sts",
        "Rep last 2 rows once more. — 21 (23) sts",
        even,
        f"{at_end} — 20 (22) sts",
        "Rep last 2 rows 4 (6) times more. — 16 sts",
        f"Next 15 rows: {even}",
    ]
    assert (rounded if notch else v_shaped) == _short(found)


def test_a_raglan_and_a_sleeve_cap() -> None:
    """From 42 (48) stitches over 29 (30) rows: evenly, or quick at first and at last."""
    sizes = _sizes(wide=(50, 56), end=(12, 14), depth=(30, 31))
    for kind in ("raglan", "sleeve-cap"):
        block = f"kind: {kind}, stitch: sc, start: '{{wide}}', end: '{{end}}', rows: '{{depth}}', notch: 4, {CH1}"
        found = _checked(FLAT, block, sizes)
        assert [32, 33] == _proved(found)
        again = [line for line in _short(found) if "Rep" in line]
        assert RAGLAN_AND_CAP[kind] == again


def test_a_yoke_grows_by_eight_a_round() -> None:
    sizes = _sizes(wide=(40, 44), cap=(4, 5), depth=(5, 6))
    block = (
        "kind: yoke, stitch: dc, start: '{wide}', sleeve: '{cap}', rows: '{depth}', begin: Ch 3 (counts as dc), "
        "close: join with sl st in top of beg ch-3"
    )
    text = ROUND.replace('"Next rnd: Ch 1, sc in each st around, join', '"Next rnd: Ch 1, sc in each dc around, join')
    found = _checked(text, block, sizes, "{wide + 8*depth - 4}")
    assert [7, 8] == _proved(found)
    corner, ch, join = "(dc, ch 2, dc) in next", "Ch 3 (counts as dc)", "join with sl st in top of beg ch-3"
    assert [
        (
            f"Next rnd: {ch}, dc in next 13 (14) sts, {corner} st, dc in next 4 (5) sts, {corner} st, "
            f"dc in next 14 (15) sts, {corner} st, dc in next 4 (5) sts, {corner} st, {join}. — 44 (48) sts, 4 ch-2 sps"
        ),
        (
            f"Next rnd: {ch}, [dc in each dc to next ch-2 sp, {corner} ch-2 sp] 4 times, dc in each dc around, {join}. "
            "— 52 (56) sts, 4 ch-2 sps"
        ),
        "Rep last rnd 3 (4) times more. — 76 (88) sts, 4 ch-2 sps",
    ] == _lines(found)


def test_a_crown_grows_and_shrinks() -> None:
    """Sizes share the rounds that they have in common, those nearest to the middle of the crown."""
    sizes = _sizes(wide=(30, 36), end=(12, 12))
    found = _checked(ROUND, f"kind: crown, stitch: sc, start: '{{wide}}', end: '{{end}}', sections: 6, {JOIN}", sizes)
    assert [5, 6] == _proved(found)
    assert [
        f"Next rnd{whose}: [Sc in next {plain}, {TOG}] 6 times, join with sl st in first st. — {made} sts"
        for whose, plain, made in (
            (" (sizes s1 only)", "4 sts", 30),
            ("", "3 sts", 24),
            ("", "2 sts", 18),
            ("", "st", 12),
        )
    ] == _lines(found)
    grown = _checked(
        ROUND, f"kind: crown, stitch: sc, start: '{{wide}}', end: 54, sections: 6, rows: 6, {JOIN}", sizes, "54"
    )
    assert [8, 8] == _proved(grown)
    assert ["36 (42)", "42 (48)", "48 (54)", "54"] == [
        line.partition(" — ")[2].removesuffix(" sts") for line in _lines(grown) if "2 sc" in line
    ]


def test_a_shoulder_goes_off_in_steps() -> None:
    """20 stitches in steps of 7, 7 and 6, the last of which is what is left; 22 in 8, 7 and 7."""
    sizes = _sizes(wide=(20, 22), end=(6, 7))
    found = _checked(FLAT, f"kind: shoulder, stitch: sc, start: '{{wide}}', sections: 3, {CH1}", sizes)
    assert [6, 6] == _proved(found)
    assert [
        "sc in each st to last 7 (8) sts, leave rem sts unworked, turn. — 13 (14) sts",
        "sc in each st across, turn. — 13 (14) sts",
        "sc in each st to last 7 sts, leave rem sts unworked, turn. — 6 (7) sts",
        "sc in each st across, turn. — 6 (7) sts",
    ] == _short(found)


@pytest.mark.parametrize(
    ("block", "said"),
    [
        ("kind: spread, stitch: sc, start: 20, end: 45", "25 changes do not fit into 20 stitches"),
        ("kind: armhole, stitch: sc, start: 20, end: 10, rows: 3", "3 shaping rows do not fit into 3 rows"),
        ("kind: armhole, stitch: sc, start: 20, end: 11, rows: 30", "no multiple of 2"),
        ("kind: raglan, stitch: sc, start: 20, end: 10, rows: 20, notch: 12", "leaves none of 20"),
        ("kind: neck, stitch: sc, start: 20, end: 4, rows: 12", "do not fit"),
        ("kind: yoke, stitch: sc, start: 21, sleeve: 4, rows: 4", "no front and back alike"),
        ("kind: crown, stitch: sc, start: 20, end: 40, sections: 6", "no whole number of 6 sections"),
        ("kind: crown, stitch: sc, start: 12, end: 6, sections: 6, begin: Ch 3 (counts as dc)", "as one of them"),
        ("kind: spread, stitch: sc, start: 20, end: 30, begin: Ch 3", "not told whether its beginning chain"),
        ("kind: shoulder, stitch: sc, start: 2, sections: 3", "do not fit into 2 stitches"),
        ("kind: shoulder, stitch: sc, start: 900000, sections: 80000", "more than 5,000 sections"),
        ("kind: crown, stitch: sc, start: 20, end: 900000, sections: 1", "more than 5,000 rows"),
        ("kind: spread, stitch: sc, start: '{wide * 90000}', end: 20", "comes to more than 1,000,000"),
    ],
)  # fmt: skip
def test_a_block_that_cannot_be_placed_says_why(block: str, said: str) -> None:
    """One finding at the block; what comes after is not known, and not accused."""
    findings = _checked(FLAT, block, _sizes(wide=(20, 20)), "20").findings
    assert ["shaping-impossible"] == [f.code for f in findings]
    assert said in findings[0].message


def test_many_large_blocks_are_not_written_out_without_end() -> None:
    """Each of them is allowed; together they would be 12,000 rows."""
    block = "{kind: crown, stitch: sc, start: 10, end: 1010, sections: 1}"
    rows = "".join(f"      - block: {block}\n" for _ in range(12))
    text = f"format: '1'\ntitle: T\nterms: us\nparts:\n  - name: P\n    rows:\n{rows}"
    document = read_source(Source("t", text), "yaml", ReadOptions()).document
    assert document is not None
    written, findings = written_out(document, grade(document))
    assert len(written.parts[0].rows) <= LIMITS.rows
    assert all("come to more than 5,000 rows" in finding.message for finding in findings)
    assert findings


def test_a_block_without_a_number_that_it_needs_is_pointed_at() -> None:
    found = _checked(FLAT, "kind: armhole, stitch: sc, start: 20, rows: 10", _sizes(wide=(20,)), "20")
    assert ("missing-key", "end") in [(f.code, f.expected) for f in found.findings]


@settings(deadline=None)
@given(st.integers(1, 200), st.integers(1, 60))
def test_sections_are_those_of_the_even_spread(stitches: int, changes: int) -> None:
    """Shortest to write, and between two changes of a row never more than one stitch more than between others."""
    if stitches < changes:
        return
    found = sections(stitches, changes)
    assert stitches == sum(found)
    assert changes == len(found)
    assert max(found) - min(found) <= 1
    assert sum(a != b for a, b in itertools.pairwise(found)) <= 2
    ends = [sum(found[:at]) + size // 2 for at, size in enumerate(found)]
    between = [b - a for a, b in itertools.pairwise(ends)]
    assert max(between, default=0) - min(between, default=0) <= 1
    assert len(positions(stitches, changes, flat=True)) == len(ends)


@given(st.integers(0, 80), st.integers(0, 40))
def test_caps_and_necks_make_every_change_in_the_rows_they_have(rows: int, changes: int) -> None:
    try:
        plan = cap_schedule(rows, changes)
        assert (rows, changes) == (plan.rows, sum(s.times for s in plan.stretches))
    except NoSchedule:
        assert rows < changes
    try:
        quick, slow = neck_schedule(rows, changes)
        assert changes == quick + slow
        assert quick + 2 * slow <= rows
        assert quick % 2 == 0
    except NoSchedule:
        assert rows < changes // 2 * 2 + changes % 2 * 2


@given(st.integers(1, 60), st.integers(1, 9))
def test_steps_of_a_shoulder_are_alike(stitches: int, steps: int) -> None:
    if stitches >= steps:
        found = shares(stitches, steps)
        assert (stitches, steps) == (sum(found), len(found))
        assert found[-1] - found[0] <= 1
