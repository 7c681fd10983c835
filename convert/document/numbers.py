"""Numbers of a pattern: the same for every size, one for each size, or computed from a size's own numbers."""

from __future__ import annotations

from msgspec import Struct


class PerSize(Struct, frozen=True):
    """One value for each size, in the order of the document's sizes; None where a size leaves the step out."""

    values: tuple[int | None, ...]


class Formula(Struct, frozen=True):
    """A computation over a size's numbers, such as `6*shells + 2`.

    `text` is the computation as the author wrote it, with single spaces around the operators.
    """

    text: str


Number = int | PerSize | Formula
"""A count in an instruction."""


def number_for(number: Number, size: int) -> int | None:
    """The value for the size with this index; a `Formula` has to be worked out first (see `convert.grader`).

    >>> number_for(PerSize((48, 56, 64)), 1)
    56
    >>> number_for(7, 2)
    7
    """
    if isinstance(number, int):
        return number
    if isinstance(number, PerSize):
        return number.values[size] if size < len(number.values) else None
    raise TypeError("a formula has no value before the sizes are graded")
