"""A repeat that does not end where the row says it should."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, label_of, sizes_together
from convert.checks.repairs import repairs
from convert.checks.telling import below, repeat_story, size_ids
from convert.document.records import Row
from convert.fabric.faults import Fault
from convert.findings import Finding, Severity

CHECK = Check(
    "repeat-does-not-fit",
    Severity.ERROR,
    "a repeat does not come out at the place it should reach",
    """
"Rep from * to last 3 sts" must leave exactly three stitches, and a repeat up to a corner must end at the corner.
Here a whole working of the repeat goes past that place. In a pattern for several sizes this is the commonest
mistake: the multiple fits one size and not another.
""",
    "Row 1: Ch 12, sc in 2nd ch from hook and in each ch across, turn. (11 sc)\n"
    "Row 2: Ch 1, *sc in next 3 sts, ch 1, sk next st; rep from * to last st, sc in last st.",
    "Row 1: Ch 14, sc in 2nd ch from hook and in each ch across, turn. (13 sc)\n"
    "Row 2: Ch 1, *sc in next 3 sts, ch 1, sk next st; rep from * to last st, sc in last st.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Repeats that miss their end."""
    repair = repairs(facts)
    for row, worked, size, outcome, fault in facts.each_fault(CHECK.code):
        if fault.facts.get("endless"):
            yield _endless(facts, row, size, fault)
            continue
        leave, left = fault.facts.get("leave"), fault.facts.get("left")
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"The repeat of {label_of(row)} does not fit{SIZES}.",
            fault.span,
            size_ids(facts, size),
            expected=f"{leave} left when the repeat ends",
            found=f"{left} left after {fault.facts.get('times')} times",
            because=" ".join(filter(None, (below(facts, outcome), repeat_story(outcome)))),
            hint=repair(row, worked, size)
            or "Change the number of stitches of this size to the multiple of the repeat, or say how the row ends.",
        )


def _endless(facts: Facts, row: Row, size: int, fault: Fault) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"The repeat of {label_of(row)} works into nothing{SIZES}, so that it never comes to an end.",
        fault.span,
        size_ids(facts, size),
        expected="a stitch or a skip in the repeat",
        found="chains alone",
        hint="Say where the repeat works into the row below, or how many times it is worked.",
    )
