"""The instructions: every part with its rows, their labels and their stitch counts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.records import Part, Remark, Row, RowKind, works
from convert.exporters.page.counts import computed_count
from convert.exporters.page.edition import Edition
from convert.exporters.page.full_words import full_word
from convert.exporters.page.phrases import calm
from convert.exporters.page.plates import plates_of
from convert.exporters.page.records import Chapter, Clump, Line
from convert.exporters.page.typeset import label_flow, text_flow
from convert.exporters.page.yarns_used import yarns_of_rows
from convert.exporters.used import RowTexts
from convert.instructions.writing.rows import opening_colour

_RANGE = re.compile(r"(?<=\d)-(?=\d)")


def parts(edition: Edition, texts: RowTexts) -> tuple[Chapter, ...]:
    """Every part of the pattern, its rows as they were worded."""
    numbered = enumerate(edition.document.parts, start=1)
    return tuple(_part(edition, part, f"part-{number}", texts) for number, part in numbered)


def _part(edition: Edition, part: Part, anchor: str, texts: RowTexts) -> Chapter:
    made = edition.number(part.make)
    yarns = yarns_of_rows(edition.document, part)
    one = _only_yarn(yarns)
    aside = [edition.say("make", number=made)] if made != "1" else []
    aside += [f"{edition.say('yarn-of')} {one}"] if one else []
    return Chapter(
        anchor,
        calm(part.name) or edition.say("instructions"),
        aside=" · ".join(aside),
        lines=tuple(_with_first_terms(_lines(edition, part, texts, {} if one else yarns))),
        plates=plates_of(edition, part),
    )


Yarns = Mapping[int, tuple[str, ...]]
"""The yarns of each row, by its place in the part."""


def _only_yarn(yarns: Yarns) -> str:
    """The yarn of a part whose rows are all worked with the same one, which is said once at its head; else empty."""
    used = set(yarns.values())
    return ", ".join(used.pop()) if len(used) == 1 else ""


def _with_first_terms(lines: Iterable[Line]) -> Iterator[Line]:
    """The lines with every abbreviation marked where it stands first."""
    seen: set[str] = {""}
    for line in lines:
        text = list(line.text)
        for index, clump in enumerate(text):
            if any(piece.title not in seen for piece in clump):
                text[index] = _first_terms(clump, seen)
        yield replace(line, text=tuple(text))


def _first_terms(clump: Clump, seen: set[str]) -> Clump:
    pieces = []
    for piece in clump:
        pieces.append(replace(piece, first=True) if piece.title not in seen else piece)
        seen.add(piece.title)
    return tuple(pieces)


def _lines(edition: Edition, part: Part, texts: RowTexts, yarns: Yarns) -> Iterator[Line]:
    gaps = _gaps(edition, part)
    opening = _bare_opening(part) if yarns_of_rows(edition.document, part) else None
    for index, item in enumerate(part.items):
        yield from gaps.get(index, ())
        if _shown(edition, item) and item is not opening:
            yield _line(edition, item, part, ", ".join(yarns.get(index, ())), texts)


def _bare_opening(part: Part) -> Row | None:
    """The first line of a part if it says "With A." and no more: the head of the part or its first label says it."""
    first = next((item for item in part.items if isinstance(item, Row)), None)
    if first is None or first.steps != (opening_colour([first]),) or first.before or first.stated or first.sizes:
        return None
    return first if first.label.kind is RowKind.UNLABELLED else None


def _shown(edition: Edition, item: Row | Remark) -> bool:
    return any(works(item, edition.document, index) for index in edition.shown)


def _line(edition: Edition, item: Row | Remark, part: Part, colour: str, texts: RowTexts) -> Line:
    if isinstance(item, Remark):
        only, by = _only(edition, item.sizes), _worked_by(edition, item.sizes)
        return Line(edition.flow(item.words), sizes=only, worked_by=by, remark=True)
    text = texts[id(item)]
    label = _label(edition, text.label)
    stated = edition.flow(text.stated)
    return Line(
        edition.flow(text.body, marks=True),
        label=label,
        heading=label_flow(label, sizes=edition.listed),
        side=_in_words(edition, text.side),
        sizes=_only(edition, item.sizes),
        worked_by=_worked_by(edition, item.sizes),
        before=edition.flow(_opening(item.before)),
        count=stated or computed_count(edition, item, part),
        colour=colour,
    )


def _label(edition: Edition, label: str) -> str:
    return " ".join(_in_words(edition, word) for word in _RANGE.sub("–", label).split(" "))


def _in_words(edition: Edition, word: str) -> str:
    return full_word(word, edition.system) if edition.manner.full_words else word


def _opening(before: Prose) -> Prose:
    """A remark before the instructions, with a colon where it ends without any sign."""
    if not before or not isinstance(before[-1], str):
        return (*before, ":") if before else ()
    last = before[-1].rstrip()
    return (*before[:-1], last + (":" if last[-1:].isalnum() else ""))


_FEWEST_IN_A_RANGE = 3
"""Neighbouring sizes from which on the first and the last stand for all."""


def _only(edition: Edition, ids: tuple[str, ...]) -> str:
    if not ids or edition.size is not None:
        return ""
    places = [index for index, size in enumerate(edition.document.sizes) if size.id in ids]
    names = [size.name or size.id for size in edition.document.sizes if size.id in ids]
    if len(names) >= _FEWEST_IN_A_RANGE and places[-1] - places[0] == len(places) - 1:
        return edition.say("only-range", first=names[0], last=names[-1])
    return edition.say("only", sizes=", ".join(names))


def _worked_by(edition: Edition, ids: tuple[str, ...]) -> tuple[int, ...]:
    return tuple(index for index, size in enumerate(edition.document.sizes) if size.id in ids)


# ---- rows that a size passes over


def _gaps(edition: Edition, part: Part) -> dict[int, list[Line]]:
    """What readers of one size find in the place of numbered rows that are not theirs, by the item it stands before.

    The numbers stay those of the pattern, so that "Rep Rnds 3 and 4" and a note on Rnd 9 mean the same in every size.
    """
    sizes = (edition.size,) if edition.size is not None else range(edition.listed)
    found: dict[int, dict[str, list[int]]] = {}
    for size in sizes:
        for index, label in _passed_over(edition, part, size):
            found.setdefault(index, {}).setdefault(label, []).append(size)
    return {index: [_gap(edition, label, by) for label, by in labels.items()] for index, labels in found.items()}


def _gap(edition: Edition, label: str, sizes: list[int]) -> Line:
    by = tuple(sizes) if edition.size is None else ()
    return Line(text_flow(edition.say("for-other-sizes", rows=label)), worked_by=by, remark=True, gap=True)


def _passed_over(edition: Edition, part: Part, size: int) -> Iterator[tuple[int, str]]:
    """Each run of numbered rows that the size does not work: where it begins and what it is called."""
    numbered = [(i, item) for i, item in enumerate(part.items) if isinstance(item, Row) and item.label.numbers]
    for skipped, run in groupby(numbered, key=lambda entry: not works(entry[1], edition.document, size)):
        rows = list(run)
        numbers = sorted({number for _, row in rows for number in row.label.numbers})
        others = {n for _, row in numbered if works(row, edition.document, size) for n in row.label.numbers}
        if skipped and not others & set(numbers):
            noun = _in_words(edition, "Rnd" if rows[0][1].label.kind.is_round else "Row")
            ends = f"{numbers[0]}–{numbers[-1]}" if len(numbers) > 1 else f"{numbers[0]}"
            yield rows[0][0], f"{noun}{'s' if len(numbers) > 1 else ''} {ends}"
