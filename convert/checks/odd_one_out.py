"""One number for a size that does not go with those for the other sizes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction

from convert.checks.check import Check, Facts, each_of
from convert.checks.telling import body_span
from convert.document.lengths import Length
from convert.document.numbers import PerSize
from convert.document.sizing import Size
from convert.document.walking import each
from convert.findings import Finding, Severity

CHECK = Check(
    "odd-one-out",
    Severity.WARNING,
    "one number does not go with those for the other sizes",
    """
All other sizes of a list (in a row, a target or a number of the sizes) rise or fall in equal steps, and one number is at least a whole
step away from where it should stand: digits have probably changed places. In a row it is told only where the row's own count does not
prove the numbers right.
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: a}, {id: b}, {id: c}, {id: d}, {id: e}]
parts: [{name: Mat, rows: ["Row 1: Ch 48 (56, 46, 72, 80), sc in 2nd ch from hook and in each ch across."]}]
""",
    """
format: "1"
title: Mat
terms: us
sizes: [{id: a}, {id: b}, {id: c}, {id: d}, {id: e}]
parts: [{name: Mat, rows: ["Row 1: Ch 48 (56, 64, 72, 80), sc in 2nd ch from hook and in each ch across."]}]
""",
    "yaml",
)


def find(facts: Facts) -> Iterator[Finding]:
    """The first odd number of every row, and the odd ones among the targets and numbers of the sizes."""
    yield from _in_sizes(facts)
    proved = {
        id(w.row) for run in facts.runs for w in run.rows if w.outcome is not None and w.stated and not w.outcome.faults
    }
    for part in facts.document.parts:
        for row in part.rows:
            odd = next(
                (o for n in each((row.label, row.steps), PerSize) if (o := odd_position(n.values)) is not None), None
            )
            if odd is None or id(row) in proved or not row.said:
                continue
            at, value, wanted = odd
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"{each_of(row)} has {value} for size {facts.size_name(at)}, where the other sizes lead to {wanted}.",
                body_span(row),
                (facts.size_id(at),),
                expected=str(wanted),
                found=str(value),
                hint="If it is meant so, state the row's count, so that it can be proved.",
            )


def _in_sizes(facts: Facts) -> Iterator[Finding]:
    """Targets and numbers that the sizes give themselves."""
    sizes = facts.document.sizes
    rows: dict[tuple[str, str], list[tuple[Size, Decimal, str]]] = {}
    for size in sizes:
        for target in size.target:
            rows.setdefault(("target", target.name), []).append((size, target.length.cm, target.length.unit))
        for number in size.numbers:
            rows.setdefault(("number", number.name), []).append((size, Decimal(number.value), ""))
    for (what, name), row in rows.items():
        odd = odd_position(tuple(value for _, value, _ in row)) if len(row) == len(sizes) else None
        if odd is not None:
            size, value, unit = row[odd[0]]
            said, wanted = (Length(v, unit).said if unit else str(v) for v in (value, odd[2]))
            yield Finding(
                CHECK.code,
                CHECK.severity,
                f"The {what} {name} is {said} for size {size.name or size.id}, where the other sizes lead to {wanted}.",
                size.span,
                (size.id,),
                expected=wanted,
                found=said,
                hint="Check the size; nothing needs to be done if it is meant so.",
            )


def odd_position(values: Sequence[int | Decimal | None]) -> tuple[int, Decimal, Decimal] | None:
    """Position, value and the value expected, where all but one of five or more stand in equal steps.

    >>> odd_position((48, 56, 46, 72, 80)), odd_position((7, 8, 10, 12, 13))
    ((2, Decimal('46'), Decimal('64')), None)
    """
    known = [Fraction(value) for value in values if value is not None]
    if len(known) < 5 or len(known) < len(values):
        return None
    for at in range(1, len(known) - 1):
        others = [(k, v) for k, v in enumerate(known) if k != at]
        (first, low), (last, high) = others[0], others[-1]
        slope = Fraction(high - low, last - first)
        wanted = low + slope * (at - first)
        on_line = all(v == low + slope * (k - first) for k, v in others)
        if slope and on_line and abs(known[at] - wanted) >= abs(slope):
            exact = [Decimal(v.numerator) / Decimal(v.denominator) for v in (known[at], wanted)]
            return at, exact[0], exact[1]
    return None
