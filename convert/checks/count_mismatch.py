"""A stated count that differs from what the row makes."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, each_of, sizes_together
from convert.checks.repairs import repairs
from convert.checks.telling import below, body_span, noun_of, repeat_story, size_ids, strip_words
from convert.document.numbers import number_for
from convert.fabric.counts import computed
from convert.fabric.report import agrees_in_any
from convert.findings import Finding, Severity

CHECK = Check(
    "count-mismatch",
    Severity.ERROR,
    "a stated count is not what the row makes",
    """
The row was executed stitch by stitch, in every size, and made another number than the count at its end says.
Either the count is wrong or a number in the row is. The message says what the row below left, what the repeat
takes and makes, and how often it fits. Groups such as shells may be counted as one or by their stitches, and
chains may be counted or not: a count is right if one of the usual ways of counting gives it.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (13 sc)",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (12 sc)",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Every figure of a stated count that disagrees."""
    repair = repairs(facts)
    for row, worked, size in facts.each_row():
        outcome = worked.outcome
        if outcome is None or outcome.made is None or outcome.faults or (worked.open_end and worked.unknown_after):
            continue
        made = outcome.made
        wrong = [item for item in worked.stated if agrees_in_any(worked, item) is False]
        if not wrong:
            continue
        found = " and ".join(f"{computed(made, item)} {noun_of(facts, item)}" for item in wrong)
        stated = " and ".join(str(number_for(item.number, 0)) for item in wrong)
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"{each_of(row)} makes {found}{SIZES}, but it says {stated}.",
            body_span(row),
            size_ids(facts, size),
            expected=" and ".join(f"{number_for(item.number, 0)} {noun_of(facts, item)}" for item in wrong),
            found=strip_words(facts, made),
            because=" ".join(filter(None, (below(facts, outcome), repeat_story(outcome)))),
            hint=repair(row, worked, size) or f"If the row is right, the count should be {found}.",
            related=tuple(item.span for item in wrong),
        )
