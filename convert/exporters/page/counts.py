"""The stitch count of a row where its author stated none: what executing the row made."""

from __future__ import annotations

import re

from convert.document.prose import Prose, Term
from convert.document.records import CountKind, Part, Row
from convert.document.steps import Again, ChangeColour, FastenOff, Marker, Step, Turn, Verbatim
from convert.exporters.page.edition import Edition
from convert.exporters.page.measures import per_size
from convert.exporters.page.records import Flow
from convert.fabric.results import RowInSize
from convert.trade.stitches import stitches
from convert.trade.words import words

MOST_KINDS = 3
"""Kinds of stitches and spaces that a computed count names one by one; with more it gives the total alone."""

_SPACE = re.compile(r"ch-(\d+) sp\Z")
_TOGETHER = re.compile(r"(.+?)(\d)tog\Z")
_NO_WORK = (FastenOff, ChangeColour, Turn, Marker)
_NO_STITCHES = frozenset({"ch", "sl-st"})


def computed_count(edition: Edition, row: Row, part: Part) -> Flow:
    """The count that executing the row gave; nothing where it made nothing, any size that works it is unknown, or the
    length of the foundation, or how often a round goes around its edge, is left to the maker.

    A row that repeats earlier ones counts what the last of them counts: shells, and not the stitches that make them.
    """
    proof = edition.proof.of(row) if edition.proof else None
    if proof is None or all(_leaves_all(step) for step in row.steps):
        return ()
    sizes = [proof.sizes[index] for index in edition.shown if index < len(proof.sizes)]
    worked = [size for size in sizes if size.worked]
    if not any(size.total for size in worked) or any(size.made is None or size.chains or size.turns for size in worked):
        return ()
    kinds = _told(row, part, worked) or _kinds(worked)
    if not 0 < len(kinds) <= MOST_KINDS:
        return _total(edition, sizes)
    count: Prose = ()
    for kind in kinds:
        count = (*count, *((", ",) if count else ()), *_item(edition, kind, sizes))
    return edition.flow(_joined(count))


def _leaves_all(step: Step) -> bool:
    """Whether the step leaves the stitches as they were, so that a count behind it would only be in the way."""
    return isinstance(step, _NO_WORK) or (isinstance(step, Verbatim) and step.inert)


def _told(row: Row, part: Part, worked: list[RowInSize]) -> list[str]:
    """The kinds that the author counted in the last of the rows that this one repeats, if it made all of them again."""
    step = row.steps[0] if len(row.steps) == 1 else None
    if not isinstance(step, Again) or step.part is not None or step.words:
        return []
    again = next((one for one in part.rows if step.last > 0 and step.last in one.label.numbers), None)
    stated = again.stated if again is not None else ()
    kinds = [item.of for item in stated if item.of and item.kind in (CountKind.STITCH, CountKind.GROUP)]
    return kinds if len(kinds) == len(stated) and all(_number(k, s) for k in kinds for s in worked) else []


def _kinds(worked: list[RowInSize]) -> list[str]:
    """The kinds that make up the total, with the spaces; empty where none do.

    A group counted as one (a shell) stands beside the stitches it is made of, a cluster for itself: the kinds are those
    whose numbers add up.
    """
    every = list(dict.fromkeys(tally.kind for size in worked for tally in size.made or () if tally.number))
    for counts in (_single, _stitch):
        chosen = [kind for kind in every if counts(kind)]
        if chosen and all(sum(_number(kind, size) or 0 for kind in chosen) == size.total for size in worked):
            return [kind for kind in every if counts(kind) or _SPACE.match(kind)]
    return []


def _single(kind: str) -> bool:
    return _stitch(kind) and not (kind in stitches() and stitches()[kind].unit)


def _stitch(kind: str) -> bool:
    together = _TOGETHER.match(kind)
    known = together.group(1) if together else kind
    return known in stitches() and kind not in _NO_STITCHES


def _total(edition: Edition, sizes: list[RowInSize]) -> Flow:
    totals = [str(size.total) if size.worked and size.total is not None else None for size in sizes]
    return edition.flow((f"{per_size(totals)} {words()['stitch'].plural}",))


def _item(edition: Edition, kind: str, sizes: list[RowInSize]) -> Prose:
    numbers = [_number(kind, size) for size in sizes]
    figures = per_size([None if number is None else str(number) for number in numbers])
    one = all(number in (None, 1) for number in numbers)
    return (f"{figures} ", *_kind(edition, kind, one=one))


def _number(kind: str, size: RowInSize) -> int | None:
    """How many of a kind a size made; None where it does not work the row."""
    if not size.worked or size.made is None:
        return None
    return sum(tally.number for tally in size.made if tally.kind == kind)


def _kind(edition: Edition, kind: str, *, one: bool) -> Prose:
    """The thing counted: a stitch, the author's own stitch, chain spaces, or a word as it is."""
    special = next((s for s in edition.document.specials if s.id == kind), None)
    if special is not None:
        name = special.abbreviation or special.name
        short = name.casefold() != special.name.casefold()
        return (name if one or short else special.plural or name,)
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
