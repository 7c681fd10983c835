"""Sizes and what their numbers follow from: measurements, gauge, fits, demands."""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

from msgspec import Struct, field

from convert.document.extra import Extra
from convert.document.lengths import Length
from convert.document.placed import Placed
from convert.document.prose import Prose
from convert.source import NOWHERE, Span


class Measure(Struct, frozen=True):
    """A named measurement, such as `width`, with its length."""

    name: str
    length: Length


class NamedNumber(Struct, frozen=True):
    """A number that formulas in the rows may use."""

    name: str
    value: int


class Size(Placed, frozen=True, eq=False):
    """One size. `target` is what it should measure; `numbers` are values that the author gives for formulas."""

    id: str
    name: str
    target: tuple[Measure, ...] = ()
    numbers: tuple[NamedNumber, ...] = ()
    to_fit: str = ""
    """Whom or what the size fits, in words ("head 52-55 cm")."""
    body: str = ""
    """A size of a table of bodies, such as "child 4": targets are made from its measurements."""
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE


class Along(StrEnum):
    """Which side of the gauge turns a number into a length."""

    STITCHES = "stitches"
    ROWS = "rows"


class Fit(Placed, frozen=True, eq=False):
    """A whole number that the grader chooses for each size, so that the piece comes nearest to a target.

    The piece measures `across * (each * number + plus)` stitches or rows by the gauge, plus `edging` (all of it,
    both sides together). `across` is 2 for work from a centre outwards. `step` and `least`/`most` bound the
    number.
    """

    number: str
    target: str
    along: Along
    each: int = 1
    plus: int = 0
    across: int = 1
    edging: Length | None = None
    least: int = 0
    most: int = 10_000
    step: int = 1
    tolerance: Length | None = None
    """How far off the target the piece may come out before it is reported."""
    count: str = ""
    """A formula over other numbers that yields this one (`2*front + 2*underarm`): they are chosen together."""
    stitch: str | None = None
    """The stitch that is worked there, where it is not the one of the gauge."""
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE


class Demand(Placed, frozen=True, eq=False):
    """What the numbers of every size must keep to, besides coming near their targets.

    `number` is the number that is meant; with `count` it is a new name for what that formula yields. The number
    is a multiple of `multiple` and `plus` more, as large as the formula `equals`, a divisor of the formula
    `divides`, and not less than `least` nor more than `most`.
    """

    number: str
    count: str = ""
    multiple: int = 1
    plus: int = 0
    equals: str = ""
    divides: str = ""
    least: int | None = None
    most: int | None = None
    span: Span = NOWHERE


class BodyTarget(Placed, frozen=True, eq=False):
    """A target that every size with a body gets from it: the body's measurement `body`, and the ease."""

    target: str
    body: str
    ease: Length | None = None
    """Added to the measurement; negative ease is `less`."""
    less: Length | None = None
    fit: str = ""
    """A fit of the table of ease ("classic") in place of a length."""
    span: Span = NOWHERE


class Gauge(Placed, frozen=True, eq=False):
    """Stitches and rows over a length; `stitch` is the stitch it was measured in, `words` a pattern in words.

    In place of stitches, `repeats` of the stitch pattern may be counted, each of `repeat` stitches.
    """

    stitches: Decimal | None = None
    rows: Decimal | None = None
    over: Length = field(default_factory=lambda: Length(Decimal(10)))
    stitch: str | None = None
    rounds: bool = False
    words: Prose = ()
    repeats: Decimal | None = None
    repeat: int = 0
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE

    @property
    def counted(self) -> Decimal | None:
        """Stitches over the length, counted one by one or by repeats of the pattern.

        >>> Gauge(repeats=Decimal(2), repeat=6).counted
        Decimal('12')
        """
        if self.stitches is not None or self.repeats is None or not self.repeat:
            return self.stitches
        return self.repeats * self.repeat
