"""A stated amount of yarn that is far from what the rows take."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts
from convert.checks.telling import value_at
from convert.document.materials import Yarn
from convert.findings import Finding, Severity
from convert.grader.yarn_needs import Need

CHECK = Check(
    "yarn-amount-unlikely",
    Severity.WARNING,
    "the stated yarn is far from what the rows take",
    """
From the rows of every size follows what yarn they take, as a range that says what it rests on (`tallyhook grade` prints it). What the
pattern states is reported where it falls short of the range, or goes past it by more than any reserve. Where the range rests on a weighed piece,
short is below its lower end; where it rests on the gauge or the yarn's class alone, only less than half of the likeliest amount, or more than
two and a half times as much, counts (from memory; published hats are said to take 1.6 times as much). Where a row changes yarn on its way, the
resting yarn may be carried along, so too much is not reported; where a row could not be worked, nothing is.
""",
    """
format: "1"
title: Mat
terms: us
gauge: {stitches: 13, rows: 7, over: 10 cm, stitch: dc}
yarn: [{name: Wool, weight: 4, metres: 20}]
parts:
  - name: Mat
    worked: rows
    rows:
      - "Row 1: Ch 52, dc in 4th ch from hook (3 skipped ch count as dc), dc in each ch across, turn. (50 dc)"
      - "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (50 dc)"
      - "Rep Row 2 20 times more. Fasten off."
""",
    """
format: "1"
title: Mat
terms: us
gauge: {stitches: 13, rows: 7, over: 10 cm, stitch: dc}
yarn: [{name: Wool, weight: 4, metres: 200}]
parts:
  - name: Mat
    worked: rows
    rows:
      - "Row 1: Ch 52, dc in 4th ch from hook (3 skipped ch count as dc), dc in each ch across, turn. (50 dc)"
      - "Row 2: Ch 3 (counts as dc), dc in next st and in each st across, turn. (50 dc)"
      - "Rep Row 2 20 times more. Fasten off."
""",
    "yaml",
)
_ROUGH = {"gauge", "class"}
_LEAST, _MOST = 0.5, 2.5
"""How many times the likeliest amount counts as far, where nothing was weighed (from memory)."""
_RESERVE = 1.5
"""How many times the upper end counts as far, where a piece was weighed (from memory)."""
_SPARE = 2
"""Balls more than needed that may be a reserve (from memory)."""
_SMALL = 100
"""Metres up to which too much is no sign: nobody sells less than a ball."""


def find(facts: Facts) -> Iterator[Finding]:
    """Every yarn whose stated amount is far off in some size, once a yarn, with all those sizes."""
    document, measured = facts.document, facts.measured
    if measured is None or any(not part.whole or not part.worked for size in measured.sizes for part in size.parts):
        return
    carried = _carried(facts)
    for at, yarn in enumerate(document.materials.yarns):
        found = [(size, _wrong(yarn, one.yarn[at], size, carried=carried)) for size, one in enumerate(measured.sizes)]
        wrong = [(facts.size_id(size), told) for size, told in found if told is not None]
        if wrong:
            yield _finding(facts, yarn, tuple(id for id, _ in wrong if id), *wrong[0][1])


def _finding(facts: Facts, yarn: Yarn, ids: tuple[str, ...], said: str, takes: str) -> Finding:
    where = f" in {facts.names(ids[:1])}" if ids else ""
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{yarn.name or yarn.key}: {said} are stated{where}, and the rows take {takes}.",
        yarn.span,
        ids if len(ids) < facts.document.size_count else (),
        expected=takes,
        found=said,
        hint="Check the amount and what a ball holds; a weighed swatch (`weighed`) makes the estimate surer.",
    )


def _carried(facts: Facts) -> bool:
    """Whether rows change yarn on their way, so that the resting yarn may be carried along."""
    return any(o.coloured is not None for run in facts.runs for worked in run.rows for _, o in worked.each)


def _wrong(yarn: Yarn, need: Need, size: int, *, carried: bool) -> tuple[str, str] | None:
    """What is stated, and the range; None where they go together or nothing can be told."""
    stated, takes, unit = _stated(yarn, need, size)
    if not stated or not takes or not need.units:
        return None
    low, high = takes * (1 - need.margin), takes * (1 + need.margin)
    rough = need.rests_on in _ROUGH
    short = stated < (takes * _LEAST if rough else low)
    much = stated > (takes * _MOST if rough else high * _RESERVE)
    if not short and (not much or carried or _a_few_balls(yarn, need, size)):
        return None
    return f"{stated:.0f} {unit}", f"{low:.0f} to {high:.0f} {unit}"


def _a_few_balls(yarn: Yarn, need: Need, size: int) -> bool:
    """Whether too much is no more than whole balls and a reserve come to."""
    balls = value_at(yarn.amount.balls, size)
    if balls is None or need.balls is None:
        return (need.metres or 0) < _SMALL
    return balls <= need.balls + _SPARE


def _stated(yarn: Yarn, need: Need, size: int) -> tuple[float | None, float | None, str]:
    """The stated amount and the likeliest one, in metres or else in grams."""
    balls, metres, grams = (value_at(v, size) for v in (yarn.amount.balls, yarn.amount.metres, yarn.amount.grams))
    metres = metres or (balls * yarn.ball_metres if balls and yarn.ball_metres else None)
    if metres and need.metres is not None:
        return float(metres), need.metres, "m"
    grams = grams or (balls * yarn.ball_grams if balls and yarn.ball_grams else None)
    return (float(grams) if grams else None), need.grams, "g"
