"""Work that does not lie flat: the numbers that the finding gives, by hand."""

from __future__ import annotations

import pytest

from convert.checks.not_flat import CHECK
from convert.document.read import ReadOptions
from convert.pipeline import check_source
from convert.source import Source


def test_the_finding_tells_how_much_a_round_may_grow() -> None:
    """Square stitches (16 by 16): a round is as high as a stitch is wide, so a circle takes 6.3 a round, a square 8.

    After Rnd 4 there are 48 stitches at a distance of 4: 12 times as many, so it leaves the plane there, 24 more than
    the round before.
    """
    (finding,) = check_source(Source("mat", CHECK.bad), "yaml", ReadOptions()).findings
    assert "ruffle from Rnd 4 on: its edge is 12.0 times" in finding.message
    assert (
        "grows by 24 stitches, its height asks for 6.3 (circle) to 8.0 (square, 2.0 at each corner)" in finding.message
    )


@pytest.mark.parametrize(("rounds", "a_round"), [(9, "11.2"), (18, "5.6")])
def test_what_a_round_asks_for_follows_the_gauge(rounds: int, a_round: str) -> None:
    """16 stitches by 9 rounds: 2 pi times 16/9 is 11.2; by 18 rounds 5.6."""
    text = CHECK.bad.replace("rows: 16", f"rows: {rounds}")
    (finding,) = check_source(Source("mat", text), "yaml", ReadOptions()).findings
    assert f"asks for {a_round} (circle)" in finding.message
