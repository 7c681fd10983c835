"""What the maker needs: yarns with their amounts, hooks, notions."""

from __future__ import annotations

from decimal import Decimal

from msgspec import Struct

from convert.document.extra import Extra
from convert.document.lengths import Length
from convert.document.placed import Placed
from convert.document.prose import Prose
from convert.source import NOWHERE, Span


class Amount(Struct, frozen=True):
    """How much of a yarn, per size in the order of the sizes or one value for all."""

    balls: tuple[Decimal, ...] = ()
    metres: tuple[Decimal, ...] = ()
    grams: tuple[Decimal, ...] = ()


class Weighed(Placed, frozen=True, eq=False):
    """A piece of this yarn that was put on the scales: what the estimate of the yarn rests on.

    Either a swatch of `stitches` by `rows` in one `stitch`, or a piece of `width` by `height`, or the finished
    sample in the size `size`.
    """

    grams: Decimal
    stitches: int = 0
    rows: int = 0
    stitch: str | None = None
    width: Length | None = None
    height: Length | None = None
    size: str = ""
    span: Span = NOWHERE


class Yarn(Placed, frozen=True, eq=False):
    """A yarn of the pattern. `key` is the letter or name the rows call it by."""

    name: str
    key: str = ""
    weight: int | None = None
    """Standard weight class, 0 (lace) to 7 (jumbo)."""
    fibre: str = ""
    colour: str = ""
    ball_grams: Decimal | None = None
    ball_metres: Decimal | None = None
    amount: Amount = Amount()
    weighed: Weighed | None = None
    note: Prose = ()
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE


class Hook(Placed, frozen=True, eq=False):
    """A hook by its diameter."""

    mm: Decimal
    use: Prose = ()
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE


class Materials(Struct, frozen=True):
    """What the maker needs."""

    yarns: tuple[Yarn, ...] = ()
    hooks: tuple[Hook, ...] = ()
    notions: tuple[Prose, ...] = ()
