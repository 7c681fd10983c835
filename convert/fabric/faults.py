"""What can go wrong while a row is executed. These never leave the fabric: a row's outcome turns them into findings."""

from __future__ import annotations

from msgspec import Struct, field

from convert.source import NOWHERE, Span

UNREAD = "words that are not understood"
TOLD_IN_WORDS = "a place that is told in words"
TOLD_ELSEWHERE = "work told elsewhere"
FURTHER_DOWN = "a stitch further down"
UNTOLD = "an edge that is not told"
OTHER_EDGE = "an edge other than the last row"
PIECE_EDGE = "the edge of a piece"
OPEN_TURNS = "how often it goes around is left open"
NO_NUMBER = "a number is not known"
REPORTED_ELSEWHERE = (UNREAD, NO_NUMBER)
"""Reasons that have a finding of their own, made while the pattern was read or its numbers were worked out."""


class RowStops(Exception):
    """The row cannot be executed past this step."""

    def __init__(self, span: Span, **facts: object) -> None:
        super().__init__()
        self.span = span
        self.facts = facts


class RanOut(RowStops):
    """No places are left for the step. Facts: wanted, left, what."""


class NotFound(RowStops):
    """The place that the step names is not there. Facts: wanted (words), instead (words)."""


class Unknown(RowStops):
    """The effect of the step cannot be told. Facts: why."""


class Fault(Struct, frozen=True):
    """Something wrong with a row in one size: the code of its finding, the step's span, and the figures."""

    code: str
    span: Span = NOWHERE
    facts: dict[str, object] = field(default_factory=dict)
