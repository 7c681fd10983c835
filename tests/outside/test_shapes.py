"""Shaping and shapes: published spacings worked as rows, and pieces against mathematics. Read on 2026-11-24."""

from __future__ import annotations

from itertools import pairwise
from math import pi, sin, tan

import pytest

from convert.checks.not_flat import CIRCLE, SQUARE, ratios
from convert.document.read import ReadOptions
from convert.document.steps import Repeat, Step, Work
from convert.grader.measuring import PartMeasure
from convert.grader.shapes import polygon
from convert.pipeline import Checked, check_source
from convert.source import Source

HEAD = "format: '1'\ntitle: Piece\nterms: us\ngauge: {stitches: 16, rows: ROWS, over: 10 cm, stitch: STITCH}\n"
EVENLY = [
    # stitches before, stitches after, source
    (124, 138),  # Ann Budd, Magic Formula for Placement of Increases or Decreases, 2010
    (52, 59),  # by the same rule
    (40, 44),  # Dummies, How to increase evenly
    (100, 116),  # a yarn company's lesson: after every 6th, 4 left over
    (140, 161),  # the same: after 6 and 7 alternately
    (48, 60),  # the same, flat: 2, then every 4th, 2 left over
    (51, 55),  # woolpackyarn.com, Calculating where to place the increases
    (112, 128),  # the same
    (186, 194),  # wilmade.com, Calculating evenly spaced increases and decreases
    (186, 178),  # the same, decreases
]
BALL = [6, 12, 16, 20, 22, 22, 20, 16, 12, 6]
"""A ball whose rounds follow a sine curve (perfectsphere, with the round that closes it)."""


def _checked(parts: str, stitch: str = "sc", rows: int = 16) -> Checked:
    text = HEAD.replace("ROWS", str(rows)).replace("STITCH", stitch) + parts
    found = check_source(Source("piece", text), "yaml", ReadOptions())
    assert [] == [f.message for f in found.findings]
    return found


def _part(found: Checked) -> PartMeasure:
    assert found.measured is not None
    return found.measured.sizes[0].parts[0]


def _changes(steps: tuple[Step, ...], at: int = 0) -> tuple[list[int], int]:
    """After how many stitches of the row before each change stands, and the stitches taken in all."""
    found: list[int] = []
    for step in steps:
        if isinstance(step, Repeat) and isinstance(step.times, int):
            for _ in range(step.times):
                inner, at = _changes(step.steps, at)
                found += inner
        elif isinstance(step, Work) and step.place is not None and isinstance(step.place.number, int):
            at += step.place.number
            found += [at] * (step.each == 2)
        elif type(step).__name__ == "Decrease":
            at += 2
            found.append(at)
    return found, at


@pytest.mark.parametrize(("before", "after"), EVENLY)
@pytest.mark.parametrize("rounds", [False, True])
def test_published_spacings_worked_as_rows(before: int, after: int, *, rounds: bool) -> None:
    """The count comes out, the intervals differ by one at most; a row has about half an interval at either end."""
    row = f'"Row 1: Ch {before + 1}, sc in 2nd ch from hook and in each ch across, turn. ({before} sc)"'
    ring = (
        f'"Rnd 1: Ch {before}, join with sl st in first ch to form a ring, sc in each ch around, join. ({before} sc)"'
    )
    begin = ring if rounds else row
    block = f"{{kind: spread, stitch: sc, start: {before}, end: {after}, rounds: {str(rounds).lower()}}}"
    found = _checked(f"parts:\n  - name: P\n    rows:\n      - {begin}\n      - block: {block}\n")
    assert found.proof is not None
    assert found.written is not None
    assert after == found.proof.rows[-1].sizes[0].total
    changes, taken = _changes(found.written.parts[0].rows[-1].steps)
    assert (before, abs(after - before)) == (taken, len(changes))
    between = [b - a for a, b in pairwise(changes)]
    assert max(between) - min(between) <= 1
    interval = before / len(changes)
    assert abs(changes[0] - (interval if rounds else interval / 2)) <= 1.5
    assert abs(before - changes[-1] - (0 if rounds else interval / 2)) <= 1.5


