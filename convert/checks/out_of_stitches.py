"""A step that finds no stitch left to go into."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, each_of, sizes_together
from convert.checks.repairs import repairs
from convert.checks.telling import below, place_words, repeat_story, size_ids
from convert.document.steps import Place
from convert.findings import Finding, Severity
from convert.instructions.writing.pieces import ordinal

CHECK = Check(
    "out-of-stitches",
    Severity.ERROR,
    "the stitches of the last row end before the row does",
    """
The row asks for more stitches, chains or spaces than the row below has. The message names the step that ran out,
and in a repeat which time around it was.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: [Sc in next st, 2 sc in next st] 4 times.",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: [Sc in next st, 2 sc in next st] 3 times.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Steps that ran out of places."""
    repair = repairs(facts)
    for row, worked, size, outcome, fault in facts.each_fault(CHECK.code):
        place = fault.facts.get("what")
        what = place_words(facts, place) if isinstance(place, Place) else "stitch"
        wanted, left = fault.facts.get("wanted", 1), fault.facts.get("left", 0)
        time = fault.facts.get("time")
        when = f", the {ordinal(int(str(time)))} time around of {fault.facts.get('times')}" if time else ""
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} runs out of stitches{SIZES} at this step{when}.",
            fault.span,
            size_ids(facts, size),
            expected=f"{wanted} more ({what})",
            found=f"{left} left",
            because=" ".join(filter(None, (below(facts, outcome), repeat_story(outcome)))),
            hint=repair(row, worked, size)
            or "Take a stitch out of the row, work the repeat less often, or correct the row below.",
        )
