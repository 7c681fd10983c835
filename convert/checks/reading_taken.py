"""A beginning chain, or a place, whose meaning the text leaves open and the stitches tell."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of, sizes_together
from convert.checks.telling import body_span
from convert.document.records import Row
from convert.document.steps import Counts
from convert.fabric.parts.run import WorkedRow
from convert.fabric.rows.recovery import mark_given
from convert.fabric.rows.same_next import says_same
from convert.findings import Finding, Severity
from convert.terms.naming import kind_name

CHECK = Check(
    "reading-taken",
    Severity.NOTE,
    "what a beginning chain, “same st” or a wrong row means was told by the stitches",
    """
A beginning chain stands for a stitch, for a stitch and a space, or for nothing. Where the text does not say, the
reading that is usual for its height is taken; if only another reading makes the row come out, that one is taken
and noted here. Say once what the beginning chains count as, and nobody has to guess. So it is with an increase "in
same st" that fits only in the next stitch, and with a row that has an error of its own and was very likely meant in one
way: it is worked so for the sake of the rows after it, which are not proved by that.
""",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\n"
    "Row 2: Ch 3, dc in first st and in each st across. (10 dc)",
    "Row 1: Ch 11, sc in 2nd ch from hook and in each ch across, turn. (10 sc)\n"
    "Row 2: Ch 3 (does not count as st), dc in first st and in each st across. (10 dc)",
)


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Rows that came out only in another than the usual reading, and wrong ones that were worked as they are meant."""
    for row, meant in _meant(facts):
        yield _as_meant(row, meant)
    for row, worked, _size in facts.each_row():
        outcome = worked.outcome
        if outcome is not None and outcome.reading.onward and not outcome.faults:
            yield _in_next(row)
        if not _unusual(worked) or outcome is None or outcome.reading.counts is None:
            continue
        yield Finding(
            CHECK.code,
            CHECK.severity,
            f"The beginning chain of {label_of(row)} was taken as {_words(facts, outcome.reading.counts)}: only so the row comes out.",
            body_span(row),
            found=_words(facts, outcome.reading.counts),
            hint="Say what it counts as, in the row or once for the whole pattern.",
        )


def _meant(facts: Facts) -> Iterator[tuple[Row, Row]]:
    """Rows with an error that were worked as what they very likely mean, with that."""
    for run in facts.runs:
        for worked in run.rows:
            if worked.meant is not None:
                yield worked.row, worked.meant


def _in_next(row: Row) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"“Same st” in {label_of(row)} was taken as the next stitch: only so the row comes out.",
        says_same(row.steps)[0].span if says_same(row.steps) else body_span(row),
        found="the next stitch",
        hint="Write “in next st” for an increase that goes on to a new stitch.",
    )


def _as_meant(row: Row, meant: Row) -> Finding:
    """How a wrong row was worked, so that the rows after it could be."""
    begun = mark_given(row.steps, meant.steps)
    if begun is None:
        how, hint = "into the next stitches, whatever they are called", "Call them as the row below does."
    else:
        how, hint = "as if the * stood here", "Put it here if that is meant; nothing is proved by it."
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{label_of(row)} was worked {how}: so it comes out, and the rows after it could be worked.",
        begun if begun is not None else body_span(row),
        found=how,
        hint=hint,
    )


def _unusual(worked: WorkedRow) -> bool:
    outcome = worked.outcome
    return outcome is not None and outcome.unusual and not outcome.faults


def _words(facts: Facts, counts: Counts) -> str:
    if counts.stitch is None:
        return "no stitch" if not counts.chains else f"a ch-{counts.chains} sp"
    stitch = "a stitch" if counts.stitch == "st" else kind_name(counts.stitch, facts.document.written)
    return stitch if not counts.chains else f"{stitch} and ch {counts.chains}"
