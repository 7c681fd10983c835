"""The values that the formulas and open ends of a pattern have in every size."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from types import MappingProxyType

from convert.document.lengths import Length
from convert.document.numbers import Formula
from convert.document.records import Document, Row, works
from convert.document.resolving import Values
from convert.document.sizing import Along
from convert.document.steps import Again, Until, Verbatim
from convert.document.walking import each
from convert.findings import Finding, Severity
from convert.grader.formulas import FormulaError, names_in, work_out
from convert.grader.grading import per_cm
from convert.grader.results import Grading


def values_of(document: Document, grading: Grading) -> Values:
    """Every formula's value and every open end's number of rows, by size; None where there is none."""
    values, _ = values_and_findings(document, grading)
    return values


def values_and_findings(document: Document, grading: Grading) -> tuple[Values, tuple[Finding, ...]]:
    """The values, and what was wrong with the formulas."""
    values: dict[str, tuple[int | None, ...]] = {}
    findings: list[Finding] = []
    for part in document.parts:
        for row in part.rows:
            for formula in each(row, Formula):
                if formula.text not in values:
                    values[formula.text] = _values(formula, row, document, grading, findings)
            for again in row.steps:
                if isinstance(again, Again) and again.until is not None:
                    values[f"until:{again.until.words}"] = _rows_until(again, again.until, row, document, grading)
    return MappingProxyType(values), tuple(findings)


def _values(
    formula: Formula, row: Row, document: Document, grading: Grading, findings: list[Finding]
) -> tuple[int | None, ...]:
    found: list[int | None] = []
    broken: dict[str, list[str]] = {}
    for index, size in enumerate(grading.sizes):
        numbers = {n.name: n.value for n in size.numbers}
        value: Fraction | None = None
        try:
            value = work_out(formula.text, numbers)
            why = "" if value.denominator == 1 and value >= 0 else f"it comes to {_shown(value)}"
        except FormulaError as fault:
            why = str(fault)
        if why and works(row, document, index) and not _awaited(formula, document, numbers):
            broken.setdefault(why, []).append(size.size)
        found.append(int(value) if value is not None and not why else None)
    for why, sizes in broken.items():
        findings.append(_broken(formula, row, why, tuple(s for s in sizes if s)))
    return tuple(found)


def _awaited(formula: Formula, document: Document, numbers: Mapping[str, int]) -> bool:
    """Whether it lacks a number that the grader could not choose: that has been reported, with the reason."""
    chosen = {fit.number for fit in document.fits} | {demand.number for demand in document.demands}
    return any(name in chosen and name not in numbers for name in names_in(formula.text))


def _shown(value: Fraction) -> str:
    return str(value.numerator) if value.denominator == 1 else f"{float(value):.4g}"


def _broken(formula: Formula, row: Row, why: str, sizes: tuple[str, ...]) -> Finding:
    return Finding(
        "formula",
        Severity.ERROR,
        f"The formula {{{formula.text}}} gives no whole number: {why}.",
        row.span,
        sizes,
        expected="a whole number, 0 or more",
        found=why,
        hint="Change the formula or the numbers of the size.",
    )


def _rows_until(again: Again, until: Until, row: Row, document: Document, grading: Grading) -> tuple[int | None, ...]:
    """How many rows reach the length, in whole periods, counting the rows that stand before this line.

    Rows before are taken at the height of the gauge. Only a flat piece that begins at its edge can be told like this; a
    target of a size is reached by the fit that names it.
    """
    rate = per_cm(document.gauge, Along.ROWS)
    if rate is None:
        return tuple(None for _ in grading.sizes)
    found: list[int | None] = []
    for index, size in enumerate(grading.sizes):
        length = until.length
        if until.target is not None:
            length = next((m.length for m in size.measures if m.name == until.target), None)
        if not isinstance(length, Length):
            found.append(None)
            continue
        done = _rows_before(document, row, index)
        period = again.last - again.first + 1
        wanted = Fraction(length.cm) * rate - done
        found.append(max(0, round(wanted / period)) * period)
    return tuple(found)


def _works_first(row: Row) -> bool:
    """Whether the row tells work of its own before it has earlier rows repeated."""
    first = next((step for step in row.steps if not isinstance(step, Verbatim)), None)
    return first is not None and not isinstance(first, Again)


def _rows_before(document: Document, row: Row, size: int) -> int:
    """Rows of the part that are worked before those that this one repeats, each counted once for every number of its
    label.
    """
    for part in document.parts:
        if any(r is row for r in part.rows):
            total = 0
            for r in part.rows:
                if r is row:
                    return total + (max(1, len(r.label.numbers)) if _works_first(r) else 0)
                if works(r, document, size):
                    total += max(1, len(r.label.numbers))
    return 0
