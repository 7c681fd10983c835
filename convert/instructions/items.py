"""What stands between the steps while a row is read: repeat marks, "repeat from" clauses, sentence ends."""

from __future__ import annotations

from msgspec import Struct

from convert.document.numbers import Number
from convert.document.steps import Extent, Place, Step
from convert.source import NOWHERE, Span


class Mark(Struct, frozen=True):
    """A sign such as `*` or `**` that a repeat refers to."""

    sign: str
    span: Span = NOWHERE
    used: bool = False
    """A repeat refers to it already; a later one may refer to it again, around the first."""


class Ends(Struct, frozen=True):
    """The end of a sentence, or (`ending`) the words "ending with", which tell how the last repeat differs."""

    ending: bool = False
    fitting: bool = False
    """ "Ending to correspond"."""
    at_sign: str = ""
    span: Span = NOWHERE


class HowOften(Struct, frozen=True):
    """How often or how far a repeat goes."""

    extent: Extent
    times: Number = 1
    place: Place | None = None
    doubtful: bool = False
    ending_sign: str = ""


class RepeatFrom(Struct, frozen=True):
    """ "Rep from * around": refers back to the last mark with this sign.

    `between` tells that the repeat is of what stands between two such marks.
    """

    sign: str
    how: HowOften
    between: bool = False
    whole: bool = False
    """The word "repeat" alone: everything since the last mark or the row's beginning."""
    first: bool = False
    """ "From 1st *": the first mark with this sign."""
    words: str = ""
    """The clause as typed, to be kept where there is nothing to repeat."""
    span: Span = NOWHERE


Item = Step | Mark | Ends | RepeatFrom
