"""The standard weight classes of yarn, from `shared/yarn_weights.yaml`."""

from __future__ import annotations

from decimal import Decimal
from functools import cache
from typing import Any

from msgspec import Struct

from convert.document.records import TermSystem
from convert.trade.tables import TableError, record, table


class Range(Struct, frozen=True):
    """From and to, both included; None where that end is open."""

    least: Decimal | None
    most: Decimal | None

    def __contains__(self, value: Decimal | int) -> bool:
        """Whether the value lies in the range.

        >>> 5 in Range(None, Decimal(5)), 6 in Range(None, Decimal(5))
        (True, False)
        """
        return (self.least is None or value >= self.least) and (self.most is None or value <= self.most)


class YarnWeight(Struct, frozen=True):
    """A weight class. `gauge` and `knit` are stitches in 10 cm, `hook` is in millimetres, `metres` in 100 g."""

    number: int
    name: str
    us: tuple[str, ...]
    uk: tuple[str, ...]
    au: tuple[str, ...]
    gauge: Range
    hook: Range
    knit: Range
    metres: Range

    def called(self, system: TermSystem) -> str:
        """What readers of one system call it first.

        >>> yarn_weight(4).called(TermSystem.UK), yarn_weight(4).called(TermSystem.US)
        ('aran', 'worsted')
        """
        return (self.us if system is TermSystem.US else self.uk)[0]


def _range(pair: Any, where: str) -> Range:
    if not isinstance(pair, list) or len(pair) != 2:
        raise TableError(f"{where}: expected [from, to], found {pair!r}")
    least, most = (None if end is None else Decimal(str(end)) for end in pair)
    if least is not None and most is not None and least > most:
        raise TableError(f"{where}: {least} to {most} runs backwards")
    return Range(least, most)


def _weight(entry: dict[str, Any]) -> YarnWeight:
    where = f"yarn_weights.yaml, class {entry.get('number')!r}"
    ranges = ("gauge", "hook", "knit", "metres")
    fields = record(entry, {"number", "name", "us", "uk", "au", *ranges}, set(), where)
    gauge, hook, knit, metres = (_range(fields[key], where) for key in ranges)
    us, uk, au = (tuple(map(str, fields[key])) for key in ("us", "uk", "au"))
    return YarnWeight(int(fields["number"]), fields["name"], us, uk, au, gauge, hook, knit, metres)


@cache
def yarn_weights() -> tuple[YarnWeight, ...]:
    """Every class in order; the number is the position."""
    found = tuple(_weight(entry) for entry in table("yarn_weights"))
    if [weight.number for weight in found] != list(range(len(found))):
        raise TableError("yarn_weights.yaml: the classes do not run from 0 without gaps")
    return found


def yarn_weight(number: int) -> YarnWeight | None:
    """The class with this number; None where there is none."""
    return yarn_weights()[number] if 0 <= number < len(yarn_weights()) else None
