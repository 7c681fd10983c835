"""Amounts of one yarn that do not fit each other."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import ROUND_CEILING, Decimal

from convert.checks.check import Check, Facts
from convert.checks.telling import value_at
from convert.document.lengths import tidy
from convert.document.materials import Yarn
from convert.findings import Finding, Severity

CHECK = Check(
    "materials-disagree",
    Severity.WARNING,
    "the balls of a yarn do not go with the length or weight that the pattern needs",
    """
Balls times the length of a ball must reach the length that the pattern states, in every size, and not exceed it by more than half as much again and
two balls (common practice, no source: one ball to spare is usual); the same holds for weight. Grams and metres must fit what a ball holds, within
a twentieth. Otherwise one of the figures is left over from another size, another yarn or another version.
""",
    """
format: "1"
title: Mat
terms: us
yarn: [{name: Wool, ball: {grams: 50, metres: 100}, balls: 3, metres: 400}]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
yarn: [{name: Wool, ball: {grams: 50, metres: 100}, balls: 4, metres: 400}]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)
_SLACK = Decimal("0.05")
_SPARE, _AGAIN = 2, Decimal("1.5")
"""Balls more than needed, and how many times what is needed, that together are past any reserve (from memory)."""


def find(facts: Facts) -> Iterator[Finding]:
    """Every yarn and size whose figures contradict each other, once a yarn."""
    for yarn in facts.document.materials.yarns:
        wrong = [(size, why) for size in range(facts.document.size_count) if (why := _wrong(yarn, size))]
        if wrong:
            ids = tuple(facts.size_id(size) for size, _ in wrong if facts.size_id(size))
            said, needed, found = wrong[0][1]
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{yarn.name or yarn.key}: {said}.",
                yarn.span,
                ids if len(ids) < facts.document.size_count else (),
                expected=needed,
                found=found,
                hint="Put right the balls, the length or what a ball holds.",
            )


def _wrong(yarn: Yarn, size: int) -> tuple[str, str, str] | None:
    """What contradicts what; None where all fits or too little is said."""
    balls, metres, grams = (value_at(v, size) for v in (yarn.amount.balls, yarn.amount.metres, yarn.amount.grams))
    for each, needed, unit in ((yarn.ball_metres, metres, "m"), (yarn.ball_grams, grams, "g")):
        if balls and needed and each and (wrong := _held(balls, each, needed, unit)):
            return wrong
    if grams and metres and yarn.ball_metres and yarn.ball_grams:
        by_grams = grams / yarn.ball_grams * yarn.ball_metres
        if abs(by_grams - metres) > _SLACK * max(by_grams, metres):
            held = tidy(by_grams, 0)
            return f"{tidy(grams)} g are {held} m, not {tidy(metres, 0)} m", f"{held} m", f"{tidy(metres, 0)} m"
    return None


def _held(balls: Decimal, each: Decimal, needed: Decimal, unit: str) -> tuple[str, str, str] | None:
    """Balls that hold too little, or far more than is needed."""
    held = balls * each
    enough = (needed / each).to_integral_value(ROUND_CEILING)
    if needed <= held and not (balls > enough + _SPARE and held > needed * _AGAIN):
        return None
    few = "needed" if held < needed else f"needed: {tidy(enough)} would do"
    amounts = tidy(held, 0), tidy(needed, 0)
    return (
        f"{tidy(balls)} balls hold {amounts[0]} {unit}, and {amounts[1]} {unit} are {few}",
        f"{amounts[1]} {unit}",
        f"{amounts[0]} {unit}",
    )
