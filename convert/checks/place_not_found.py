"""A step that names a place which the last row does not have."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, each_of, sizes_together
from convert.checks.repairs import repairs
from convert.checks.telling import below, place_words, size_ids, strip_words
from convert.document.steps import Place
from convert.findings import Finding, Severity

CHECK = Check(
    "place-not-found",
    Severity.ERROR,
    "the row names a stitch or space that is not there",
    """
The step says where it goes ("in next ch-3 sp", "in each dc"), and the row below has no such place left or none at
all. The message says what the row below does have.
""",
    "Rnd 1: Ch 4, join with sl st to form a ring.\n"
    "Rnd 2: Ch 3 (counts as dc), dc in ring, ch 2, [2 dc in ring, ch 2] 3 times, join.\n"
    "Rnd 3: Sl st in next dc, sl st in next ch-3 sp, ch 1, 3 sc in same sp.",
    "Rnd 1: Ch 4, join with sl st to form a ring.\n"
    "Rnd 2: Ch 3 (counts as dc), dc in ring, ch 2, [2 dc in ring, ch 2] 3 times, join.\n"
    "Rnd 3: Sl st in next dc, sl st in next ch-2 sp, ch 1, 3 sc in same sp, 3 sc in each of next 3 ch-2 sps.",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Places that are not there."""
    repair = repairs(facts)
    for row, worked, size, outcome, fault in facts.each_fault(CHECK.code):
        place = fault.facts.get("place")
        wanted = str(fault.facts.get("wanted") or "") or (
            place_words(facts, place) if isinstance(place, Place) else "place"
        )
        there = strip_words(facts, outcome.base) if outcome.base is not None else "nothing"
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} works into a {wanted}{SIZES}, but there is none.",
            fault.span,
            size_ids(facts, size),
            expected=wanted,
            found=there,
            because=below(facts, outcome),
            hint=repair(row, worked, size) or "Name a place that the row below has, or correct the row below.",
        )