def test_the_published_places_of_four_increases() -> None:
    """51 stitches: 13, 26, 39, 51 in a round; 6, 19, 32, 45 in a row (woolpackyarn.com). Ours are off by 1 at most."""
    for flat, published in ((True, (6, 19, 32, 45)), (False, (13, 26, 39, 51))):
        row = '"Row 1: Ch 52, sc in 2nd ch from hook and in each ch across, turn. (51 sc)"'
        ring = '"Rnd 1: Ch 51, join with sl st in first ch to form a ring, sc in each ch around, join. (51 sc)"'
        block = f"{{kind: spread, stitch: sc, start: 51, end: 55, rounds: {str(not flat).lower()}}}"
        found = _checked(f"parts:\n  - name: P\n    rows:\n      - {row if flat else ring}\n      - block: {block}\n")
        assert found.written is not None
        changes, _ = _changes(found.written.parts[0].rows[-1].steps)
        assert all(abs(a - b) <= 1 for a, b in zip(published, changes, strict=True)), changes


def test_a_ball_is_as_long_as_half_its_girth() -> None:
    """From pole to pole over the surface a sphere measures half its circumference (mathematics). Every round of this
    ball has about its girth times the sine of its polar angle.
    """
    blocks = "".join(
        f"      - block: {{kind: spread, stitch: sc, start: {a}, end: {b}, rounds: true}}\n" for a, b in pairwise(BALL)
    )
    first = '"Rnd 1: 6 sc in adjustable ring. (6 sc)"'
    found = _checked(f"parts:\n  - name: Ball\n    worked: spiral\n    rows:\n      - {first}\n{blocks}")
    assert found.proof is not None
    assert BALL == [row.sizes[0].total for row in found.proof.rows]
    part = _part(found)
    assert part.widest is not None
    assert part.length == pytest.approx(part.widest / 2, rel=0.1)
    girth = max(BALL)
    ideal = [girth * sin(pi * (at + 0.5) / len(BALL)) for at in range(len(BALL))]
    assert max(abs(a - b) for a, b in zip(BALL, ideal, strict=True)) < 2.6


FLAT = [
    # stitch, rounds in 10 cm beside 16 stitches, stitches a round, corners, edge beside the radius by mathematics
    ("sc", 16, 6, 0, 2 * pi),  # as high as wide; +6 a round (Simply Crochet, 2020, and many)
    ("hdc", 11, 8, 0, 2 * pi),  # half as high again; +8 a round (thecrochetbag, 2013)
    ("dc", 8, 12, 0, 2 * pi),  # twice as high; +12 a round (Edie Eckman, 2021)
    ("dc", 8, 16, 4, 8 * tan(pi / 4)),  # a square: +16 a round (needleworkersroom, 2016)
]


@pytest.mark.parametrize(("stitch", "rows", "more", "corners", "expected"), FLAT)
def test_published_increases_lie_flat(stitch: str, rows: int, more: int, corners: int, expected: float) -> None:
    """Ten rounds of the published increase: the edge beside the radius is that of mathematics within a sixth."""
    crown = f"{{kind: crown, stitch: {stitch}, start: {more}, end: {10 * more}, sections: {more}}}"
    first = f'"Rnd 1: {more} {stitch} in adjustable ring. ({more} {stitch})"'
    rounds = f"parts:\n  - name: Disc\n    worked: spiral\n    rows:\n      - {first}\n      - block: {crown}\n"
    found = _checked(rounds, stitch, rows)
    assert found.document is not None
    ratio = ratios(found.document, _part(found).worked)[-1]
    assert expected == pytest.approx(ratio, rel=1 / 6)
    assert (CIRCLE, SQUARE) == pytest.approx((2 * pi, 8 * tan(pi / 4)))
    assert corners in (0, 4)


@pytest.mark.parametrize("corners", [4, 5, 6, 8, 12])
def test_polygons_against_mathematics(corners: int) -> None:
    """The edge is 2 n tan(pi/n) times the distance of a side; more corners come near a circle."""
    side = dict(polygon(corners, 1.0))["side"]
    assert 2 * corners * tan(pi / corners) == pytest.approx(corners * side)
    assert corners * side > 2 * pi
