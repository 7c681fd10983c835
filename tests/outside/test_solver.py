"""Numbers that keep to demands, against a general solver of constraints (python-constraint2).

It knows nothing of stitches: it lists every choice that keeps to the rules, and the cheapest of those are compared.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import pytest
from constraint import Problem

from convert.document.read import ReadOptions
from convert.grader.linear import Linear, named
from convert.grader.solver import KEPT, Aim, Bound, Divides, Multiple, Number, Rule, solve
from convert.pipeline import check_source
from convert.source import Source

A, B, C = (named(at, 3) for at in range(3))
NUMBERS = [Number("a", 10, 40), Number("b", 10, 40), Number("c", 2, 12)]
BODY = A.plus(B).plus(C.scaled(Fraction(2)))
CASES: list[tuple[list[Aim], list[Rule]]] = [
    # One target that three numbers share: body 92 cm at 1.6 stitches a centimetre.
    ([Aim(BODY.scaled(Fraction(10, 16), Fraction(-92, 2)))], [Multiple(A, 6, 1), Multiple(B, 4, 3)]),
    # Front and back are alike, and the body is a multiple of 8.
    ([Aim(BODY.scaled(Fraction(10, 17), Fraction(-40)))], [Bound(A.minus(B), 0, 0), Multiple(BODY, 8, 0)]),
    # The underarm divides the front; two targets pull in different directions.
    (
        [Aim(A.scaled(Fraction(1), Fraction(-31))), Aim(C.scaled(Fraction(3), Fraction(-20)))],
        [Divides(C, A), Bound(B, None, 12)],
    ),
    # Nothing keeps to these: an even number that is 1 more than a multiple of 4.
    ([Aim(A.scaled(Fraction(1), Fraction(-20)))], [Multiple(A, 2, 0), Multiple(A, 4, 1)]),
    # A sum within bounds that leave few choices, in steps of halves of a centimetre.
    (
        [Aim(B.scaled(Fraction(1, 2), Fraction(-9)))],
        [Bound(BODY, 60, 61), Multiple(C, 5, 0), Bound(A.minus(B), 3, None)],
    ),
]  # fmt: skip


def _value(linear: Linear, values: Sequence[int]) -> Fraction:
    return linear.fixed + sum(f * v for f, v in zip(linear.factors, values, strict=True))


def _keeps(rule: Rule, values: Sequence[int]) -> bool:
    value = _value(rule.value, values)
    if isinstance(rule, Bound):
        return (rule.least is None or value >= rule.least) and (rule.most is None or value <= rule.most)
    if isinstance(rule, Multiple):
        return (value - rule.plus) % rule.of == 0
    return value > 0 and _value(rule.other, values) % value == 0


@pytest.mark.parametrize(("aims", "rules"), CASES, ids=["multiples", "alike", "divides", "none", "bounds"])
def test_the_cheapest_choices_of_a_general_solver(aims: list[Aim], rules: list[Rule]) -> None:
    """The same least cost, the same next best ones, and the same answer where there is none."""
    problem = Problem()
    for number in NUMBERS:
        problem.addVariable(number.name, range(number.least, number.most + 1))
    for rule in rules:
        problem.addConstraint(lambda a, b, c, rule=rule: _keeps(rule, (a, b, c)), ("a", "b", "c"))
    found = [tuple(choice[n.name] for n in NUMBERS) for choice in problem.getSolutions()]
    costs = sorted(sum((_value(aim.off, values) ** 2 for aim in aims), Fraction(0)) for values in found)
    ours = solve(NUMBERS, aims, rules)
    assert costs[:KEPT] == [solution.cost for solution in ours]
    assert all(solution.values in found for solution in ours)


def test_the_numbers_of_a_whole_pattern() -> None:
    """A body of three shared numbers in three sizes, by the data that an author writes."""
    text = """\
format: "1"
title: Body
terms: us
sizes: [{id: s, target: {bust: 80 cm}}, {id: m, target: {bust: 91 cm}}, {id: l, target: {bust: 103 cm}}]
gauge: {stitches: 15, rows: 18, over: 10 cm, stitch: sc}
fits: [{number: body, target: bust, along: stitches, count: front + back + 2*under, least: 1}]
demands:
  - {number: front, multiple: 6, plus: 1, least: 31, most: 90}
  - {number: back, equals: front + 4}
  - {number: under, least: 3, most: 9, divides: body}
parts: [{name: Body, rows: ["Row 1: Ch {body + 1}, sc in 2nd ch from hook and in each ch across."]}]
"""
    grading = check_source(Source("body", text), "yaml", ReadOptions()).grading
    assert grading is not None
    for size, bust in zip(grading.sizes, (80, 91, 103), strict=True):
        problem = Problem()
        problem.addVariable("front", range(31, 91))
        problem.addVariable("under", range(3, 10))
        problem.addConstraint(lambda front: front % 6 == 1, ("front",))
        problem.addConstraint(lambda front, under: (2 * front + 4 + 2 * under) % under == 0, ("front", "under"))
        bodies = {2 * c["front"] + 4 + 2 * c["under"] for c in problem.getSolutions()}
        nearest = min(abs(Fraction(body * 10, 15) - bust) for body in bodies)
        body = size.number("body")
        assert body in bodies
        assert nearest == abs(Fraction(body * 10, 15) - bust)
