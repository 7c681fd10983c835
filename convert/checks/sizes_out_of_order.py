"""A target that falls from one size to the next while it rises everywhere else."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from convert.checks.check import Check, Facts
from convert.findings import Finding, Severity

CHECK = Check(
    "sizes-out-of-order",
    Severity.WARNING,
    "a target falls where it should rise",
    """
Sizes stand in order, the smallest first, so a measurement that rises from size to size and falls at one place has probably been
mistyped, or two sizes have been swapped. Measurements that stay the same for some sizes, or fall all the way, are left alone.
""",
    """
format: "1"
title: Mat
terms: us
sizes:
  - {id: s, name: S, target: {width: 20 cm}}
  - {id: m, name: M, target: {width: 35 cm}}
  - {id: l, name: L, target: {width: 30 cm}}
  - {id: xl, name: XL, target: {width: 40 cm}}
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    """
format: "1"
title: Mat
terms: us
sizes:
  - {id: s, name: S, target: {width: 20 cm}}
  - {id: m, name: M, target: {width: 25 cm}}
  - {id: l, name: L, target: {width: 30 cm}}
  - {id: xl, name: XL, target: {width: 40 cm}}
parts: [{name: Mat, rows: ["Row 1: Ch 11, sc in 2nd ch from hook and in each ch across. (10 sc)"]}]
""",
    "yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """One finding for each target with a single fall among rises."""
    sizes = facts.document.sizes
    for name in dict.fromkeys(target.name for size in sizes for target in size.target):
        found = [(size, m.length) for size in sizes for m in size.target if m.name == name]
        pairs = list(pairwise(found))
        falls = [(before, after) for before, after in pairs if after[1].cm < before[1].cm]
        if len(falls) == 1 and len(pairs) > 2 and all(a[1].cm != b[1].cm for a, b in pairs):
            (before, was), (after, now) = falls[0]
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"The target {name} falls from {was.said} in {before.name} to {now.said} in {after.name}; it rises elsewhere.",
                after.span,
                (after.id,),
                expected=f"more than {was.said}",
                found=now.said,
                hint="Check both sizes.",
            )
