"""Meshes of filet, told by their number: "make 4 sps, 2 bls, sp over each sp across".

A space is chains and a stitch behind them, a block so many stitches and that stitch; both go over a space or a block
of the row below, whose stitch and chains they have. A turning chain as long as stitch and chains begins with the
first space. Common practice of filet crochet, no source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct

from convert.document.prose import Prose
from convert.document.steps import Again, Counts, Step, Verbatim, What, Which, Work
from convert.fabric.cells import CHAIN, SLIP, SPACE, STITCH, Cell, Strip
from convert.fabric.faults import TOLD_ELSEWHERE, Unknown
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said, signs
from convert.trade.stitches import stitches


@cache
def _numbered() -> re.Pattern[str]:
    """ "Make 4 more sps across": their number, and the blocks if they are such."""
    which = rf"(?:({signs('blocks')})|{signs('meshes')})"
    return re.compile(
        rf"(?:{said('work')}\s)?(\d+)(?:\s{said('more')})?\s{which}(?:\s{said('across', 'around')})?", re.IGNORECASE
    )


@cache
def _over() -> re.Pattern[str]:
    """ "A block over each of the next 3 spaces": the blocks if they are such, whether over each, and over how many."""
    which = rf"(?:({signs('blocks')})|{signs('meshes')})"
    meshes = rf"(?:{signs('meshes')}|{signs('blocks')})"
    below = rf"(?:({said('each')})|(?:{said('the')}\s)?{said('next')}(?:\s(\d+))?)\s{meshes}"
    one = rf"(?:{said('work')}\s)?(?:(?:{said('the')}|1)\s)?"
    return re.compile(rf"{one}{which}\s{said('in')}\s{below}(?:\s{said('across', 'around')})?", re.IGNORECASE)


@cache
def _more() -> re.Pattern[str]:
    """ "Inc 2 sps": their number."""
    return re.compile(rf"{signs('widen_words')}\s(\d+)\s{signs('meshes')}", re.IGNORECASE)


class Meshes(Struct, frozen=True):
    """So many meshes (None: as many as are left), all of them blocks or spaces. Those `beside` the row widen it."""

    number: int | None
    blocks: bool
    beside: bool = False


def meshes_told(words: Prose) -> Meshes | None:
    """What the words tell, if they are of meshes and nothing else.

    >>> meshes_told(("make 4 more sps",)), meshes_told(("Sp over each sp across",))
    (Meshes(number=4, blocks=False, beside=False), Meshes(number=None, blocks=False, beside=False))
    """
    text = words[0] if len(words) == 1 and isinstance(words[0], str) else ""
    match = _numbered().fullmatch(text)
    if match is not None:
        return Meshes(int(match[1]), match[2] is not None)
    match = _more().fullmatch(text)
    if match is not None:
        return Meshes(int(match[1]), blocks=False, beside=True)
    match = _over().fullmatch(text)
    if match is None:
        return None
    return Meshes(None if match[2] else int(match[3] or 1), match[1] is not None)


def begins_with_meshes(steps: tuple[Step, ...]) -> bool:
    """Whether the first work of a row is told as meshes."""
    first = next((step for step in steps if isinstance(step, Again) or getattr(step, "stitch", None)), None)
    return isinstance(first, Again) and not first.first and meshes_told(first.words) is not None


def stitch_of(strip: Strip) -> tuple[str | None, int | None]:
    """The one tall stitch between the meshes of a row, and its height in chains; nothing where there are several."""
    kinds = {base_kind(cell.kind) for loop in strip.loops for cell, _ in loop.runs if cell.sort == STITCH}
    entry = stitches().get(kinds.pop()) if len(kinds) == 1 else None
    return (entry.id, entry.height) if entry is not None and (entry.height or 0) > 1 else (None, None)


def mesh_before(steps: tuple[Step, ...], strip: Strip | None, chains: int) -> Counts | None:
    """What a turning chain counts as that makes a mesh more in front of the row: "ch 10, turn, tr in first tr". It has
    the chains under the mesh as well as those over it.
    """
    first = next((step for step in steps if not isinstance(step, Verbatim)), None)
    if not isinstance(first, Work) or first.each != 1:
        return None
    place = first.place
    if strip is None or place is None or place.which is not Which.FIRST or place.what is not What.STITCH:
        return None
    kind, height = stitch_of(strip)
    lengths = {cell.chains for loop in strip.loops for cell, _ in loop.runs if cell.sort == SPACE}
    over = lengths.pop() if len(lengths) == 1 else 0
    if kind is None or height is None or not over or first.stitch != kind or chains != height + 2 * over:
        return None
    return Counts(kind, over)


def work_meshes(worker: Worker, told: Meshes, span: Span) -> None:
    """Works the meshes from where the work stands. Raises `Unknown` where the row below has no such meshes."""
    kind, chains = _mesh_of(worker, span)
    done = 0
    while told.number is None or done < told.number:
        worker.tick(span)
        if told.number is None and worker.base.find(lambda cell: cell.sort != SLIP, worker.position) is None:
            break
        if told.beside:
            _widen(worker, kind, chains, span)
        else:
            _work_mesh(worker, kind, chains, told, span)
        done += 1
    if not done:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    worker.kind = kind
    worker.left = worker.left or (told.number is not None and not told.beside)


def _mesh_of(worker: Worker, span: Span) -> tuple[str, int]:
    """The stitch of the meshes and the chains of a space: of the row below, or of this row on a foundation chain."""
    if worker.base.find(lambda cell: cell.sort == CHAIN, 0) is not None:
        made = worker.out.last()
        first = worker.out.first()
        entry = stitches().get(base_kind(made.kind)) if made is not None and made.sort == STITCH else None
        over = first.chains - (entry.height or 0) if first is not None and entry is not None else 0
        if entry is None or over < 2 or over % 2:
            raise Unknown(span, why=TOLD_ELSEWHERE)
        return entry.id, over // 2
    kind, _ = stitch_of(worker.base)
    lengths = {cell.chains for loop in worker.base.loops for cell, _ in loop.runs if cell.sort == SPACE}
    if kind is None or len(lengths) != 1:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    return kind, lengths.pop()


def _widen(worker: Worker, kind: str, chains: int, span: Span) -> None:
    """One space more at the end of the row, behind its last stitch."""
    last = worker.out.last()
    if worker.pending or last is None or last.sort != STITCH or last.kind != kind:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    worker.pending = chains
    worker.make(kind)


def _work_mesh(worker: Worker, kind: str, chains: int, told: Meshes, span: Span) -> None:
    begun = worker.pending == chains and not told.blocks
    if worker.pending and not begun:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    width = _width(worker, chains)
    corner = worker.position + width
    if not width or corner >= worker.base.length or worker.base.at(corner)[0].sort not in (STITCH, CHAIN):
        raise Unknown(span, why=TOLD_ELSEWHERE)
    worker.position, worker.last, worker.chain_inside = corner + 1, corner, 0
    if told.blocks:
        worker.make(kind, chains + 1)
        return
    worker.pending = chains
    worker.make(kind)


def _width(worker: Worker, chains: int) -> int:
    """How many places of the row below lie under the mesh in front of its corner: one space, or so many stitches."""
    if worker.position >= worker.base.length:
        return 0
    cell: Cell = worker.base.at(worker.position)[0]
    if cell.sort == SPACE:
        return 1
    sorts = [
        worker.base.at(p)[0].sort for p in range(worker.position, worker.position + chains) if p < worker.base.length
    ]
    return chains if len(sorts) == chains and all(sort == cell.sort for sort in sorts) else 0
