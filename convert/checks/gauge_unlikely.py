"""A gauge or a ball that is far from what yarn of its weight gives."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from convert.checks.check import Check, Facts
from convert.document.lengths import tidy
from convert.findings import Finding, Severity
from convert.source import Span
from convert.trade.stitches import stitches
from convert.trade.yarns import Range, yarn_weight

CHECK = Check(
    "gauge-unlikely",
    Severity.WARNING,
    "the gauge or the ball is far from what yarn of this weight gives",
    """
Each weight class has its usual stitches in 10 cm and its usual metres in 100 g. Openwork and felted fabrics depart from them, so only
figures are reported that lie half as far again outside the usual range: mostly a digit, a unit or the class is wrong.
""",
    """
format: "1"
title: Mat
terms: us
gauge: {stitches: 41, rows: 16, over: 10 cm, stitch: sc}
yarn: [{name: Wool, weight: 4}]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
gauge: {stitches: 14, rows: 16, over: 10 cm, stitch: sc}
yarn: [{name: Wool, weight: 4}]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)
_FAR = Decimal("1.5")


def _is_plain(id: str | None) -> bool:
    """Whether a stitch is one of those, as wide as a single crochet (US), that the classes of yarn speak of."""
    entry = stitches().get(id or "")
    return entry is not None and entry.legs and entry.wide == 1


def find(facts: Facts) -> Iterator[Finding]:
    """The gauge against the heaviest yarn's class, and each ball against its own."""
    gauge, yarns = facts.document.gauge, facts.document.materials.yarns
    weights = [yarn.weight for yarn in yarns if yarn.weight is not None]
    if gauge is not None and gauge.counted and _is_plain(gauge.stitch) and len(set(weights)) == 1 and gauge.over.cm:
        weight = yarn_weight(weights[0])
        across = gauge.counted * 10 / gauge.over.cm
        if weight is not None and _far(across, weight.gauge):
            usual = f"{_said(weight.gauge)} stitches in 10 cm"
            yield _finding(f"The gauge has {tidy(across, 1)} stitches in 10 cm", usual, gauge.span, weights[0])
    for yarn in yarns:
        weight = yarn_weight(yarn.weight) if yarn.weight is not None else None
        if weight is not None and yarn.ball_grams and yarn.ball_metres:
            metres = yarn.ball_metres * 100 / yarn.ball_grams
            if _far(metres, weight.metres):
                usual = f"{_said(weight.metres)} m in 100 g"
                yield _finding(f"{yarn.name} has {tidy(metres, 0)} m in 100 g", usual, yarn.span, weight.number)


def _far(value: Decimal, usual: Range) -> bool:
    low = usual.least is not None and value * _FAR < usual.least
    return low or (usual.most is not None and value > usual.most * _FAR)


def _said(usual: Range) -> str:
    ends = [tidy(end) for end in (usual.least, usual.most) if end is not None]
    return " to ".join(ends) if len(ends) == 2 else f"{'up to' if usual.least is None else 'at least'} {ends[0]}"


def _finding(what: str, usual: str, span: Span, weight: int) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{what}; yarn of weight {weight} usually gives {usual}.",
        span,
        expected=usual,
        found=what,
        hint="Check the figure, its unit and the weight class.",
    )
