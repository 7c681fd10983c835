"""Writes rows: label, side, sizes, instructions and stated count, on one line or in parts."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import Row, Side
from convert.document.steps import (
    Again,
    Begin,
    ChangeColour,
    FastenOff,
    Join,
    Origin,
    Place,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    Work,
)
from convert.instructions.repeats.repeat import is_one
from convert.instructions.writing.counts import write_count
from convert.instructions.writing.labels import write_label
from convert.instructions.writing.pieces import joined, separated
from convert.instructions.writing.wording import Wording
from convert.instructions.writing.writer import InRow, write_sentences
from convert.source import NOWHERE
from convert.terms.naming import write_prose


class RowText(Struct, frozen=True):
    """The parts of a written row, for typography."""

    label: str
    side: str
    sizes: str
    before: str
    body: Prose
    stated: Prose


def write_row(row: Row, wording: Wording, opening: ChangeColour | None = None) -> str:
    """A row on one line: label, instructions, stated count. `read_row` reads it back into the same row.

    `opening` is the step that takes up the first yarn of its part (see `opening_colour`).
    """
    text = row_text(row, wording, opening)
    asides = [part for part in (text.side, text.sizes) if part]
    label = text.label + "".join(f" ({part})" for part in asides)
    body = write_prose(text.body, wording.system, wording.specials)
    stated = write_prose(text.stated, wording.system, wording.specials)
    before = f" {text.before}" if text.before and text.label else ""
    if not text.label:
        label = "".join(f"Sizes {part.removeprefix('sizes ').removesuffix(' only')} only" for part in asides[:1])
    head = f"{label}{before}: " if label else ""
    tail = f" — {stated}" if stated else ""
    return f"{head}{body}{tail}".strip()


def row_text(row: Row, wording: Wording, opening: ChangeColour | None = None) -> RowText:
    """A row in its parts. `opening` is the step that takes up the first yarn of its part (see `opening_colour`)."""
    inner = InRow(wording, "around" if _is_round(row) else "across", opening=opening)
    body = write_sentences(_with_early_counts(row, wording), inner)
    stated = separated([write_count(item, wording) for item in row.stated if not item.early], ", ")
    return RowText(
        label=write_label(row.label, wording),
        side={Side.RIGHT: "RS", Side.WRONG: "WS", None: ""}[row.label.side],
        sizes=_sizes(row.sizes, wording),
        before=write_prose(row.before, wording.system, wording.specials),
        body=body,
        stated=stated,
    )


def _with_early_counts(row: Row, wording: Wording) -> tuple[Step, ...]:
    """The steps, with the counts that stand in front of rows worked again in a bracket there."""
    early = separated([write_count(item, wording) for item in row.stated if item.early], ", ")
    at = _early_at(row.steps) if early else 0
    steps = _with_ring_unsaid(row)
    return (*steps[:at], Verbatim(joined("(", early, ")"), True), *steps[at:]) if early else steps


def _with_ring_unsaid(row: Row) -> tuple[Step, ...]:
    """The steps, with no place behind the stitches of a round 1 that only tells how many they are: "Rnd 1: 6 sc" leaves
    it to the maker that they go into a ring, and there are no stitches yet that they could go into.
    """
    first, behind = (row.steps[0], row.steps[1:]) if row.steps else (None, ())
    if row.label.first != 1 or not row.label.kind.is_round or not isinstance(first, Work) or first.place is None:
        return row.steps
    place = first.place
    untold = place.span == NOWHERE and place == Place(number=place.number) and first.each == 1
    if not untold or is_one(place.number) or not all(map(_closes, behind)):
        return row.steps
    return (replace(first, each=place.number, place=None), *behind)


def _early_at(steps: tuple[Step, ...]) -> int:
    """Where the early count goes: in front of rows worked again, or behind them where they stand first."""
    behind = enumerate(steps[1:], 1)
    if steps and isinstance(steps[0], Again):
        return next((at for at, step in behind if isinstance(step, Verbatim) or not _closes(step)), 0)
    return next((at for at, step in behind if isinstance(step, Again)), 0) or next(
        (at for at, step in enumerate(steps) if at and not _closes(step)), 0
    )


def _closes(step: Step) -> bool:
    return isinstance(step, Verbatim | Join | Turn | FastenOff | ChangeColour)


def _is_round(row: Row) -> bool:
    """Whether the row goes around; where its label does not say, a turn tells that it goes across, and so does work
    along a chain from the hook that neither comes around its end nor is joined.
    """
    said = row.label.kind.is_round
    if said is not None:
        return said
    if any(isinstance(step, Turn) for step in row.steps):
        return False
    closes = any(isinstance(s, Join) or (isinstance(s, Begin) and s.start is Start.OTHER_SIDE) for s in row.steps)
    places = [step.place for step in row.steps if isinstance(step, Work | Slip)]
    return closes or not any(place is not None and place.origin is Origin.HOOK for place in places)


def _sizes(ids: tuple[str, ...], wording: Wording) -> str:
    if not ids:
        return ""
    names = dict(zip(wording.size_ids, wording.size_names, strict=True))
    return f"sizes {', '.join(names.get(id) or id for id in ids)} only"


def opening_colour(rows: Iterable[Row]) -> ChangeColour | None:
    """The first yarn of a part, if its first row begins with it: "With A, ch 5"; there is nothing yet to change from.

    `rows` are those of the part in their order. None where stitches come before any yarn is named.
    """
    for row in rows:
        if row.steps:
            return row.steps[0] if isinstance(row.steps[0], ChangeColour) else None
    return None
