"""The chain that begins a row stands there twice: a slip of copying that no count can show."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, each_of
from convert.document.records import CountKind, Row
from convert.document.steps import Begin, Chain, ChangeColour, Join, Marker, Origin, Slip, Start, Step, Turn
from convert.fabric.counts import agrees
from convert.fabric.parts.run import WorkedRow
from convert.findings import Finding, Severity

CHECK = Check(
    "chain-twice",
    Severity.ERROR,
    "the chain that begins a row is written twice",
    """
A row or its foundation begins with the same chain twice over ("Ch 3, ch 3, dc in next st"). Nothing in the counts
shows it, since the second chain makes no stitch, but whoever follows the words makes a loop where none is meant.
If both chains are meant, say them as one ("ch 6"), or say what each of them stands for ("ch 3 (counts as dc), ch
3"). Where the second is closed to a picot, or is one of the chain spaces that the row's count states, or where the
pattern says once that such a chain counts as a stitch, both are meant; not where both chains say so themselves.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Ch 1, ch 1, 2 sc in each st around. (12 sc)",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: Ch 1, 2 sc in each st around. (12 sc)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Rows in which a chain follows its like before anything is worked."""
    spaces = {(id(row), length) for row, worked, _ in facts.each_row() for length in _proved_spaces(worked)}
    standing = {said.chains for said in facts.document.beginning_chains if said.counts.stitch is not None}
    for part in facts.document.parts:
        for row in part.rows:
            for first, second, behind in zip(row.steps, row.steps[1:], (*row.steps[2:], None), strict=False):
                if not _prepares(first):
                    break
                if not (_alike(first, second) and isinstance(first, Chain)):
                    continue
                stated = (id(row), first.number) in spaces or (id(row), None) in spaces
                excused = first.number in standing and getattr(second, "counts", None) is None
                if not (stated or excused or _closes_picot(behind)):
                    yield _finding(row, second)


def _proved_spaces(worked: WorkedRow) -> list[int | None]:
    """The lengths of the chain spaces that the row makes just as many of as it states: the second chain may be one."""
    outcome = worked.outcome
    if outcome is None or outcome.made is None or outcome.faults:
        return []
    made = outcome.made
    return [item.chains for item in worked.stated if item.kind is CountKind.SPACE and agrees(made, item, 0)]


def _closes_picot(step: Step | None) -> bool:
    """Whether the step goes back into the chain just made: "ch 3, ch 3, sl st in 3rd ch from hook"."""
    place = step.place if isinstance(step, Slip | Join) else None
    return place is not None and place.origin is Origin.HOOK


def _prepares(step: Step) -> bool:
    """Whether nothing has been worked into the row below yet."""
    return isinstance(step, Begin | ChangeColour | Chain | Join | Marker | Slip | Turn)


def _alike(first: Step, second: Step) -> bool:
    """Whether two chains are as long as each other and do not say that they stand for different things."""
    if not isinstance(first, Chain):
        return False
    if isinstance(second, Begin):
        return second.start is Start.CHAIN_RING and first.number == second.number
    return isinstance(second, Chain) and first.number == second.number and first.counts in (None, second.counts)


def _finding(row: Row, step: Step) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{each_of(row)} begins with the same chain twice.",
        step.span,
        row.sizes,
        expected="one chain",
        found="two chains alike",
        hint="Leave one of them out or, if both are meant, give their sum.",
    )
