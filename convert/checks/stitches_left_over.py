"""Stitches of the last row that a row neither works, skips nor leaves on purpose."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, each_of, sizes_together
from convert.checks.repairs import repairs
from convert.checks.telling import below, body_span, repeat_story, size_ids
from convert.findings import Finding, Severity

CHECK = Check(
    "stitches-left-over",
    Severity.ERROR,
    "the row ends before the stitches of the last row do",
    """
At the end of a row every stitch of the row below must have been worked, skipped, or left on purpose ("leave last
6 sts unworked"). Here some are left and the text says nothing of them: a repeat too few, a number too small, or a
multiple that does not divide the stitches of this size.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Sc in next 5 sts.",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Sc in next 6 sts.",
)


_CALLED = {
    "stitches": ("stitch", "stitches"),
    "spaces": ("chain space", "chain spaces"),
    "groups": ("group", "groups"),
}


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Rows with something left over."""
    repair = repairs(facts)
    for row, worked, size, outcome, fault in facts.each_fault(CHECK.code):
        left = int(str(fault.facts["left"]))
        plural = _CALLED[str(fault.facts["what"])][left != 1]
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} leaves {left} {plural} of the row below unworked{SIZES}.",
            body_span(row),
            size_ids(facts, size),
            expected="every stitch worked, skipped or left on purpose",
            found=f"{left} left over",
            because=" ".join(filter(None, (below(facts, outcome), repeat_story(outcome)))),
            hint=repair(row, worked, size) or "Work them, or say that they are skipped or left unworked.",
        )
