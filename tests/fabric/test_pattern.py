"""Rows worked even in a pattern, and the loops of groups, inside them, beside them, and at the end of a row.

Common practice of the trade, no source.
"""

from __future__ import annotations

from convert.fabric.places.place import describe_strip
from tests.fabric.working import faults, made, work

ROW_1 = (
    "Row 1: Ch 26, 4 dc in 6th ch from hook, skip 4 ch, hdc in next ch, *ch 3, 4 dc in same st, skip 4 ch, hdc in next "
    "ch; rep from * 2 times more, ch 5, turn."
)
ROW_2 = (
    "Row 2: 4 dc in same st, *hdc in ch-3 loop of next shell, ch 3, 4 dc in same loop; rep from * 2 times more, "
    "hdc in ch-3 loop of last shell, ch 5, turn. Rep Row 2 until piece measures 15 cm, ch 5, turn."
)
SHELLS = [ROW_1, ROW_2]
FEWER = (
    "Next row: 4 dc in same st, *insert hook in ch-3 loop of next shell, draw up a loop; rep from * once more, yo and "
    "draw through all 3 loops, ch 3, 4 dc in same st, hdc in ch-3 loop of next shell, ch 3, 4 dc in same loop, "
    "hdc in ch-3 loop of last shell, ch 5, turn."
)


def test_the_loop_of_a_group_stands_beside_it_and_at_the_end_is_the_beginning_chain() -> None:
    """Four shells with a loop each, the last of them the ch 5 that began the row below, make four shells again."""
    last = "17 dc, 1 ch-2 sp, 4 hdc, 3 ch-3 sps"
    assert ["17 dc, 1 ch-1 sp, 4 hdc, 3 ch-3 sps", last] == made(SHELLS)
    assert ["", ""] == faults(SHELLS)


def test_rows_worked_even_in_pattern_have_as_many_repeats_as_the_edge_takes() -> None:
    """One shell fewer: the row of the pattern is worked with one repeat fewer."""
    found = work([*SHELLS, f"{FEWER} Work even in pattern for 5 cm, ch 5, turn."])[-1]
    rows = [describe_strip(outcome.made) if outcome.made is not None else "?" for _, outcome in found.each]
    assert ["13 dc, 1 ch-2 sp, 1 sc2tog, 2 ch-3 sps, 2 hdc", "13 dc, 1 ch-2 sp, 3 hdc, 2 ch-3 sps"] == rows


def test_a_pattern_that_does_not_fit_is_unknown_and_not_wrong() -> None:
    """Single crochets have no loops to go on in."""
    rows = [*SHELLS, "Next row: Sc in each st across, ch 5, turn.", "Work even in pattern for 5 cm."]
    assert "?" == made(rows)[-1]
    assert "" == faults(rows)[-1]


def test_groups_that_are_passed_before_the_last_one_leave_the_row_unknown() -> None:
    """Which of them the row means to skip is not told."""
    rows = [
        SHELLS[0],
        "Row 2: 4 dc in same st, hdc in ch-3 loop of next shell, hdc in ch-3 loop of last shell, ch 5, turn.",
    ]
    assert "groups are passed before the last one" == next(w.outcome.why for w in work(rows)[1:] if w.outcome)
    assert "" == faults(rows)[-1]


def test_the_pattern_comes_back_on_loops_of_another_length() -> None:
    """Behind a band of sc two shells are set up, one with a longer loop: the pattern goes into it all the same, and
    from its first row on as many places are left as found.
    """
    band = "Next row: Sc in each st across, ch 5, turn."
    set_up = "Next row: 4 dc in same st, skip 9 sts, hdc in next st, ch 4, 4 dc in same st, skip 9 sts, hdc in last st"
    on = (
        "Next row: 4 dc in same st, hdc in ch-3 loop of next shell, ch 3, 4 dc in same loop, "
        "hdc in ch-3 loop of last shell."
    )
    rows = [*SHELLS, band, f"{set_up}, ch 5, turn. Work even in pattern for 5 cm, ch 5, turn.", on]
    each = [describe_strip(outcome.made) for _, outcome in work(rows)[-2].each if outcome.made is not None]
    even = "9 dc, 1 ch-2 sp, 2 hdc, 1 ch-3 sp"
    assert [even.replace("ch-3", "ch-4"), even] == each
    assert (even, "") == (made(rows)[-1], faults(rows)[-1])
