"""Whole numbers that come nearest to several aims at once and keep to demands: exact, by branch and bound.

An aim is a length that depends on the numbers, and what it should be. The numbers with the smallest sum of squared
deviations are found. All arithmetic is in whole numbers, so that equal is equal.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import ceil, floor, gcd, lcm

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
    spans: list[list[_Span]]
    """For each position the directions in which the numbers from there on move the aims."""
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
    numbers, rules = _narrowed(numbers, rules)
    if any(number.least > number.most for number in numbers):
        return ()
    scale = lcm(*(f.denominator for aim in aims for f in (*aim.off.factors, aim.off.fixed)))
    tests: list[list[_Test]] = [[] for _ in numbers]
    for test in (_test(rule, numbers) for rule in rules):
        tests[test.last].append(test)
    bounds = [test for group in tests for test in group if isinstance(test.rule, Bound)]
    sums = [_sum(aim.off, numbers, scale) for aim in aims]
    search = _Search(numbers, sums, tests, bounds, _spans(sums, len(numbers)))
    _choose(search, (), [aim.fixed for aim in search.aims])
    return tuple(Solution(values, Fraction(cost, scale * scale)) for cost, values in search.kept)


def _narrowed(numbers: Sequence[Number], rules: Sequence[Rule]) -> tuple[list[Number], list[Rule]]:
    """Rules that speak of one number alone become its ends and its step: the closer these are, the less is tried."""
    found, left = list(numbers), []
    for rule in rules:
        only = [at for at, factor in enumerate(rule.value.factors) if factor]
        narrower = _narrower(found[only[0]], rule, rule.value.factors[only[0]]) if len(only) == 1 else None
        if narrower is None:
            left.append(rule)
        else:
            found[only[0]] = narrower
    return found, left


def _narrower(number: Number, rule: Rule, factor: Fraction) -> Number | None:
    """The number within a rule of its own; None where a step cannot say it."""
    if isinstance(rule, Bound):
        ends = [None if end is None else (end - rule.value.fixed) / factor for end in (rule.least, rule.most)]
        low, high = ends if factor > 0 else reversed(ends)
        least = number.least if low is None else max(number.least, ceil(low))
        least = number.least + -(-(least - number.least) // number.step) * number.step
        return replace(number, least=least, most=number.most if high is None else min(number.most, floor(high)))
    if isinstance(rule, Multiple) and number.step == 1 and abs(factor) == 1 and rule.value.fixed.denominator == 1:
        first = int((rule.plus - rule.value.fixed) * factor)
        return replace(number, least=number.least + (first - number.least) % rule.of, step=rule.of)
    return None


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
    step, tests, spans = search.numbers[at].step, search.tests[at], search.spans[at + 1]
    moves, settled = _moves(search, at, sums)
    middle = _turn(search, at, sums)
    best = _best(moves, step, low, high) if middle is None else _near(middle, step, low, high)
    for start, count, by in ((best, (high - best) // step + 1, step), (best - step, (best - low) // step, -step)):
        for value in range(start, start + count * by, by):
            search.steps += 1
            if search.steps > MOST_STEPS:
                raise TooWide("too many numbers are possible")
            after = [s + a.factors[at] * value for s, a in zip(sums, search.aims, strict=True)]
            worst = search.kept[-1][0] if len(search.kept) == KEPT else None
            # Away from the turn this cost only rises, so what lies behind is no better.
            if worst is not None and middle is not None and _beyond(spans, after) >= worst:
                break
            if worst is not None and settled + _least_cost(moves, value) >= worst:
                if middle is None:
                    break
                continue
            trial = (*chosen, value)
            if all(_holds(test, trial) for test in tests):
                _choose(search, trial, after)


def _turn(search: _Search, at: int, sums: list[int]) -> Fraction | None:
    """The value that is best for all aims together if the numbers behind it could be any; None where every value is."""
    if len(search.spans[at]) == len(search.spans[at + 1]):
        return None
    vector, _ = search.spans[at][-1]
    moved = sum(a * aim.factors[at] for a, aim in zip(vector, search.aims, strict=True))
    return Fraction(-sum(a * s for a, s in zip(vector, sums, strict=True)), moved)


def _near(wanted: Fraction, step: int, low: int, high: int) -> int:
    """The value between both ends, in steps from the lower one, that comes nearest."""
    return low + min(max(0, round((wanted - low) / step)), (high - low) // step) * step


_Span = tuple[tuple[int, ...], int]
"""A direction in which open numbers can move the aims together, and the square of its length."""


def _spans(aims: Sequence[_Sum], count: int) -> list[list[_Span]]:
    """For each position the directions of the numbers from there on, made square to each other (Gram and Schmidt)."""
    found: list[list[_Span]] = [[] for _ in range(count + 1)]
    for at in reversed(range(count)):
        vector = tuple(aim.factors[at] for aim in aims)
        for other, square in found[at + 1]:
            along = sum(a * b for a, b in zip(vector, other, strict=True))
            vector = tuple(square * a - along * b for a, b in zip(vector, other, strict=True))
            common = gcd(*vector) or 1
            vector = tuple(a // common for a in vector)
        square = sum(a * a for a in vector)
        found[at] = [*found[at + 1], (vector, square)] if square else found[at + 1]
    return found


def _beyond(spans: list[_Span], sums: list[int]) -> int:
    """What a choice costs at least even if the numbers still open might be any, whole or not, large or small."""
    total = sum(s * s for s in sums)
    for vector, square in spans:
        along = sum(a * s for a, s in zip(vector, sums, strict=True))
        total -= -(-along * along // square)
    return total


_Move = tuple[int, int, int]
"""What a number does to an aim: its factor, and the least and most that the aim may come to without it."""


def _moves(search: _Search, at: int, sums: list[int]) -> tuple[list[_Move], int]:
    """The aims that the number at this position moves, and what the others cost at least whatever follows."""
    moves: list[_Move] = []
    settled = 0
    for done, aim in zip(sums, search.aims, strict=True):
        factor, low, high = aim.factors[at], done + aim.low[at + 1], done + aim.high[at + 1]
        if factor:
            moves.append((factor, low, high))
        else:
            nearest = low if low > 0 else min(0, high)
            settled += nearest * nearest
    return moves, settled


def _least_cost(moves: list[_Move], value: int) -> int:
    """What a value for the number costs at least, whatever the numbers behind it come to."""
    total = 0
    for factor, low, high in moves:
        here = factor * value
        if low + here > 0:
            total += (low + here) * (low + here)
        elif high + here < 0:
            total += (high + here) * (high + here)
    return total


def _rises(moves: list[_Move], value: int) -> bool:
    """Whether the least cost is at its lowest at the value, or rises there."""
    slope = 0
    for factor, low, high in moves:
        here = factor * value
        if low + here > 0:
            slope += factor * (low + here)
        elif high + here < 0:
            slope += factor * (high + here)
    return slope >= 0


def _best(moves: list[_Move], step: int, low: int, high: int) -> int:
    """The value where the least cost is lowest: it falls, then rises, so halving finds the turn."""
    first, last = 0, (high - low) // step
    while first < last:
        middle = (first + last) // 2
        if _rises(moves, low + middle * step):
            last = middle
        else:
            first = middle + 1
    best = low + first * step
    # The turn may lie between two values, and either may be the nearer.
    return best - step if first and _least_cost(moves, best - step) <= _least_cost(moves, best) else best


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
    """The demands of a set that cannot hold together, by their positions; a smallest set, unless the search for a
    smaller one would take too long.
    """
    sources = list(dict.fromkeys(rule.source for rule in rules))
    # The last ones tie most numbers together: without them the others are tried apart.
    for source in reversed(list(sources)):
        fewer = [rule for rule in rules if rule.source in sources and rule.source != source]
        if not _possible(numbers, fewer):
            sources.remove(source)
    return tuple(sources)


def _possible(numbers: Sequence[Number], rules: Sequence[Rule]) -> bool:
    """Whether any choice keeps to the rules; taken for possible where that cannot be told in reasonable time."""
    try:
        return bool(solve(numbers, (), rules))
    except TooWide:
        return True
