"""Reads rows that name one stitch and nothing more: "Rnd 5: Sc. (24)", "Rnd 8: Inc. (12)", "Rnd 3: Sc in BLO. (18)"."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import (
    Chain,
    ChangeColour,
    Decrease,
    Extent,
    FastenOff,
    Join,
    Repeat,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.instructions.words.cursor import Context
from convert.instructions.words.lexicon import Lexeme, lexemes
from convert.source import NOWHERE, Passage, Span

_BESIDE = (Join, Turn, FastenOff, ChangeColour)


def all_along(steps: tuple[Step, ...], body: Passage, context: Context) -> tuple[Step, ...]:
    """The steps of a row whose work is one bare stitch, which is then worked into every stitch.

    `body` is the text of the row behind its label. A row of a single stitch would say so; where the row below has one
    only, it comes to the same. Common practice of toy makers, no source.
    """
    worked = [index for index, step in enumerate(steps) if not _is_beside(step, index)]
    if len(worked) != 1:
        return steps
    at = worked[0]
    whole = _each(steps[at], body, context)
    return (*steps[:at], whole, *steps[at + 1 :]) if whole is not None else steps


def _is_beside(step: Step, index: int) -> bool:
    """Whether a step works into no stitch of the row: a beginning chain, a join, a turn, a remark."""
    if isinstance(step, Verbatim):
        return step.inert
    return isinstance(step, _BESIDE) or (isinstance(step, Chain) and (index == 0 or step.number == 1))


def _each(step: Step, body: Passage, context: Context) -> Step | None:
    """The step worked all along, if nothing says into how many places it goes."""
    if isinstance(step, Decrease):
        bare = len(step.places) == 1 and step.places[0].span == NOWHERE
        return Repeat((step,), Extent.END, span=step.span) if bare else None
    if not isinstance(step, Work) or step.place is None:
        return None
    place = step.place
    plain = place.what is What.STITCH and place.which is Which.NEXT and place.number == 1 and place.of is None
    if not plain or place.words or place.within is not None or not _is_bare(step.span, body, context):
        return None
    return replace(step, place=replace(place, which=Which.EACH), said_doubtful=True)


def _is_bare(span: Span, body: Passage, context: Context) -> bool:
    """Whether a stretch names a stitch, and its loops at most: no number and no place."""
    first, last = (span.line, span.column), (span.end_line, span.end_column)
    words = lexemes(body.text, context.system, context.specials)
    inside = [word for word in words if first <= body.place(word.start) < last]
    return sum(word.kind == "stitch" for word in inside) >= 1 and not any(map(_says_where, inside))


def _says_where(word: Lexeme) -> bool:
    return word.kind in ("num", "ord", "formula") or (word.kind == "word" and word.id in _PLACES)


_PLACES = frozenset(
    {"next", "stitch", "same", "first", "last", "place", "space", "ring", "each", "around", "across", "other"}
)
