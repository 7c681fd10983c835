"""Whole numbers that come nearest to several aims at once and keep to demands: exact, by branch and bound.

An aim is a length that depends on the numbers, and what it should be. The numbers with the smallest sum of squared
deviations are found. All arithmetic is in whole numbers, so that equal is equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from msgspec import Struct, field
from msgspec.structs import replace

from convert.grader.linear import Linear

MOST_STEPS = 60_000
"""How many numbers one search may try. Demands that leave more open have to be narrowed by the author."""
KEPT = 3
"""The best choice and the next best ones."""


class TooWide(ValueError):
    """The search would take too long; the demands have to say more."""


class Number(Struct, frozen=True):
    """A number to be chosen: `least`, `least + step`, … up to `most`."""

    name: str
    least: int = 0
    most: int = 10_000
    step: int = 1


class Aim(Struct, frozen=True):
    """A deviation in centimetres that should be near 0."""

    off: Linear


class Bound(Struct, frozen=True):
    """A value that lies between two whole numbers, both included; None: open."""

    value: Linear
    least: int | None
    most: int | None
    source: int = -1
    """The position of the demand that it comes from."""


class Multiple(Struct, frozen=True):
    """A value that is a whole multiple of `of`, and `plus` more."""

    value: Linear
    of: int
    plus: int
    source: int = -1


class Divides(Struct, frozen=True):
    """A value that divides another without remainder."""

    value: Linear
    other: Linear
    source: int = -1


Rule = Bound | Multiple | Divides


class Solution(Struct, frozen=True):
    """One choice; `cost` is the sum of the squared deviations in square centimetres."""

    values: tuple[int, ...]
    cost: Fraction


class _Sum(Struct, frozen=True):
    """A sum in whole numbers. `low[k]` and `high[k]` are what the numbers from the k-th on add at least and at most."""

    factors: tuple[int, ...]
    fixed: int
    low: tuple[int, ...]
    high: tuple[int, ...]
    last: int
    """The position of the last number that it depends on; -1 for none."""


class _Test(Struct, frozen=True):
    """A rule, ready to be tried: its sums, all multiplied by `scale`."""

    rule: Rule
    value: _Sum
    other: _Sum | None
    scale: int

    @property
    def last(self) -> int:
        return max(self.value.last, self.other.last if self.other is not None else -1)


class _Search(Struct):
    numbers: Sequence[Number]
    aims: list[_Sum]
    tests: list[list[_Test]]
    """For each position the rules that can be tried once the number there is chosen."""
    bounds: list[_Test]
    kept: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    steps: int = 0


def solve(numbers: Sequence[Number], aims: Sequence[Aim], rules: Sequence[Rule] = ()) -> tuple[Solution, ...]:
    """The best choice first, then the next best; empty where no choice keeps to the rules. Raises `TooWide`.

    Numbers that nothing ties together are chosen apart: any of the best of one goes with any of the best of another.
    """
    best: list[Solution] = [Solution((0,) * len(numbers), Fraction(0))]
    for group in _groups(numbers, aims, rules):
        here = [numbers[at] for at in group]
        own_aims = [Aim(_only(aim.off, group)) for aim in aims if _belongs(aim.off.factors, group)]
        own_rules = [_only_rule(rule, group) for rule in rules if _belongs(_reach(rule), group)]
        found = _solve(here, own_aims, own_rules)
        best = sorted(
            (_with(old, group, new) for old in best for new in found), key=lambda one: (one.cost, one.values)
        )[:KEPT]
    fixed = sum((aim.off.fixed**2 for aim in aims if not any(aim.off.factors)), Fraction(0))
    constant = [rule for rule in rules if not any(_reach(rule))]
    if not all(_holds(_test(rule, numbers), ()) for rule in constant):
        return ()
    return tuple(Solution(one.values, one.cost + fixed) for one in best)


def _groups(numbers: Sequence[Number], aims: Sequence[Aim], rules: Sequence[Rule]) -> list[list[int]]:
    """The positions of numbers that an aim or a rule ties together."""
    parent = list(range(len(numbers)))
    ties = [tuple(map(bool, aim.off.factors)) for aim in aims] + [_reach(rule) for rule in rules]
    for tie in ties:
        tied = [at for at, speaks in enumerate(tie) if speaks]
        for at in tied[1:]:
            old, new = parent[at], parent[tied[0]]
            parent = [new if root == old else root for root in parent]
    return [[at for at, root in enumerate(parent) if root == first] for first in dict.fromkeys(parent)]


def _belongs(factors: Sequence[object], group: list[int]) -> bool:
    return any(factors[at] for at in group)


def _reach(rule: Rule) -> tuple[bool, ...]:
    """Which numbers the rule speaks of."""
    other = rule.other.factors if isinstance(rule, Divides) else rule.value.factors
    return tuple(bool(a or b) for a, b in zip(rule.value.factors, other, strict=True))


def _only(value: Linear, group: list[int]) -> Linear:
    return Linear(tuple(value.factors[at] for at in group), value.fixed)


def _only_rule(rule: Rule, group: list[int]) -> Rule:
    if isinstance(rule, Divides):
        return replace(rule, value=_only(rule.value, group), other=_only(rule.other, group))
    return replace(rule, value=_only(rule.value, group))


def _with(old: Solution, group: list[int], new: Solution) -> Solution:
    values = list(old.values)
    for at, value in zip(group, new.values, strict=True):
        values[at] = value
    return Solution(tuple(values), old.cost + new.cost)


def _solve(numbers: Sequence[Number], aims: Sequence[Aim], rules: Sequence[Rule]) -> tuple[Solution, ...]:
    """The same for numbers that are tied together."""
    scale = lcm(*(f.denominator for aim in aims for f in (*aim.off.factors, aim.off.fixed)))
    tests: list[list[_Test]] = [[] for _ in numbers]
    for test in (_test(rule, numbers) for rule in rules):
        tests[test.last].append(test)
    bounds = [test for group in tests for test in group if isinstance(test.rule, Bound)]
    search = _Search(numbers, [_sum(aim.off, numbers, scale) for aim in aims], tests, bounds)
    _choose(search, (), [aim.fixed for aim in search.aims])
    return tuple(Solution(values, Fraction(cost, scale * scale)) for cost, values in search.kept)


def _sum(value: Linear, numbers: Sequence[Number], scale: int) -> _Sum:
    factors = tuple(int(f * scale) for f in value.factors)
    low, high = [0], [0]
    for factor, number in zip(reversed(factors), reversed(numbers), strict=True):
        ends = (factor * number.least, factor * number.most)
        low.append(low[-1] + min(ends))
        high.append(high[-1] + max(ends))
    last = max((at for at, factor in enumerate(factors) if factor), default=-1)
    return _Sum(factors, int(value.fixed * scale), tuple(reversed(low)), tuple(reversed(high)), last)


def _test(rule: Rule, numbers: Sequence[Number]) -> _Test:
    others = (rule.other,) if isinstance(rule, Divides) else ()
    scale = lcm(*(f.denominator for value in (rule.value, *others) for f in (*value.factors, value.fixed)))
    other = _sum(rule.other, numbers, scale) if isinstance(rule, Divides) else None
    return _Test(rule, _sum(rule.value, numbers, scale), other, scale)


def _choose(search: _Search, chosen: tuple[int, ...], sums: list[int]) -> None:
    at = len(chosen)
    if at == len(search.numbers):
        search.kept.append((sum(s * s for s in sums), chosen))
        search.kept.sort()
        del search.kept[KEPT:]
        return
    room = _room(search, chosen)
    if room is None:
        return
    low, high = room
    step = search.numbers[at].step
    best = _best(search, at, sums, low, high)
    for start, count, by in ((best, (high - best) // step + 1, step), (best - step, (best - low) // step, -step)):
        for value in range(start, start + count * by, by):
            search.steps += 1
            if search.steps > MOST_STEPS:
                raise TooWide("too many numbers are possible")
            if len(search.kept) == KEPT and _least_cost(search, at, sums, value) >= search.kept[-1][0]:
                break
            trial = (*chosen, value)
            if all(_holds(test, trial) for test in search.tests[at]):
                _choose(search, trial, [s + a.factors[at] * value for s, a in zip(sums, search.aims, strict=True)])


def _least_cost(search: _Search, at: int, sums: list[int], value: int) -> int:
    """What a value for the number at this position costs at least, whatever the numbers behind it come to."""
    total = 0
    for done, aim in zip(sums, search.aims, strict=True):
        here = done + aim.factors[at] * value
        low, high = here + aim.low[at + 1], here + aim.high[at + 1]
        nearest = low if low > 0 else -high if high < 0 else 0
        total += nearest * nearest
    return total


def _best(search: _Search, at: int, sums: list[int], low: int, high: int) -> int:
    """The value where the least cost is lowest: it falls, then rises, so halving finds the turn."""
    step = search.numbers[at].step
    first, last = 0, (high - low) // step
    while first < last:
        middle = (first + last) // 2
        here = _least_cost(search, at, sums, low + middle * step)
        if here <= _least_cost(search, at, sums, low + (middle + 1) * step):
            last = middle
        else:
            first = middle + 1
    return low + first * step


def _room(search: _Search, chosen: tuple[int, ...]) -> tuple[int, int] | None:
    """Between which values the next number may lie, by its own ends and by every bound."""
    at = len(chosen)
    number = search.numbers[at]
    low, high = number.least, number.most
    for test in search.bounds:
        rule, value = test.rule, test.value
        factor = value.factors[at]
        if not factor or not isinstance(rule, Bound):
            continue
        done = value.fixed + sum(f * v for f, v in zip(value.factors, chosen, strict=False))
        floor = None if rule.least is None else rule.least * test.scale - done - value.high[at + 1]
        ceiling = None if rule.most is None else rule.most * test.scale - done - value.low[at + 1]
        if factor < 0:
            floor, ceiling = (None if e is None else -e for e in (ceiling, floor))
        size = abs(factor)
        low = low if floor is None else max(low, -(-floor // size))
        high = high if ceiling is None else min(high, ceiling // size)
    first = number.least + max(0, -(-(low - number.least) // number.step)) * number.step
    last = number.least + (high - number.least) // number.step * number.step
    return (first, last) if first <= last else None


def _holds(test: _Test, chosen: tuple[int, ...]) -> bool:
    """Whether a rule holds that speaks of chosen numbers alone."""
    rule, scale = test.rule, test.scale
    value = _value(test.value, chosen)
    if isinstance(rule, Bound):
        least, most = rule.least, rule.most
        return (least is None or value >= least * scale) and (most is None or value <= most * scale)
    if isinstance(rule, Multiple):
        return (value - rule.plus * scale) % (rule.of * scale) == 0
    return value > 0 and test.other is not None and _value(test.other, chosen) % value == 0


def _value(value: _Sum, chosen: tuple[int, ...]) -> int:
    return value.fixed + sum(f * v for f, v in zip(value.factors, chosen, strict=False))


def conflict(numbers: Sequence[Number], rules: Sequence[Rule]) -> tuple[int, ...]:
    """The demands of a smallest set that cannot hold together, by their positions. Raises `TooWide`."""
    sources = list(dict.fromkeys(rule.source for rule in rules))
    for source in list(sources):
        fewer = [rule for rule in rules if rule.source in sources and rule.source != source]
        if not _possible(numbers, fewer):
            sources.remove(source)
    return tuple(sources)


def _possible(numbers: Sequence[Number], rules: Sequence[Rule]) -> bool:
    return bool(solve(numbers, (), rules))
