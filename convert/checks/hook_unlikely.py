"""A hook that is far from what the yarn's class or the gauge is worked with."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from convert.checks.check import Check, Facts
from convert.document.lengths import tidy
from convert.document.materials import Hook
from convert.document.sizing import Gauge
from convert.findings import Finding, Severity
from convert.trade.yarns import Range, yarn_weight, yarn_weights

CHECK = Check(
    "hook-unlikely",
    Severity.WARNING,
    "no hook of the pattern goes with the yarn's class or with the gauge",
    """
Each weight class has its usual hooks, and a stitch is one to two hooks wide. Toys are worked with small hooks and lace with large ones, so a
hook is only reported at less than half the thinnest or more than twice the thickest usual hook of the class (openwork in the two thinnest
classes: no upper bound), or where a stitch of the gauge would be half as wide again, or half as narrow again, as any class has it: mostly a digit,
a unit or the class is wrong. Usual hooks and gauges are the table's; how far is far is from memory.
""",
    """
format: "1"
title: Mat
terms: us
yarn: [{name: Wool, weight: 4}]
hooks: [1.5 mm]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
yarn: [{name: Wool, weight: 4}]
hooks: [5 mm]
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)
_FAR, _WIDE = Decimal(2), Decimal("1.5")
_PLAIN = {"sc", "hdc", "dc", "tr"}
_OPENWORK = 1
"""Up to this class yarn is often worked with far larger hooks."""


def find(facts: Facts) -> Iterator[Finding]:
    """The hooks against the one class of the yarns and against the gauge; one finding at most."""
    hooks = [hook for hook in facts.document.materials.hooks if hook.mm > 0]
    if not hooks:
        return
    weights = {yarn.weight for yarn in facts.document.materials.yarns}
    if (len(weights) == 1 and (found := _by_class(hooks, weights.pop())) is not None) or (
        facts.document.gauge is not None and (found := _by_gauge(hooks, facts.document.gauge)) is not None
    ):
        yield found


def _by_class(hooks: Sequence[Hook], number: int | None) -> Finding | None:
    weight = yarn_weight(number) if number is not None else None
    if weight is None:
        return None
    least, most = weight.hook.least, weight.hook.most
    low = least is not None and all(hook.mm * _FAR < least for hook in hooks)
    high = most is not None and weight.number > _OPENWORK and all(hook.mm > most * _FAR for hook in hooks)
    if not (low or high):
        return None
    usual = f"{_said(weight.hook)} mm"
    return _finding(hooks, f"yarn of weight {weight.number} is usually worked with {usual}", usual)


def _by_gauge(hooks: Sequence[Hook], gauge: Gauge) -> Finding | None:
    """A plain stitch beside the hook: wider or narrower than in any class."""
    if gauge.stitch not in _PLAIN or not gauge.stitches or not gauge.over.cm:
        return None
    wide = gauge.over.cm * 10 / gauge.stitches
    least, most = _widths()
    fits = [hook for hook in hooks if least / _WIDE <= wide / hook.mm <= most * _WIDE]
    if fits:
        return None
    usual = f"{tidy(wide / most, 1)} to {tidy(wide / least, 1)} mm"
    return _finding(hooks, f"a stitch of the gauge is {tidy(wide, 1)} mm wide, which {usual} usually gives", usual)


def _widths() -> tuple[Decimal, Decimal]:
    """The narrowest and the widest stitch of the classes, in hooks."""
    found = [
        Decimal(100) / stitches / hook
        for weight in yarn_weights()
        for stitches, hook in ((weight.gauge.most, weight.hook.least), (weight.gauge.least, weight.hook.most))
        if stitches and hook
    ]
    return min(found), max(found)


def _said(usual: Range) -> str:
    ends = [tidy(end) for end in (usual.least, usual.most) if end is not None]
    return " to ".join(ends) if len(ends) == 2 else f"{'up to' if usual.least is None else 'at least'} {ends[0]}"


def _finding(hooks: Sequence[Hook], why: str, usual: str) -> Finding:
    told = " and ".join(f"{tidy(hook.mm)} mm" for hook in hooks)
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"The hook is {told}; {why}.",
        hooks[0].span,
        expected=usual,
        found=told,
        hint="Check the millimetres, the gauge and the weight class.",
    )
