"""The solver against trying every choice, and its answer to demands that contradict each other."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from convert.grader.formulas import FormulaError
from convert.grader.linear import Linear, linear, named
from convert.grader.solver import Aim, Bound, Divides, Multiple, Number, Rule, TooWide, conflict, solve

small = st.integers(-4, 4)


def _linear(count: int) -> st.SearchStrategy[Linear]:
    factors = st.tuples(*[st.fractions(-3, 3, max_denominator=4)] * count)
    return st.builds(Linear, factors, st.fractions(-20, 20, max_denominator=4))


def _whole(count: int) -> st.SearchStrategy[Linear]:
    return st.builds(Linear, st.tuples(*[small.map(Fraction)] * count), small.map(Fraction))


@st.composite
def problems(draw: st.DrawFn) -> tuple[list[Number], list[Aim], list[Rule]]:
    count = draw(st.integers(1, 3))
    numbers = [
        Number("abc"[k], least, least + draw(st.integers(0, 6)), draw(st.integers(1, 3)))
        for k in range(count)
        for least in [draw(st.integers(0, 4))]
    ]
    aims = draw(st.lists(st.builds(Aim, _linear(count)), max_size=3))
    rule = st.one_of(
        st.builds(Bound, _whole(count), st.none() | small, st.none() | st.integers(0, 20)),
        st.builds(Multiple, _whole(count), st.integers(1, 4), st.integers(0, 3)),
        st.builds(Divides, _whole(count), _whole(count)),
    )
    return numbers, aims, draw(st.lists(rule, max_size=2))


def _holds(rule: Rule, values: tuple[int, ...]) -> bool:
    value = rule.value.fixed + sum(f * v for f, v in zip(rule.value.factors, values, strict=True))
    if isinstance(rule, Bound):
        return not (rule.least is not None and value < rule.least) and not (rule.most is not None and value > rule.most)
    if isinstance(rule, Multiple):
        return (value - rule.plus) % rule.of == 0
    other = rule.other.fixed + sum(f * v for f, v in zip(rule.other.factors, values, strict=True))
    return value > 0 and (other / value).denominator == 1


@pytest.mark.timeout(60)  # every choice of a hundred problems, on a busy machine
@settings(max_examples=100, deadline=None)
@given(problems())
def test_the_best_choice_is_that_of_trying_all(problem: tuple[list[Number], list[Aim], list[Rule]]) -> None:
    """Same least cost as brute force, or both find nothing."""
    numbers, aims, rules = problem
    ranges = [range(n.least, n.most + 1, n.step) for n in numbers]
    tried = [values for values in product(*ranges) if all(_holds(rule, values) for rule in rules)]
    costs = sorted(sum((aim.off.at(values) ** 2 for aim in aims), Fraction(0)) for values in tried)
    found = solve(numbers, aims, rules)
    assert costs[:3] == [solution.cost for solution in found]
    assert all(solution.values in tried for solution in found)


def test_demands_that_contradict_each_other_are_named() -> None:
    """Of three demands the two that cannot both hold, and not the third."""
    a = named(0, 1)
    rules = [Multiple(a, 2, 0, 0), Bound(a, 3, None, 1), Multiple(a, 4, 1, 2)]
    numbers = [Number("a", 0, 200)]
    assert () == solve(numbers, (), rules)
    assert (0, 2) == conflict(numbers, rules)


def test_a_search_without_end_is_refused() -> None:
    """Three numbers with nothing that ties them, and a demand that none meets."""
    never = Linear((Fraction(2), Fraction(2), Fraction(2)), Fraction(0))
    with pytest.raises(TooWide):
        solve([Number(n) for n in "abc"], (), [Multiple(never, 2, 1)])


def test_a_formula_that_multiplies_numbers_is_no_sum() -> None:
    with pytest.raises(FormulaError, match="by each other"):
        linear("a*b", {"a": named(0, 2), "b": named(1, 2)}, 2)
