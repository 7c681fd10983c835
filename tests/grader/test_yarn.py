"""Yarn: what it rests on, colours apart, and how far balls in hand reach."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.document.read import ReadOptions
from convert.grader.yarn_in_hand import Enough, NoAmount, Reached, reached, read_in_hand
from convert.pipeline import Checked, check_source
from convert.source import Source
from convert.trade.yarn_use import loops, margins, use_of

DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
SQUARE = """\
format: "1"
title: Square
terms: us
gauge: {stitches: 16, rows: 10, over: 10 cm, stitch: dc}
yarn:
  - {key: A, name: Wool, ball: {grams: 50, metres: 100}WEIGHED}
  - {key: B, name: Wool, ball: {grams: 50, metres: 100}}
parts:
  - name: Square
    worked: rows
    rows:
      - "Row 1: With A, ch 22, dc in 4th ch from hook (3 skipped ch count as dc), dc in each ch across, turn. (20 dc)"
      - "Row 2: Change to B, ch 3 (counts as dc), dc in next st and in each st across, turn. (20 dc)"
      - "Row 3: Ch 3 (counts as dc), dc in next st and in each st across. (20 dc)"
"""


def _checked(weighed: str = "") -> Checked:
    text = SQUARE.replace("WEIGHED", weighed)
    return check_source(Source("square", text), "yaml", ReadOptions())


def _grams(found: Checked) -> list[float]:
    assert found.measured is not None
    return [need.grams or 0 for need in found.measured.sizes[0].yarn]


def test_colours_are_counted_row_by_row() -> None:
    """A: 19 dc and the chain of 22. B: twice 19 dc and the ch 3. A dc takes 1.92, a chain 0.47."""
    a, b = _grams(_checked())
    assert pytest.approx(2 * (19 * 1.92 + 3 * 0.47) / (19 * 1.92 + 22 * 0.47), abs=0.01) == b / a


def test_a_finished_sample_gives_its_own_weight_back() -> None:
    """The calibration by the whole piece is exact for that piece."""
    text = SQUARE.replace("gauge:", "sizes: [{id: one, name: One}]\ngauge:", 1)
    text = text.replace("WEIGHED", ", weighed: {grams: 7.5, size: one}")
    assert pytest.approx(7.5) == _grams(check_source(Source("s", text), "yaml", ReadOptions()))[0]


def test_a_swatch_of_half_the_weight_halves_the_estimate() -> None:
    """And yarn of the same name in another colour goes by the same swatch."""
    heavy = _grams(_checked(", weighed: {grams: 8, stitches: 20, rows: 10, stitch: dc}"))
    light = _grams(_checked(", weighed: {grams: 4, stitches: 20, rows: 10, stitch: dc}"))
    assert pytest.approx([2 * grams for grams in light]) == heavy


def test_every_estimate_says_what_it_rests_on() -> None:
    for weighed, rests_on in (
        ("", "gauge"),
        (", weighed: {grams: 4, stitches: 20, rows: 10}", "swatch"),
        (", weighed: {grams: 4, width: 10 cm, height: 10 cm}", "square"),
    ):
        found = _checked(weighed).measured
        assert found is not None
        assert rests_on == found.sizes[0].yarn[0].rests_on


# ---------------------------------------------------------------- colours inside rows

ROWS = """\
format: "1"
title: Strip
terms: us
gauge: {stitches: 16, rows: 18, over: 10 cm, stitch: sc}
yarn: [{key: A, name: Wool}, {key: B, name: Wool}, {key: C, name: Wool}]
parts:
  - name: Strip
    rows:
      - "Row 1: With A, ch 13, sc in 2nd ch from hook and in each ch across, turn. (12 sc)"
