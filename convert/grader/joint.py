"""Numbers of one size that are chosen together: fits over several numbers, and demands that tie numbers to each
other.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from convert.document.records import Document
from convert.document.sizing import Demand, Fit, Size
from convert.findings import Finding, Severity
from convert.grader.formulas import FormulaError, names_in
from convert.grader.linear import Linear, linear, named
from convert.grader.solver import Aim, Bound, Divides, Multiple, Number, Rule, Solution, TooWide, conflict, solve


class Goal(Struct, frozen=True):
    """A fit whose target and gauge are known, in centimetres and stitches or rows a centimetre."""

    fit: Fit
    target_cm: Fraction
    rate: Fraction


def is_joint(document: Document) -> bool:
    """Whether the numbers depend on each other, so that no fit can be chosen by itself."""
    fits = [fit.number for fit in document.fits]
    return bool(document.demands) or any(fit.count for fit in document.fits) or len(set(fits)) < len(fits)


def choose(
    document: Document, size: Size, given: Mapping[str, int], goals: list[Goal], findings: list[Finding]
) -> tuple[dict[str, int], tuple[dict[str, int], ...]]:
    """Every number of the size, and the next best choices; empty where there is none, and the findings say why."""
    numbers = _open_numbers(document, given)
    try:
        known = _known(document, given, numbers)
        rules = _rules(document, known, len(numbers))
        aims = [Aim(_off(goal, known[goal.fit.number])) for goal in goals]
        found = solve(numbers, aims, rules)
        clash = () if found else conflict(numbers, rules)
    except FormulaError as fault:
        findings.append(_finding("formula", size, f"The numbers cannot be chosen: {fault}.", document))
        return {}, ()
    except TooWide:
        findings.append(_too_wide(size, document))
        return {}, ()
    if not found:
        findings.append(_conflict(document, size, clash))
        return {}, ()
    all_values = tuple(_values(solution, known) for solution in found)
    return all_values[0], all_values[1:]


def _derived(document: Document) -> dict[str, str]:
    """Numbers that are a formula over others."""
    found = {fit.number: fit.count for fit in document.fits if fit.count}
    return found | {demand.number: demand.count for demand in document.demands if demand.count}


def _open_numbers(document: Document, given: Mapping[str, int]) -> list[Number]:
    """The numbers that are chosen, the ones with fits of their own first."""
    derived = _derived(document)
    names: dict[str, Number] = {}
    for fit in document.fits:
        if not fit.count and fit.number not in given:
            names.setdefault(fit.number, Number(fit.number, fit.least, fit.most, fit.step))
    texts = [*derived.values(), *(text for d in document.demands for text in (d.equals, d.divides))]
    for name in (*(d.number for d in document.demands), *(n for text in texts for n in names_in(text))):
        if name not in derived and name not in given:
            names.setdefault(name, Number(name))
    return list(names.values())


def _known(document: Document, given: Mapping[str, int], numbers: list[Number]) -> dict[str, Linear]:
    """Each number as a sum over the open ones. Derived numbers may use each other, but not in a circle."""
    count = len(numbers)
    known = {number.name: named(index, count) for index, number in enumerate(numbers)}
    known |= {name: Linear((Fraction(0),) * count, Fraction(value)) for name, value in given.items()}
    waiting = {name: text for name, text in _derived(document).items() if name not in known}
    while waiting:
        ready = [name for name, text in waiting.items() if all(n in known for n in names_in(text))]
        if not ready:
            raise FormulaError(f"“{next(iter(waiting))}” depends on itself")
        for name in ready:
            known[name] = linear(waiting.pop(name), known, count)
    return known


def _off(goal: Goal, number: Linear) -> Linear:
    """How far the piece is off its target, in centimetres."""
    fit = goal.fit
    edging = Fraction(fit.edging.cm) if fit.edging is not None else Fraction(0)
    per_unit = fit.across * fit.each / goal.rate
    return number.scaled(per_unit, fit.across * fit.plus / goal.rate + edging - goal.target_cm)


def _rules(document: Document, known: Mapping[str, Linear], count: int) -> list[Rule]:
    rules: list[Rule] = []
    for source, demand in enumerate(document.demands):
        value = known[demand.number]
        if demand.least is not None or demand.most is not None:
            rules.append(Bound(value, demand.least, demand.most, source))
        if demand.multiple > 1:
            rules.append(Multiple(value, demand.multiple, demand.plus, source))
        if demand.equals:
            rules.append(Bound(value.minus(linear(demand.equals, known, count)), 0, 0, source))
        if demand.divides:
            rules.append(Divides(value, linear(demand.divides, known, count), source))
    for at, fit in enumerate(document.fits):
        if fit.count:
            rules.append(Bound(known[fit.number], fit.least, fit.most, len(document.demands) + at))
            if fit.step > 1:
                rules.append(Multiple(known[fit.number], fit.step, fit.least, len(document.demands) + at))
    # What a formula yields has to be a whole number.
    for name, value in known.items():
        parts = [f.denominator for f in (*value.factors, value.fixed)]
        if max(parts) > 1:
            rules.append(Multiple(value, 1, 0, _source(document, name)))
    return rules


def _source(document: Document, name: str) -> int:
    demands = [at for at, demand in enumerate(document.demands) if demand.number == name]
    return demands[0] if demands else len(document.demands)


def _values(solution: Solution, known: Mapping[str, Linear]) -> dict[str, int]:
    return {name: int(value.at(solution.values)) for name, value in known.items()}


def demand_words(demand: Demand) -> str:
    """The demand in words.

    >>> demand_words(Demand("front", multiple=6, plus=1))
    'front is a multiple of 6 plus 1'
    """
    said = []
    if demand.count:
        said.append(f"is {demand.count}")
    if demand.multiple > 1:
        said.append(f"is a multiple of {demand.multiple}" + (f" plus {demand.plus}" if demand.plus else ""))
    if demand.equals:
        said.append(f"equals {demand.equals}")
    if demand.divides:
        said.append(f"divides {demand.divides}")
    if demand.least is not None:
        said.append(f"is {demand.least} or more")
    if demand.most is not None:
        said.append(f"is {demand.most} or less")
    return f"{demand.number} {', '.join(said)}"


def _conflict(document: Document, size: Size, clash: tuple[int, ...]) -> Finding:
    demands = [document.demands[at] for at in clash if at < len(document.demands)]
    fits = [document.fits[at - len(document.demands)] for at in clash if at >= len(document.demands)]
    spoken_of = {d.number for d in demands} | {
        n for d in demands for n in names_in(f"{d.count} {d.equals} {d.divides}")
    }
    fits += [f for f in document.fits if not f.count and f.number in spoken_of and _has_ends(f)]
    named_ones = [demand_words(d) for d in demands]
    named_ones += [f"{f.number} lies between {f.least} and {f.most} in steps of {f.step}" for f in fits]
    said = "; ".join(named_ones) or "the ends of the numbers"
    return Finding(
        "demands-conflict",
        Severity.ERROR,
        f"No numbers keep to all demands{f' in size {size.name or size.id}' if size.id else ''}: {said}.",
        demands[0].span if demands else size.span,
        (size.id,) if size.id else (),
        expected="demands that can hold together",
        found=said,
        hint="Change or leave out one of these.",
        related=tuple(d.span for d in demands[1:]),
    )


def _has_ends(fit: Fit) -> bool:
    """Whether a fit bounds its number by itself."""
    usual = Fit(fit.number, fit.target, fit.along)
    return (fit.least, fit.most, fit.step) != (usual.least, usual.most, usual.step)


def _too_wide(size: Size, document: Document) -> Finding:
    message = "The demands leave too many numbers open: the best could not be found in reasonable time."
    return _finding("demands-too-wide", size, message, document, "Give the numbers a `least` and a `most`.")


def _finding(code: str, size: Size, message: str, document: Document, hint: str = "Change the formula.") -> Finding:
    spans = [d.span for d in document.demands] or [f.span for f in document.fits if f.count]
    span = spans[0] if spans else size.span
    return Finding(code, Severity.ERROR, message, span, (size.id,) if size.id else (), hint=hint)
