"""The instructions: every part with its rows, their labels and their stitch counts."""

from __future__ import annotations

import re

from convert.document.prose import Prose, Term
from convert.document.records import Part, Remark, Row, works
from convert.exporters.page.edition import Edition
from convert.exporters.page.measures import per_size
from convert.exporters.page.records import Chapter, Flow, Line
from convert.fabric.results import RowInSize
from convert.instructions.writer import row_text
from convert.trade.stitches import stitches
from convert.trade.words import words

MOST_KINDS = 3
"""Kinds of stitches that a computed count names one by one; with more it gives the total alone."""

_SPACE = re.compile(r"ch-(\d+) sp\Z")
_TOGETHER = re.compile(r"(.+?)(\d)tog\Z")
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
    return Line(
        edition.flow(text.body, marks=True),
        label=_RANGE.sub("–", text.label),
        side=text.side,
        sizes=_only(edition, item.sizes),
        worked_by=_worked_by(edition, item.sizes),
        before=edition.flow(_opening(item.before)),
        count=stated or _computed(edition, item),
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


def _computed(edition: Edition, row: Row) -> Flow:
    """The count that executing the row gave; nothing where any size that works it is unknown."""
    proof = edition.proof.of(row) if edition.proof else None
    if proof is None:
        return ()
    sizes = [proof.sizes[index] for index in edition.shown if index < len(proof.sizes)]
    if not any(size.worked and size.total for size in sizes) or any(s.worked and s.made is None for s in sizes):
        return ()
    kinds = [kind for kind in _kinds(sizes) if _is_stitch(edition, kind) or _SPACE.match(kind)]
    if len(kinds) > MOST_KINDS or not kinds:
        return _total(edition, sizes)
    count: Prose = ()
    for kind in kinds:
        count = (*count, *((", ",) if count else ()), *_item(edition, kind, sizes))
    return edition.flow(_joined(count))


def _kinds(sizes: list[RowInSize]) -> list[str]:
    return list(dict.fromkeys(tally.kind for size in sizes for tally in size.made or () if tally.number))


def _is_stitch(edition: Edition, kind: str) -> bool:
    """Whether this counts stitches. A group is left out of a computed count: its stitches are in it already."""
    if kind in stitches():
        return not stitches()[kind].unit
    together = _TOGETHER.match(kind)
    if together:
        return together.group(1) in stitches()
    return any(special.id == kind and not special.steps for special in edition.document.specials)


def _total(edition: Edition, sizes: list[RowInSize]) -> Flow:
    totals = [str(size.total) if size.worked and size.total is not None else None for size in sizes]
    return edition.flow((f"{per_size(totals)} {words()['stitch'].plural}",)) if any(totals) else ()


def _item(edition: Edition, kind: str, sizes: list[RowInSize]) -> Prose:
    numbers = [_number(kind, size) for size in sizes]
    figures = per_size([None if number is None else str(number) for number in numbers])
    one = all(number in (None, 1) for number in numbers)
    return (f"{figures} ", *_kind(edition, kind, one=one))


def _number(kind: str, size: RowInSize) -> int | None:
    if not size.worked or size.made is None:
        return None
    return sum(tally.number for tally in size.made if tally.kind == kind)


def _kind(edition: Edition, kind: str, *, one: bool) -> Prose:
    """The thing counted: a stitch, the author's own stitch, chain spaces, or a word as it is."""
    special = next((s for s in edition.document.specials if s.id == kind), None)
    if special is not None:
        name = special.abbreviation or special.name
        return (name if one or special.abbreviation else special.plural or name,)
    if kind in stitches():
        return (Term(kind),)
    space = _SPACE.match(kind)
    if space:
        return (Term("ch"), f"-{space.group(1)} {words()['space'].us if one else words()['space'].plural}")
    together = _TOGETHER.match(kind)
    if together and together.group(1) in stitches():
        return (Term(together.group(1), legs=int(together.group(2))),)
    return (kind,)


def _joined(prose: Prose) -> Prose:
    """The same text with neighbouring strings made one."""
    joined: list[str | Term] = []
    for part in prose:
        if isinstance(part, str) and joined and isinstance(joined[-1], str):
            joined[-1] += part
        else:
            joined.append(part)
    return tuple(joined)
