"""Have you enough? How far the yarn that a maker has in hand reaches: which sizes, and in each the part and row."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from decimal import Decimal
from enum import StrEnum
from functools import cache

from msgspec import Struct

from convert.document.lengths import CENTIMETRES, parse_length
from convert.document.materials import Yarn
from convert.document.records import Document
from convert.document.units import WEIGHTS
from convert.grader.measuring import Measured, PartMeasure, SizeMeasure
from convert.grader.yarn_needs import Need, called, row_units
from convert.trade.tables import table

_TOO_MUCH = Decimal(10**9)
_NUMBER = r"\d{1,7}(?:[.,]\d{1,3})?"
_ROUNDED = 1e-9
"""What adding up many rows may lose, as a share of the yarn."""
_HINT = "such as “A=3 balls”, “A=250 g”, “A=400 m”, “A=430 yd” or “A=3 x 125 m”"


class NoAmount(ValueError):
    """Yarn in hand that cannot be read; the text says what was expected."""


class InHand(Struct, frozen=True):
    """Yarn that a maker has: `yarn` is the place of the yarn in the pattern, `said` the maker's words.

    `metres` or `grams` is None where neither the words nor the ball tell it; never both.
    """

    yarn: int
    said: str
    metres: float | None
    grams: float | None


class Stop(Struct, frozen=True):
    """Where the yarn ends: `rows` rows of the part are done of `of`, in the `copy`-th of `make` alike.

    `yarn` is the place of the yarn that ends first.
    """

    part: str
    name: str
    copy: int
    make: int
    rows: int
    of: int
    yarn: int


class Enough(StrEnum):
    """Whether the yarn is enough for a size."""

    SURELY = "surely"
    """Even at the upper end of the range."""
    PERHAPS = "perhaps"
    """At its lower end."""
    NO = "no"
    UNKNOWN = "unknown"
    """Nothing is known of the yarn that the size takes, or not every row could be executed."""


class Reach(Struct, frozen=True):
    """How far one size gets. A stop is None where the yarn is enough for all of it, or nothing is known."""

    size: str
    enough: Enough
    surely: Stop | None = None
    at_best: Stop | None = None

    @property
    def stops(self) -> tuple[Stop, ...]:
        """Where the yarn ends, at the upper and at the lower end of the range."""
        return tuple(stop for stop in (self.surely, self.at_best) if stop is not None)


class Reached(Struct, frozen=True):
    """Every size, in the order of the document. Yarns that the maker did not name are taken as enough."""

    amounts: tuple[InHand, ...]
    sizes: tuple[Reach, ...]

    def largest(self, *enough: Enough) -> str | None:
        """The id of the last size with one of these answers; None where there is none."""
        return next((reach.size for reach in reversed(self.sizes) if reach.enough in enough), None)


def read_in_hand(text: str, document: Document) -> InHand:
    """Yarn in hand in words: `NAME=AMOUNT`, or the amount alone where the pattern has one yarn.

    The name is the letter that the rows call the yarn by, its name or its colour. A bare number counts balls.
    Raises `NoAmount`.
    """
    name, equals, amount = text.rpartition("=")
    index = _yarn_index(name.strip(), document.materials.yarns, named=bool(equals))
    yarn = document.materials.yarns[index]
    return _amount(amount.strip(), index, yarn)


def _yarn_index(name: str, yarns: Sequence[Yarn], *, named: bool) -> int:
    known = ", ".join(dict.fromkeys(yarn.key or yarn.name for yarn in yarns))
    if not yarns:
        raise NoAmount("the pattern names no yarn, so none can be in hand for it")
    if not named:
        if len(yarns) > 1:
            raise NoAmount(f"the pattern has several yarns ({known}): say which one is in hand, {_HINT}")
        return 0
    said = name.casefold()
    for calls in ([y.key for y in yarns], [y.name for y in yarns], [y.colour for y in yarns]):
        hits = [index for index, call in enumerate(calls) if call.casefold() == said != ""]
        if len(hits) == 1:
            return hits[0]
    raise NoAmount(f'the pattern has no yarn "{name}" (yarns: {known})')


@cache
def _balls() -> re.Pattern[str]:
    """ "3", "3 balls", "3 x 125 m", "3 skeins of 50 g": the number, and what one holds if that is said."""
    either = "|".join(map(re.escape, table("materials")["balls"]))
    ties = r"(?:\s*(?:of|at|[x×*/])\s*)?"
    return re.compile(rf"({_NUMBER})\s*(?:[x×*]\s*)?(?:(?:{either})\b)?{ties}(.*)\Z", re.IGNORECASE)


def _amount(said: str, index: int, yarn: Yarn) -> InHand:
    """The amount in words, with what it is by the other measure where the ball tells that."""
    found = _one(said, yarn) or _many(said, yarn)
    metres, grams = found or (None, None)
    if not 0 < (metres or grams or 0) < _TOO_MUCH:
        raise NoAmount(f'"{said}" is no amount of yarn {_HINT}')
    return InHand(index, said, None if metres is None else float(metres), None if grams is None else float(grams))


def _many(said: str, yarn: Yarn) -> tuple[Decimal | None, Decimal | None] | None:
    """So many balls, each of what is said or else of what the pattern says."""
    match = _balls().match(said)
    if match is None:
        return None
    rest = match[2].strip()
    each = _one(rest, yarn) if rest else (yarn.ball_metres, yarn.ball_grams)
    if each == (None, None):
        called = yarn.name or yarn.key
        raise NoAmount(f"the pattern does not say what a ball of {called} holds: give grams, metres or yards")
    many = Decimal(match[1].replace(",", "."))
    return (each[0] and each[0] * many, each[1] and each[1] * many) if each is not None else None


def _one(said: str, yarn: Yarn) -> tuple[Decimal | None, Decimal | None] | None:
    """A length or a weight as metres and grams; None where it is neither."""
    known = yarn.ball_metres and yarn.ball_grams
    length = parse_length(said)
    if length is not None:
        metres = length.cm / CENTIMETRES["m"]
        return metres, metres * yarn.ball_grams / yarn.ball_metres if known else None  # type: ignore[operator]  # both known
    match = re.fullmatch(rf"({_NUMBER})\s*({'|'.join(WEIGHTS)})(?:rams?|r|s)?\.?", said, re.IGNORECASE)
    if match is None:
        return None
    grams = Decimal(match[1].replace(",", ".")) * WEIGHTS[match[2].lower()]
    return grams * yarn.ball_metres / yarn.ball_grams if known else None, grams  # type: ignore[operator]  # both known


def reached(document: Document, measured: Measured, amounts: Sequence[InHand]) -> Reached:
    """How far the yarn in hand reaches in every size. Several amounts of one yarn are put together."""
    return Reached(tuple(amounts), tuple(_reach(document, size, amounts) for size in measured.sizes))


def _reach(document: Document, size: SizeMeasure, amounts: Sequence[InHand]) -> Reach:
    spent = _spent(size.yarn, amounts)
    if spent is None or not all(part.whole for part in size.parts):
        return Reach(size.size, Enough.UNKNOWN)
    surely = _stop(document, size.parts, {yarn: share * (1 + size.yarn[yarn].margin) for yarn, share in spent.items()})
    at_best = _stop(document, size.parts, {yarn: share * (1 - size.yarn[yarn].margin) for yarn, share in spent.items()})
    enough = Enough.SURELY if surely is None else Enough.PERHAPS if at_best is None else Enough.NO
    return Reach(size.size, enough, surely, at_best)


def _spent(needs: Sequence[Need], amounts: Sequence[InHand]) -> Mapping[int, float] | None:
    """By yarn: the share of what is in hand that one single crochet takes. None where nothing is known of one."""
    found: dict[int, float] = {}
    for yarn in dict.fromkeys(amount.yarn for amount in amounts):
        need, have = needs[yarn], [amount for amount in amounts if amount.yarn == yarn]
        held = (_together([amount.grams for amount in have]), _together([amount.metres for amount in have]))
        shares = [takes / has for takes, has in zip((need.grams, need.metres), held, strict=True) if takes and has]
        if not shares and need.units:
            return None
        found[yarn] = shares[0] / need.units if need.units else 0.0
    return found


def _together(values: Sequence[float | None]) -> float | None:
    return None if any(value is None for value in values) else sum(value or 0 for value in values)


def _stop(document: Document, parts: Sequence[PartMeasure], spent: Mapping[int, float]) -> Stop | None:
    """The row in which the first yarn ends, every part worked as often as it is made, in the order of the pattern."""
    calls = called(document.materials.yarns)
    left = dict.fromkeys(spent, 1.0)
    for part in parts:
        for copy in range(1, part.make + 1):
            for done, row in enumerate(part.worked):
                for yarn, use in row_units(row, calls):
                    if yarn not in spent:
                        continue
                    left[yarn] -= use * spent[yarn]
                    if left[yarn] < -_ROUNDED:
                        return Stop(part.part, part.name, copy, part.make, done, len(part.worked), yarn)
    return None
