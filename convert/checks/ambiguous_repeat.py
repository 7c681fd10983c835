"""A number of repeats that two readers would take differently."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from convert.checks.check import Check, Facts, each_of
from convert.document.records import Row
from convert.document.steps import Extent, Repeat, Step
from convert.fabric.rows.readings import goes_around
from convert.findings import Finding, Severity
from convert.instructions.repeats.repeat import plus
from convert.source import Span

CHECK = Check(
    "ambiguous-repeat",
    Severity.WARNING,
    "“rep from * 3 times” leaves open whether that is three in all",
    """
The old booklets mean three times more, so four in all (an asterisk stands for the given number of times plus the
original: Star Book No. 98, American Thread Company, 1953). Many makers read it as three in all. Where exactly one
reading fits the row below and the stated count, that one was taken. Say "3 times more" or put the repeat in
brackets: "[...] 4 times".
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: *Sc in next st, 2 sc in next st; rep from * 2 times. (9 sc)",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: *Sc in next st, 2 sc in next st; rep from * 2 times more. (9 sc)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Repeats worded so."""
    fewer = {
        id(row) for row, worked, _ in facts.each_row() if worked.outcome is not None and worked.outcome.reading.fewer
    }
    found = [(row, step) for part in facts.document.parts for row in part.rows for step in _doubtful(row.steps)]
    for read_so in (True, False):
        alike = [(row, step) for row, step in found if (id(row) in fewer) is read_so]
        if alike:
            yield _finding(alike[0][0], alike[0][1], read_so, [step.span for _, step in alike[1:]])
    for part in facts.document.parts:
        for row in part.rows:
            around = next((step for step in row.steps if goes_around(step)), None)
            if around is not None and id(row) in fewer:
                yield _all_repeated(row, around)


def _doubtful(steps: tuple[Step, ...]) -> Iterator[Repeat]:
    for step in steps:
        if isinstance(step, Repeat):
            if step.said_doubtful and step.extent is Extent.TIMES:
                yield step
            yield from _doubtful(step.steps)


def _all_repeated(row: Row, step: Step) -> Finding:
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{each_of(row)} does not say what is repeated: all of it, or its last clause.",
        step.span,
        expected="a mark where the repeat begins",
        found="none",
        because="It was read as a repeat of all that stands before: only so the row comes out.",
        hint="Put a * where the repeat begins, and “rep from *” at its end.",
    )


def _finding(row: Row, step: Repeat, fewer: bool, others: Sequence[Span]) -> Finding:
    """One finding for all repeats that were read alike: a maker who settles one settles them all."""
    said = plus(step.times, -1)
    times = str(said) if isinstance(said, int) else "so many"
    total = times if fewer else str(step.times) if isinstance(step.times, int) else "one more"
    more = plus(said, -1) if fewer else said
    better = f"rep from * {more} times more" if isinstance(more, int) else "rep from * ... times more"
    return Finding(
        CHECK.code,
        CHECK.severity,
        f"{each_of(row)} does not say whether the repeat is worked {times} times in all or {times} times more.",
        step.span,
        expected="a wording that leaves no choice",
        found=f"{times} times",
        because=f"It was read as {total} times in all{_so_too(len(others))}.",
        hint=f"Write “{better}”, or “[...] {total} times”.",
        related=tuple(others),
    )


def _so_too(others: int) -> str:
    if not others:
        return ""
    return ", and one more repeat in the same way" if others == 1 else f", and {others} more repeats in the same way"
