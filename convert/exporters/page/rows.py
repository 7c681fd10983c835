"""The instructions: every part with its rows, their labels and their stitch counts."""

from __future__ import annotations

import re

from convert.document.prose import Prose
from convert.document.records import Part, Remark, Row, works
from convert.exporters.page.counts import computed_count
from convert.exporters.page.edition import Edition
from convert.exporters.page.records import Chapter, Line
from convert.exporters.page.typeset import label_flow
from convert.instructions.writer import row_text

_RANGE = re.compile(r"(?<=\d)-(?=\d)")


def parts(edition: Edition) -> tuple[Chapter, ...]:
    """Every part of the pattern."""
    return tuple(_part(edition, part, f"part-{number}") for number, part in enumerate(edition.document.parts, start=1))


def _part(edition: Edition, part: Part, anchor: str) -> Chapter:
    lines = tuple(_line(edition, item) for item in part.items if _shown(edition, item))
    made = edition.number(part.make)
    return Chapter(
        anchor,
        part.name or edition.say("instructions"),
        aside=edition.say("make", number=made) if made != "1" else "",
        lines=lines,
    )


def _shown(edition: Edition, item: Row | Remark) -> bool:
    return any(works(item, edition.document, index) for index in edition.shown)


def _line(edition: Edition, item: Row | Remark) -> Line:
    if isinstance(item, Remark):
        only, by = _only(edition, item.sizes), _worked_by(edition, item.sizes)
        return Line(edition.flow(item.words), sizes=only, worked_by=by, remark=True)
    text = row_text(item, edition.wording)
    stated = edition.flow(text.stated)
    label = _RANGE.sub("–", text.label)
    return Line(
        edition.flow(text.body, marks=True),
        label=label,
        heading=label_flow(label, sizes=edition.listed),
        side=text.side,
        sizes=_only(edition, item.sizes),
        worked_by=_worked_by(edition, item.sizes),
        before=edition.flow(_opening(item.before)),
        count=stated or computed_count(edition, item),
    )


def _opening(before: Prose) -> Prose:
    """A remark before the instructions, with a colon where it ends without any sign."""
    if not before or not isinstance(before[-1], str):
        return (*before, ":") if before else ()
    last = before[-1].rstrip()
    return (*before[:-1], last + (":" if last[-1:].isalnum() else ""))


def _only(edition: Edition, ids: tuple[str, ...]) -> str:
    if not ids or edition.size is not None:
        return ""
    names = [size.name or size.id for size in edition.document.sizes if size.id in ids]
    return edition.say("only", sizes=", ".join(names))


def _worked_by(edition: Edition, ids: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(index for index, size in enumerate(edition.document.sizes) if size.id in ids)
