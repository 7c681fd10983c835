"""Chooses, for each size, the whole numbers that bring the piece nearest to its targets."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from msgspec.structs import replace

from convert.document.lengths import Length, tidy
from convert.document.records import Document
from convert.document.sizing import Along, Fit, Gauge, Measure, NamedNumber, Size
from convert.findings import Finding, Severity
from convert.grader.joint import Goal, choose, is_joint
from convert.grader.results import Chosen, Grading, SizeGrading
from convert.grader.targets import with_targets
from convert.trade.stitches import stitches

_NO_SIZE = Size("", "")


def grade(document: Document) -> Grading:
    """The numbers of every size, what each will measure with them, and what could not be fitted."""
    targeted, unknown = with_targets(document)
    findings: list[Finding] = list(unknown)
    one = _grade_jointly if is_joint(document) else _grade_size
    sizes = tuple(one(document, size, findings) for size in targeted or (_NO_SIZE,))
    return Grading(sizes, said_once(findings))


def said_once(findings: list[Finding]) -> tuple[Finding, ...]:
    """What holds for several sizes alike is said once."""
    found: dict[tuple[object, ...], Finding] = {}
    for finding in findings:
        key = (finding.code, finding.span, finding.message)
        earlier = found.get(key)
        sizes = (*earlier.sizes, *finding.sizes) if earlier is not None else finding.sizes
        found[key] = replace(finding, sizes=tuple(dict.fromkeys(sizes)))
    return tuple(found.values())


def _grade_jointly(document: Document, size: Size, findings: list[Finding]) -> SizeGrading:
    """A size whose numbers depend on each other: all of them are chosen at once."""
    given = {number.name: number.value for number in size.numbers}
    measures = {m.name: m.length for m in size.target}
    goals, lacking = [], False
    for fit in document.fits:
        rate, target = fit_rate(document.gauge, fit), _target(fit, size)
        if rate is None or target is None:
            findings.append(_no_gauge(fit, size) if rate is None else _no_target(fit, size))
            lacking = True
        else:
            goals.append(Goal(fit, Fraction(target.cm), rate))
    values, others = ({}, ()) if lacking else choose(document, size, given, goals, findings)
    chosen = []
    for goal in goals if values else ():
        found = _chosen(goal.fit, values[goal.fit.number], _target(goal.fit, size) or goal_length(goal), goal.rate)
        next_best = tuple(dict.fromkeys(o[goal.fit.number] for o in others if o[goal.fit.number] != found.value))
        found = replace(found, others=next_best)
        chosen.append(found)
        measures[goal.fit.target] = found.measures
        _check_tolerance(goal.fit, size, found, findings)
    numbers = tuple(NamedNumber(name, value) for name, value in (given | values).items())
    return SizeGrading(size.id, numbers, tuple(chosen), tuple(Measure(n, length) for n, length in measures.items()))


def goal_length(goal: Goal) -> Length:
    """The target of a goal as a length."""
    return Length(Decimal(goal.target_cm.numerator) / Decimal(goal.target_cm.denominator))


def _grade_size(document: Document, size: Size, findings: list[Finding]) -> SizeGrading:
    chosen: list[Chosen] = []
    numbers = list(size.numbers)
    measures = {m.name: m.length for m in size.target}
    for fit in document.fits:
        if any(n.name == fit.number for n in size.numbers):
            value = next(n.value for n in size.numbers if n.name == fit.number)
            found = _given(document, fit, size, value)
        else:
            found = _fitted(document, fit, size, findings)
        if found is None:
            continue
        chosen.append(found)
        if not any(n.name == fit.number for n in size.numbers):
            numbers.append(NamedNumber(fit.number, found.value))
        measures[fit.target] = found.measures
        _check_tolerance(fit, size, found, findings)
    return SizeGrading(
        size.id, tuple(numbers), tuple(chosen), tuple(Measure(n, length) for n, length in measures.items())
    )


def per_cm(gauge: Gauge | None, along: Along) -> Fraction | None:
    """Stitches or rows in one centimetre."""
    count = None if gauge is None else gauge.counted if along is Along.STITCHES else gauge.rows
    if gauge is None or count is None or count <= 0 or gauge.over.cm <= 0:
        return None
    return Fraction(count) / Fraction(gauge.over.cm)


def fit_rate(gauge: Gauge | None, fit: Fit) -> Fraction | None:
    """The same for a fit: of another stitch than that of the gauge by their usual sizes, beside each other."""
    rate = per_cm(gauge, fit.along)
    own, other = (stitches().get(id or "") for id in ((gauge.stitch if gauge is not None else None), fit.stitch))
    if rate is None or own is None or other is None:
        return rate
    sides = (own.wide, other.wide) if fit.along is Along.STITCHES else (own.tall, other.tall)
    if not all(sides):
        return rate
    return rate * Fraction(str(sides[0])) / Fraction(str(sides[1]))


def length_of(fit: Fit, number: int, rate: Fraction) -> Fraction:
    """Centimetres that the piece measures with this number: `across * (each * number + plus)` by the gauge, and
    the edging.
    """
    edging = Fraction(fit.edging.cm) if fit.edging is not None else Fraction(0)
    return fit.across * (fit.each * number + fit.plus) / rate + edging


def _target(fit: Fit, size: Size) -> Length | None:
    return next((m.length for m in size.target if m.name == fit.target), None)


def _given(document: Document, fit: Fit, size: Size, value: int) -> Chosen | None:
    """A number that the author gave: only what it measures is worked out."""
    rate, target = fit_rate(document.gauge, fit), _target(fit, size)
    return _chosen(fit, value, target, rate) if rate is not None and target is not None else None


def _chosen(fit: Fit, value: int, target: Length, rate: Fraction) -> Chosen:
    length = length_of(fit, value, rate)
    exact = Decimal(length.numerator) / Decimal(length.denominator)
    off = length - Fraction(target.cm)
    return Chosen(fit, value, target, Length(exact.quantize(Decimal("0.01")), target.unit), float(round(off, 4)))


def _fitted(document: Document, fit: Fit, size: Size, findings: list[Finding]) -> Chosen | None:
    rate, target = fit_rate(document.gauge, fit), _target(fit, size)
    if rate is None:
        findings.append(_no_gauge(fit, size))
        return None
    if target is None:
        findings.append(_no_target(fit, size))
        return None
    cm = Fraction(target.cm)
    found = _chosen(fit, best_number(fit, cm, rate), target, rate)
    near = (found.value - fit.step, found.value + fit.step)
    others = sorted((n for n in near if fit.least <= n <= fit.most), key=lambda n: abs(length_of(fit, n, rate) - cm))
    return replace(found, others=tuple(others))


def best_number(fit: Fit, target_cm: Fraction, rate: Fraction) -> int:
    """The allowed number that comes nearest to the target; the smaller one where two are equally near."""
    one = length_of(fit, 1, rate) - length_of(fit, 0, rate)
    ideal = (target_cm - length_of(fit, 0, rate)) / one if one else Fraction(fit.least)
    steps = (ideal - fit.least) / fit.step
    candidates = {fit.least + fit.step * max(0, k) for k in (int(steps) - 1, int(steps), int(steps) + 1)}
    highest = fit.least + (fit.most - fit.least) // fit.step * fit.step
    allowed = sorted(min(c, highest) for c in candidates)
    return min(allowed, key=lambda n: (abs(length_of(fit, n, rate) - target_cm), n))


def _sizes(size: Size) -> tuple[str, ...]:
    return (size.id,) if size.id else ()


def _no_gauge(fit: Fit, size: Size) -> Finding:
    side = "stitches" if fit.along is Along.STITCHES else "rows"
    return Finding(
        "fit-without-gauge",
        Severity.ERROR,
        f"The number “{fit.number}” cannot be chosen: the gauge does not say how many {side} there are.",
        fit.span,
        _sizes(size),
        expected=f"a gauge with {side}",
        found="none",
        hint=f"Add the {side} of your swatch to the gauge.",
    )


def _no_target(fit: Fit, size: Size) -> Finding:
    name = size.name or "this pattern"
    return Finding(
        "fit-without-target",
        Severity.ERROR,
        f"The number “{fit.number}” cannot be chosen: {name} has no target “{fit.target}”.",
        size.span if size.id else fit.span,
        _sizes(size),
        expected=f"a target “{fit.target}”",
        found="none",
        hint=f"Give the size a target, such as “target: {{{fit.target}: 100 cm}}”, or the number itself.",
    )


def _check_tolerance(fit: Fit, size: Size, found: Chosen, findings: list[Finding]) -> None:
    if fit.tolerance is None or abs(found.off_cm) <= float(fit.tolerance.cm):
        return
    more = "more" if found.off_cm > 0 else "less"
    off = tidy(Decimal(str(abs(found.off_cm))), 1)
    findings.append(
        Finding(
            "target-missed",
            Severity.WARNING,
            f"{size.name or 'The piece'} will measure {off} cm {more} than its target for {fit.target}.",
            size.span,
            _sizes(size),
            expected=f"{found.target.said}, give or take {fit.tolerance.said}",
            found=f"{tidy(found.measures.cm, 1)} cm",
            hint=f"The nearest {fit.number} is {found.value}. Another edging, repeat or target comes closer.",
        )
    )