"""
CHAIN = 0.47


def _units(*rows: str) -> list[float]:
    """The yarn of each colour beside one sc, without row 1."""
    text = ROWS + "".join(f'      - "{row}"\n' for row in rows)
    found = check_source(Source("strip", text), "yaml", ReadOptions())
    assert () == found.findings
    assert found.measured is not None
    a, *others = (need.units for need in found.measured.sizes[0].yarn)
    return [round(a - 12 - 13 * CHAIN, 2), *(round(units, 2) for units in others)]


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        # a change on the way: five with the beginning chain in A, seven in B
        (["Row 2: Ch 1, sc in next 5 sts, change to B, sc in next 7 sts. (12 sc)"], [5 + CHAIN, 7, 0]),
        # the yarn changed at the end of a row belongs to the next
        (
            [
                "Row 2: Ch 1, sc in each st across, change to B, turn. (12 sc)",
                "Row 3: Ch 1, sc in each st across. (12 sc)",
            ],
            [12 + CHAIN, 12 + CHAIN, 0],
        ),
        # a repeat that ends in the other yarn than it began with
        (
            ["Row 2: Ch 1, *sc in next 2 sts, change to B, sc in next st, change to A; rep from * across. (12 sc)"],
            [8 + CHAIN, 4, 0],
        ),
        (
            ["Row 2: Ch 1, *with B, sc in next st, with C, sc in next 3 sts; rep from * across. (12 sc)"],
            [CHAIN, 3, 9],
        ),
        # inside a group, and the yarn stays changed
        (
            [
                "Row 2: Ch 1, (sc, change to B, sc) in first st, sc in each st across, turn. (13 sc)",
                "Row 3: Ch 1, sc in each st across. (13 sc)",
            ],
            [1 + CHAIN, 12 + 13 + CHAIN, 0],
        ),
        # chains between stitches are of the yarn that makes them
        (
            ["Row 2: Change to C, ch 1, sc in first st, ch 4, sk next 10 sts, sc in last st. (2 sc)"],
            [0, 0, 2 + 5 * CHAIN],
        ),
        # rows worked again bring their changes along
        (
            [
                "Row 2: Ch 1, with A, sc in next 6 sts, with B, sc in next 6 sts, turn. (12 sc)",
                "Rep Row 2 3 times more.",
            ],
            [4 * 6 + CHAIN, 4 * 6 + 3 * CHAIN, 0],
        ),
    ],
)
def test_colours_are_counted_stitch_by_stitch(rows: list[str], expected: list[float]) -> None:
    assert [round(units, 2) for units in expected] == _units(*rows)


def test_a_turning_chain_made_at_the_end_of_a_row_is_counted_once() -> None:
    """ "Ch 3, turn" ends one row and counts as the first dc of the next."""
    rows = ("Row 2: Ch 3 (counts as dc), dc in next 11 sts, ch 3, turn. (12 dc)", "Row 3: Dc in next 11 sts. (12 dc)")
    assert [round(2 * (11 * use_of("dc") + 3 * CHAIN), 2), 0, 0] == _units(*rows)


def test_a_row_below_does_not_ask_for_colours() -> None:
    """A repeat over stitches of two colours is held as one repeat, as over one colour."""
    rows = ["Row 2: Ch 1, *with A, sc in next st, with B, sc in next st; rep from * across, turn. (12 sc)"]
    text = ROWS + "".join(f'      - "{row}"\n' for row in [*rows, "Row 3: Ch 1, sc in each st across. (12 sc)"])
    found = check_source(Source("strip", text), "yaml", ReadOptions())
    assert () == found.findings
    assert found.proof is not None
    assert found.proof.understood.rows == found.proof.understood.proved_rows


def _needs(yarns: str, *rows: str) -> list[tuple[float, bool]]:
    """Yarn of each colour beside one sc, and whether a length is told for it."""
    text = ROWS.replace("yarn: [{key: A, name: Wool}, {key: B, name: Wool}, {key: C, name: Wool}]", f"yarn: {yarns}")
    text = text.replace("With A, ch 13", "Ch 13") + "".join(f'      - "{row}"\n' for row in rows)
    found = check_source(Source("strip", text), "yaml", ReadOptions())
    assert () == found.findings
    assert found.measured is not None
    return [(round(need.units, 2), need.metres is not None) for need in found.measured.sizes[0].yarn]


def test_yarns_may_be_called_by_their_colour() -> None:
    """Without keys, where the colours differ."""
    yarns = "[{name: Wool, colour: rust}, {name: Wool, colour: Navy}]"
    rows = ("Row 2: Change to Navy, ch 1, sc in each st across. (12 sc)",)
    assert [(12 + round(13 * CHAIN, 2), True), (12 + CHAIN, True)] == _needs(yarns, *rows)


def test_what_each_yarn_takes_is_not_told_where_the_rows_do_not_say_which_it_is() -> None:
    """Two yarns and no change of yarn; two yarns and a colour that neither has."""
    row = "Row 2: Ch 1, sc in each st across. (12 sc)"
    assert [False, False] == [told for _, told in _needs("[{name: Wool}, {name: Silk}]", row)]
    row = "Row 2: Change to Navy, ch 1, sc in each st across. (12 sc)"
    assert [False, False] == [told for _, told in _needs("[{name: Wool}, {name: Silk}]", row)]


def test_a_yarn_that_no_row_is_worked_with_is_not_said_to_take_nothing() -> None:
    """It may be for sewing up or for eyes."""
    row = "Row 2: With A, ch 1, sc in each st across. (12 sc)"
    assert [True, False] == [told for _, told in _needs("[{key: A, name: Wool}, {key: B, name: Silk}]", row)]


# ---------------------------------------------------------------- what the estimate rests on


def test_the_gauge_alone_goes_by_the_root_of_the_room_of_a_stitch() -> None:
    """16 dc and 10 rows in 10 cm are 3.072 sc in a square centimetre: one takes `loops` times its root, 5.8 cm."""
    found = _checked().measured
    assert found is not None
    need = found.sizes[0].yarn[1]
    assert need.metres is not None
    assert pytest.approx(loops() * (1.6 * 1.0 * 1.92) ** -0.5 / 100) == need.metres / need.units
    assert margins()["gauge"].share == need.margin


def test_a_gauge_without_a_stitch_is_taken_to_be_in_the_stitches_worked() -> None:
    """The square is of dc: the same estimate within what its beginning chains differ."""
    named, bare = (
        _checked().measured,
        check_source(
            Source("s", SQUARE.replace("WEIGHED", "").replace(", stitch: dc}", "}")), "yaml", ReadOptions()
        ).measured,
    )
    assert named is not None
    assert bare is not None
    assert pytest.approx(named.sizes[0].yarn[1].metres, rel=0.1) == bare.sizes[0].yarn[1].metres


def test_without_a_gauge_the_class_of_the_yarn_tells_and_says_so() -> None:
    """Class 4 has 11 to 14 sc in 10 cm, in the middle 12.5."""
    text = SQUARE.replace("WEIGHED", ", weight: 4").replace(
        "gauge: {stitches: 16, rows: 10, over: 10 cm, stitch: dc}\n", ""
    )
    found = check_source(Source("s", text), "yaml", ReadOptions()).measured
    assert found is not None
    first, second = found.sizes[0].yarn
    assert ("class", margins()["class"].share) == (first.rests_on, first.margin)
    assert first.metres is not None
    assert pytest.approx(10.6 / 1.25 / 100) == first.metres / first.units
    assert ("", None) == (second.rests_on, second.metres)


def test_balls_cover_the_upper_end_of_the_range() -> None:
    found = _checked().measured
    assert found is not None
    for need in found.sizes[0].yarn:
        assert need.metres is not None
        assert need.balls == -(-need.metres * (1 + need.margin) // 100)


# ---------------------------------------------------------------- yarn in hand

PAIR = """\
format: "1"
title: Pair
terms: us
sizes: [{id: s, name: Small}, {id: m, name: Middle}, {id: l, name: Large}]
gauge: {stitches: 16, rows: 18, over: 10 cm, stitch: sc}
yarn:
  - {key: A, name: Wool, colour: rust, ball: {grams: 50, metres: 100}, weighed: {grams: 10, size: s}}
  - {key: B, name: Silk, ball: {metres: 200}}
