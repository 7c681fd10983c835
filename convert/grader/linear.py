"""Formulas that only add and multiply by fixed numbers, taken apart: one factor for every number."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from functools import lru_cache

from msgspec import Struct

from convert.grader.formulas import FormulaError, names_in, work_out


class Linear(Struct, frozen=True):
    """`factors[0] * first number + factors[1] * second + … + fixed`."""

    factors: tuple[Fraction, ...]
    fixed: Fraction

    def at(self, values: Sequence[int]) -> Fraction:
        """Its value for these numbers."""
        return sum((f * v for f, v in zip(self.factors, values, strict=True) if f), self.fixed)

    def scaled(self, factor: Fraction, plus: Fraction = Fraction(0)) -> Linear:
        """`factor * itself + plus`."""
        return Linear(tuple(factor * f if f else f for f in self.factors), factor * self.fixed + plus)

    def plus(self, other: Linear) -> Linear:
        """The sum of both."""
        pairs = zip(self.factors, other.factors, strict=True)
        return Linear(tuple(a + b if a and b else a or b for a, b in pairs), self.fixed + other.fixed)

    def minus(self, other: Linear) -> Linear:
        """The difference of both."""
        return Linear(tuple(a - b for a, b in zip(self.factors, other.factors, strict=True)), self.fixed - other.fixed)


def named(index: int, count: int) -> Linear:
    """The number at this position among `count` numbers, by itself."""
    return Linear(tuple(Fraction(int(i == index)) for i in range(count)), Fraction(0))


def linear(text: str, known: Mapping[str, Linear], count: int) -> Linear:
    """The formula over numbers that are linear themselves.

    Raises `FormulaError` where it multiplies or divides one chosen number by another.

    >>> linear("2*(a + 3) - b", {"a": named(0, 2), "b": named(1, 2)}, 2)
    Linear(factors=(Fraction(2, 1), Fraction(-1, 1)), fixed=Fraction(6, 1))
    """
    names = names_in(text)
    missing = next((name for name in names if name not in known), None)
    if missing is not None:
        raise FormulaError(f"there is no number called “{missing}”")
    own = _own(text, names)
    found = Linear((Fraction(0),) * count, own.fixed)
    for name, factor in zip(names, own.factors, strict=True):
        found = found.plus(known[name].scaled(factor))
    return found


@lru_cache(maxsize=500)
def _own(text: str, names: tuple[str, ...]) -> Linear:
    """The formula over the names that it uses itself; the same for every size."""

    def worth(values: Sequence[int]) -> Fraction:
        return work_out(text, dict(zip(names, values, strict=True)))

    count = len(names)
    fixed = worth([0] * count)
    found = Linear(tuple(worth([int(i == k) for i in range(count)]) - fixed for k in range(count)), fixed)
    # Three uneven points tell any product or quotient of two numbers from a sum.
    for probe in (
        [7 + 4 * k for k in range(count)],
        [2 + 9 * k for k in range(count)],
        [31 + k * k for k in range(count)],
    ):
        if worth(probe) != found.at(probe):
            raise FormulaError("it multiplies or divides chosen numbers by each other")
    return found
