"""Shaping that stands in a part in place of rows; the grader writes the rows out, size by size."""

from __future__ import annotations

from enum import StrEnum

from msgspec import Struct

from convert.document.numbers import Number
from convert.document.steps import Step


class Shaping(Struct, frozen=True):
    """A schedule of shaping that the grader turns into rows: from `start` to `end` stitches over `rows` rows.

    Every shaping row changes the number of stitches by `each`. Shaping rows stand on every `step`-th row only: 2
    for those of the right side alone, where the schedule begins with a row of the wrong side. `before` rows are
    worked even first, `after` rows at the end.
    """

    start: Number
    end: Number
    rows: Number
    shaped: tuple[Step, ...]
    even: tuple[Step, ...]
    each: int = 2
    step: int = 1
    before: int = 0
    after: int = 0
    rounds: bool = False


class BlockKind(StrEnum):
    """What a block of shaping makes."""

    SPREAD = "spread"
    """One row or round whose increases or decreases are spread evenly."""
    ARMHOLE = "armhole"
    """A notch at both edges, decreases at both, then rows worked even."""
    NECK = "neck"
    """One side of a neck, from the row that is worked towards it."""
    RAGLAN = "raglan"
    """A notch at both edges, then decreases at both all the way up."""
    YOKE = "yoke"
    """Rounds that grow at four corners: front, sleeve, back, sleeve."""
    SLEEVE_CAP = "sleeve-cap"
    """A notch at both edges, then decreases that are quick at first and at last, and slow between."""
    CROWN = "crown"
    """Rounds that grow or shrink by one stitch in each of several sections."""
    SHOULDER = "shoulder"
    """A shoulder in steps: stitches left unworked at the end of every second row."""


class Block(Struct, frozen=True):
    """Shaping of a usual kind in one `stitch`, which the grader turns into rows from its numbers alone.

    `begin` and `close` are the steps that every row or round begins and ends with; work in rows turns where `close`
    says nothing. A number that a kind does not need is None, and so is one that the usual practice is taken for.
    """

    kind: BlockKind
    stitch: str
    begin: tuple[Step, ...] = ()
    close: tuple[Step, ...] = ()
    start: Number | None = None
    """Stitches before it."""
    end: Number | None = None
    """Stitches after it."""
    rows: Number | None = None
    """All its rows or rounds."""
    notch: Number | None = None
    """Stitches left off at once, at each edge that is shaped."""
    sleeve: Number | None = None
    """Stitches of a yoke between two corners of a sleeve."""
    sections: Number | None = None
    """Sections of a crown, or steps of a shoulder."""
    step: int = 1
    """2 where only every second row shapes."""
    edge: int = 1
    """Stitches worked plain outside a decrease at the edge."""
    rounds: bool = False
    """Whether a spread is worked in a round."""


NUMBERS = ("start", "end", "rows", "notch", "sleeve", "sections")
"""The numbers that a block may be given."""