parts:
  - name: Cuff
    make: 2
    rows:
      - "Row 1: With A, ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)"
      - "Row 2: Ch 1, sc in each st across, turn. (10 sc)"
      - "Rep Row 2 8 (18, 38) times more."
"""


def _reached(*said: str, text: str = PAIR) -> Reached:
    found = check_source(Source("pair", text), "yaml", ReadOptions())
    assert found.document is not None
    assert found.measured is not None
    return reached(found.document, found.measured, [read_in_hand(one, found.document) for one in said])


def test_the_largest_size_that_yarn_in_hand_is_enough_for() -> None:
    """Small takes 10 g by the scales, give or take 5%; Middle nearly twice that, Large nearly four times."""
    found = _reached("A=21 g")
    assert [Enough.SURELY, Enough.SURELY, Enough.NO] == [reach.enough for reach in found.sizes]
    assert ("m", "m") == (found.largest(Enough.SURELY), found.largest(Enough.SURELY, Enough.PERHAPS))
    assert (None, "s") == (
        _reached("A=10 g").largest(Enough.SURELY),
        _reached("A=10 g").largest(Enough.SURELY, Enough.PERHAPS),
    )


def test_how_far_a_size_gets_by_part_and_row() -> None:
    """Two cuffs of ten rows take 10 g, give or take 5%. A row is 10 sc and a chain; the first has a chain of 11.

    By hand: of 7.6 g and 5% more, the second cuff has so much left after the first and after its own first row.
    """
    small = _reached("A=7.6 g").sizes[0]
    row, chain = 10 + CHAIN, 11 * CHAIN
    total = 2 * (10 + chain + 9 * row)
    for stop, factor in ((small.surely, 1.05), (small.at_best, 0.95)):
        left = 7.6 / (10 * factor) * total - total / 2 - 10 - chain
        assert stop is not None
        assert (2, 2, 1 + int(left // row), 10) == (stop.copy, stop.make, stop.rows, stop.of)


@pytest.mark.parametrize(
    ("said", "metres", "grams"),
    [
        ("A=2", 200, 100),
        ("a=2 balls", 200, 100),
        ("rust=2 skeins", 200, 100),
        ("Wool=1.5 balls", 150, 75),
        ("A=3 x 125 m", 375, 187.5),
        ("A=3 balls of 40 g", 240, 120),
        ("A=250 g", 500, 250),
        ("A=0,25 kg", 500, 250),
        ("A=430 yd", 430 * 0.9144, 430 * 0.9144 / 2),
        ("A=2 oz", 2 * 28.349523125 * 2, 2 * 28.349523125),
        ("B=2 balls", 400, None),
        ("B=20 g", None, 20),
    ],
)
def test_yarn_in_hand_by_number_weight_and_length(said: str, metres: float | None, grams: float | None) -> None:
    found = _reached(said).amounts[0]
    assert (pytest.approx(metres), pytest.approx(grams)) == (found.metres, found.grams)


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("3 balls", "several yarns"),
        ("C=3 balls", 'no yarn "C"'),
        ("A=plenty", "no amount of yarn"),
        ("A=", "no amount of yarn"),
        ("A=0 balls", "no amount of yarn"),
        ("A=-3 m", "no amount of yarn"),
        ("A=3 miles", "no amount of yarn"),
        ("=3 m", 'no yarn ""'),
    ],
)
def test_what_is_no_yarn_in_hand_is_refused(said: str, why: str) -> None:
    with pytest.raises(NoAmount, match=why):
        _reached(said)


def test_balls_that_the_pattern_says_nothing_of_are_refused() -> None:
    with pytest.raises(NoAmount, match="what a ball of Silk holds"):
        _reached("B=2 balls", text=PAIR.replace(", ball: {metres: 200}", ""))


def test_where_yarns_are_not_told_apart_nobody_says_that_one_is_enough() -> None:
    text = PAIR.replace("With A, ", "").replace("{key: A, ", "{").replace("{key: B, ", "{")
    assert {Enough.UNKNOWN} == {reach.enough for reach in _reached("Wool=900 g", text=text).sizes}


def test_several_amounts_of_a_yarn_are_put_together_and_the_first_to_end_stops_the_work() -> None:
    text = PAIR.replace("Row 2: Ch 1,", "Row 2: With B, ch 1,")
    both = _reached("A=10 g", "A=40 g", "B=1 m", text=text).sizes[0]
    assert both.surely is not None
    assert ("Cuff", 1, 1) == (both.surely.name, both.surely.yarn, both.surely.copy)
    assert Enough.SURELY is _reached("A=50 g", text=text).sizes[0].enough


def test_where_a_row_could_not_be_executed_nobody_says_that_yarn_is_enough() -> None:
    text = PAIR.replace("Row 2: Ch 1, sc in each st across, turn. (10 sc)", "Row 2: Wobble along as you please.")
    assert {Enough.UNKNOWN} == {reach.enough for reach in _reached("A=1000 g", text=text).sizes}


def test_yarn_that_nothing_is_known_of_is_not_said_to_be_enough() -> None:
    """Metres in hand, but the estimate knows grams alone."""
    text = PAIR.replace("ball: {grams: 50, metres: 100}, ", "")
    assert {Enough.UNKNOWN} == {reach.enough for reach in _reached("A=5000 m", text=text).sizes}


# ---------------------------------------------------------------- by hand, and for whatever is thrown at it


def test_the_striped_blanket_by_hand() -> None:
    """Security: 72 wide; rows 1-9 and six times rows 4-9 again, in threes: 24 rows in A and 21 in B.

    A row is 71 dc and a ch 3: 71 x 1.92 + 3 x 0.47 = 137.73; the first has a chain of 74 instead: 171.1. The swatch of
    20 dc by 12 rows takes 20 x (12 x 1.92 + 0.47) = 470.2 and weighs 6.2 g.
    """
    path = DEMO / "pebble-lane-blanket.pattern.yaml"
    found = check_source(Source(path.name, path.read_text("utf-8")), "yaml", ReadOptions()).measured
    assert found is not None
    a, b = found.sizes[0].yarn
    assert pytest.approx([23 * 137.73 + 171.1, 21 * 137.73]) == [a.units, b.units]
    assert pytest.approx([3338.89 / 470.2 * 6.2, 2892.33 / 470.2 * 6.2], rel=1e-4) == [a.grams, b.grams]


STRETCHES = st.lists(st.tuples(st.sampled_from("ABC"), st.integers(2, 5)), min_size=1, max_size=8)


@given(stretches=STRETCHES, times=st.integers(2, 5))
@settings(deadline=None)
def test_colours_share_out_what_the_row_takes_in_one(stretches: list[tuple[str, int]], times: int) -> None:
    """Whatever the changes of a repeat, each colour has the stitches worked in it, and all together are the row."""
    width = times * sum(number for _, number in stretches)
    body = ", ".join(f"with {key}, sc in next {number} sts" for key, number in stretches)
    text = ROWS.replace("ch 13", f"ch {width + 1}").replace("(12 sc)", f"({width} sc)")
    text += f'      - "Row 2: Ch 1, [{body}] {times} times, turn. ({width} sc)"\n'
    found = check_source(Source("strip", text), "yaml", ReadOptions())
    assert () == found.findings
    assert found.measured is not None
    units = {need.key: need.units for need in found.measured.sizes[0].yarn}
    worked = {key: times * sum(n for k, n in stretches if k == key) for key in "ABC"}
    worked["A"] += width + (width + 2) * CHAIN
    assert pytest.approx(worked) == units


@given(text=st.text(alphabet="AB=0123456789.,x×½ gmydozballs-/()", max_size=40))
def test_whatever_is_said_to_be_in_hand_is_an_amount_or_refused(text: str) -> None:
    document = check_source(Source("pair", PAIR), "yaml", ReadOptions()).document
    assert document is not None
    try:
        found = read_in_hand(text, document)
    except NoAmount:
        return
    assert (found.metres or 0) > 0 or (found.grams or 0) > 0
