"""Whole numbers that come nearest to several aims at once and keep to demands: exact, by branch and bound.

An aim is a length that depends on the numbers, and what it should be. The numbers with the smallest sum of squared
deviations are found. All arithmetic is in whole numbers, so that equal is equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import lcm

from convert.grader.linear import Linear

MOST_STEPS = 60_000
"""How many numbers one search may try. Demands that leave more open have to be narrowed by the author."""
KEPT = 3
"""The best choice and the next best ones."""


class TooWide(ValueError):
    """The search would take too long; the demands have to say more."""


@dataclass(frozen=True, slots=True)
class Number:
    """A number to be chosen: `least`, `least + step`, … up to `most`."""

    name: str
    least: int = 0
    most: int = 10_000
    step: int = 1


@dataclass(frozen=True, slots=True)
class Aim:
    """A deviation in centimetres that should be near 0."""

    off: Linear


@dataclass(frozen=True, slots=True)
class Bound:
    """A value that lies between two whole numbers, both included; None: open."""

    value: Linear
    least: int | None
    most: int | None
    source: int = -1
    """The position of the demand that it comes from."""


@dataclass(frozen=True, slots=True)
class Multiple:
    """A value that is a whole multiple of `of`, and `plus` more."""

    value: Linear
    of: int
    plus: int
    source: int = -1


@dataclass(frozen=True, slots=True)
class Divides:
    """A value that divides another without remainder."""

    value: Linear
    other: Linear
    source: int = -1


Rule = Bound | Multiple | Divides


@dataclass(frozen=True, slots=True)
class Solution:
    """One choice; `cost` is the sum of the squared deviations in square centimetres."""

    values: tuple[int, ...]
    cost: Fraction


@dataclass(slots=True)
class _Search:
    numbers: Sequence[Number]
    aims: list[tuple[tuple[int, ...], int]]
    rules: Sequence[Rule]
    scale: int
    kept: list[tuple[int, tuple[int, ...]]] = field(default_factory=list)
    steps: int = 0


def solve(numbers: Sequence[Number], aims: Sequence[Aim], rules: Sequence[Rule] = ()) -> tuple[Solution, ...]:
    """The best choice first, then the next best; empty where no choice keeps to the rules. Raises `TooWide`."""
    scale = lcm(*(f.denominator for aim in aims for f in (*aim.off.factors, aim.off.fixed)))
    whole = [(tuple(int(f * scale) for f in aim.off.factors), int(aim.off.fixed * scale)) for aim in aims]
    search = _Search(numbers, whole, rules, scale)
    _choose(search, ())
    return tuple(Solution(values, Fraction(cost, scale * scale)) for cost, values in search.kept)


def _choose(search: _Search, chosen: tuple[int, ...]) -> None:
    if len(chosen) == len(search.numbers):
        search.kept.append((_least_cost(search, chosen), chosen))
        search.kept.sort()
        del search.kept[KEPT:]
        return
    room = _room(search, chosen)
    if room is None:
        return
    low, high = room
    number = search.numbers[len(chosen)]
    best = _best(search, chosen, low, high)
    for start, stop, by in ((best, high, number.step), (best - number.step, low, -number.step)):
        value = start
        while (value <= stop) if by > 0 else (value >= stop):
            search.steps += 1
            if search.steps > MOST_STEPS:
                raise TooWide("too many numbers are possible")
            trial = (*chosen, value)
            if len(search.kept) == KEPT and _least_cost(search, trial) >= search.kept[-1][0]:
                break
            if _allowed(search, trial):
                _choose(search, trial)
            value += by


def _least_cost(search: _Search, chosen: tuple[int, ...]) -> int:
    """What the choice costs at least, whatever the numbers that are still open come to."""
    rest = search.numbers[len(chosen) :]
    total = 0
    for factors, fixed in search.aims:
        low = high = fixed + sum(f * v for f, v in zip(factors, chosen, strict=False))
        for factor, number in zip(factors[len(chosen) :], rest, strict=True):
            ends = (factor * number.least, factor * number.most)
            low, high = low + min(ends), high + max(ends)
        nearest = low if low > 0 else -high if high < 0 else 0
        total += nearest * nearest
    return total


def _best(search: _Search, chosen: tuple[int, ...], low: int, high: int) -> int:
    """The value of the next number where the least cost is lowest: it falls, then rises, so halving finds the turn."""
    step = search.numbers[len(chosen)].step
    first, last = 0, (high - low) // step
    while first < last:
        middle = (first + last) // 2
        here = _least_cost(search, (*chosen, low + middle * step))
        there = _least_cost(search, (*chosen, low + (middle + 1) * step))
        if here <= there:
            last = middle
        else:
            first = middle + 1
    return low + first * step


def _room(search: _Search, chosen: tuple[int, ...]) -> tuple[int, int] | None:
    """Between which values the next number may lie, by its own ends and by every bound."""
    at = len(chosen)
    number = search.numbers[at]
    low, high = Fraction(number.least), Fraction(number.most)
    for rule in search.rules:
        factor = rule.value.factors[at] if isinstance(rule, Bound) else Fraction(0)
        if isinstance(rule, Bound) and factor:
            least, most = _rest(search, rule.value, chosen)
            ends = [
                (rule.least - most) / factor if rule.least is not None else None,
                (rule.most - least) / factor if rule.most is not None else None,
            ]
            floor, ceiling = ends if factor > 0 else ends[::-1]
            low = low if floor is None else max(low, floor)
            high = high if ceiling is None else min(high, ceiling)
    steps = -(-(low - number.least) // number.step)
    first = number.least + max(0, int(steps)) * number.step
    last = number.least + int((high - number.least) // number.step) * number.step
    return (first, last) if first <= last else None


def _rest(search: _Search, value: Linear, chosen: tuple[int, ...]) -> tuple[Fraction, Fraction]:
    """What a value comes to at least and at most without the number that is next."""
    low = high = value.fixed + sum(f * v for f, v in zip(value.factors, chosen, strict=False))
    for factor, number in zip(value.factors[len(chosen) + 1 :], search.numbers[len(chosen) + 1 :], strict=True):
        ends = (factor * number.least, factor * number.most)
        low, high = low + min(ends), high + max(ends)
    return low, high


def _allowed(search: _Search, chosen: tuple[int, ...]) -> bool:
    """Whether every rule holds that speaks of chosen numbers alone."""
    rest = len(search.numbers) - len(chosen)
    values = (*chosen, *(0,) * rest)
    return all(_holds(rule, values) for rule in search.rules if not rest or not any(_reach(rule)[len(chosen) :]))


def _reach(rule: Rule) -> tuple[bool, ...]:
    """Which numbers the rule speaks of."""
    other = rule.other.factors if isinstance(rule, Divides) else (Fraction(0),) * len(rule.value.factors)
    return tuple(bool(a or b) for a, b in zip(rule.value.factors, other, strict=True))


def _holds(rule: Rule, values: tuple[int, ...]) -> bool:
    value = rule.value.at(values)
    if isinstance(rule, Bound):
        return (rule.least is None or value >= rule.least) and (rule.most is None or value <= rule.most)
    if isinstance(rule, Multiple):
        return (value - rule.plus) % rule.of == 0
    return value > 0 and rule.other.at(values) % value == 0


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
