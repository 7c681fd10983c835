"""Amounts of one yarn that do not fit each other."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from convert.checks.check import Check, Facts
from convert.document.lengths import tidy
from convert.document.records import Yarn
from convert.findings import Finding, Severity

CHECK = Check(
    "materials-disagree",
    Severity.WARNING,
    "the balls of a yarn do not hold the length that the pattern needs",
    """
Balls times the length of a ball must reach the length that the pattern states, in every size; and grams and metres must fit what a ball
holds, within a twentieth. Otherwise one of the figures is left over from another size, another yarn or another version.
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


def _at(values: tuple[Decimal, ...], size: int) -> Decimal | None:
    if len(values) == 1:
        return values[0]
    return values[size] if size < len(values) else None


def _wrong(yarn: Yarn, size: int) -> tuple[str, str, str] | None:
    """What contradicts what; None where all fits or too little is said."""
    balls, metres, grams = (_at(v, size) for v in (yarn.amount.balls, yarn.amount.metres, yarn.amount.grams))
    if balls and metres and yarn.ball_metres and balls * yarn.ball_metres < metres:
        held = tidy(balls * yarn.ball_metres, 0)
        return (
            f"{tidy(balls)} balls hold {held} m, and {tidy(metres, 0)} m are needed",
            f"{tidy(metres, 0)} m",
            f"{held} m",
        )
    if grams and metres and yarn.ball_metres and yarn.ball_grams:
        by_grams = grams / yarn.ball_grams * yarn.ball_metres
        if abs(by_grams - metres) > _SLACK * max(by_grams, metres):
            held = tidy(by_grams, 0)
            return f"{tidy(grams)} g are {held} m, not {tidy(metres, 0)} m", f"{held} m", f"{tidy(metres, 0)} m"
    return None
