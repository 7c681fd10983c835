"""Rounds that end as the same round of another piece does: "complete round as for first motif".

A piece that is joined to others on its way is told up to the last joining; what is left of the round is worked as that
piece has it. What has been worked must be what its round begins with, stitch by stitch, on the same row below. Common
practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.prose import Prose
from convert.document.records import Row
from convert.document.steps import Again, FastenOff, Join, Step, Turn, Verbatim
from convert.fabric.cells import PICOT, SLIP, SPACE, STITCH, Strip, flattened
from convert.fabric.faults import TOLD_ELSEWHERE, Unknown
from convert.fabric.parts.reference import numbered, piece_meant
from convert.fabric.parts.run import Run
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said, signs


@cache
def _completes() -> re.Pattern[str]:
    round_, of = said("round", "row"), rf"(?:(?:{said('the', 'of')})\s)*"
    named = rf"(?:{of}{round_}\s(?P<{{}}>\d+)\s{of})"
    rest = rf"(?:{of}{round_}\s{signs('like')}\s{named.format('one')}?|{signs('like')}\s{named.format('other')})"
    return re.compile(rf"{signs('completing')}\s{rest}", re.IGNORECASE)


def piece_named(words: Prose) -> Prose:
    """The piece as whose round a row is completed; empty where the words say nothing of the kind.

    >>> piece_named(("Complete rnd as for first star",)), piece_named(("complete as you like",))
    (('first star',), ())
    >>> piece_named(("continue as for Rnd 4 of first star",))
    ('first star',)
    """
    found = _completes().match(words[0]) if words and isinstance(words[0], str) else None
    if found is None or not isinstance(words[0], str):
        return ()
    rest = words[0][found.end() :]
    return (rest, *words[1:]) if rest else words[1:]


def _number_named(words: Prose) -> int | None:
    """The number of the round that the words name; None where they name none."""
    found = _completes().match(words[0]) if words and isinstance(words[0], str) else None
    number = (found["one"] or found["other"]) if found is not None else None
    return int(number) if number else None


@remembered
def completed_as(steps: tuple[Step, ...]) -> tuple[Prose, tuple[Step, ...]] | None:
    """The words by which the row is completed as the round of a piece, and its own steps without what is told behind of
    further pieces ("work 3rd star in same manner"); None where it is not told so.
    """
    at = next((i for i, step in enumerate(steps) if isinstance(step, Again) and piece_named(step.words)), 0)
    last = steps[at] if at else None
    if not isinstance(last, Again) or last.first:
        return None
    behind = [step for step in steps[at + 1 :] if not (isinstance(step, Verbatim) and step.inert)]
    further = next((i for i, step in enumerate(behind) if isinstance(step, Again) and not step.first), len(behind))
    closing = tuple(behind[:further])
    if not all(isinstance(step, Join | Turn | FastenOff) for step in closing):
        return None
    return last.words, (*steps[: at + 1], *closing)


def round_of_piece(run: Run, row: Row) -> tuple[Strip, tuple[Step, ...]] | None:
    """What the same round of the piece made, if it stood on what is now below, and the steps of the row, closed as that
    round was; else None.
    """
    told = completed_as(row.steps)
    part = piece_meant(piece_named(told[0]), run.document.parts, run.part) if told is not None else None
    history = run.memo.histories.get((part.id, run.size), []) if part is not None else []
    edges = run.memo.edges.get((part.id, run.size), []) if part is not None else []
    if told is None or not edges or len(history) != len(edges):
        return None
    number = _number_named(told[0]) or row.label.first or _next_number(run, row)
    at = next((i for i in range(len(edges) - 1, 0, -1) if edges[i][0] == number), None)
    if at is None or not _alike(edges[at - 1][1], run.edge):
        return None
    made = edges[at][1].strip if not edges[at][1].closing else None
    own = told[1]
    if not any(isinstance(step, Join | Turn | FastenOff) for step in own):
        own += tuple(step for step in history[at][1].steps if isinstance(step, Join | Turn | FastenOff))
    return (made, own) if made is not None else None


def _next_number(run: Run, row: Row) -> int:
    """The number of a row without one: it follows on the last."""
    return numbered([*run.history, (None, row)])[-1][0]


def _alike(one: Edge, other: Edge) -> bool:
    return one.strip is not None and (one.strip, one.ring, one.closing) == (other.strip, other.ring, other.closing)


def complete(worker: Worker, span: Span) -> None:
    """Makes what the round of the piece has behind that which this one has in common with it. Raises `Unknown` where
    the two do not begin alike, or the rest is joined to other pieces.
    """
    whole = worker.completes
    end = _behind(whole, _solid(worker)) if whole is not None and not worker.unit[0] else None
    if whole is None or end is None:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    if end < whole.length and whole.at(end)[0].sort == SPACE and _ends_in_chains(worker):
        end += 1
    rest = whole.cut(end, whole.length)
    if any(cell.sort == SLIP for loop in rest for cell, _ in loop.runs):
        raise Unknown(span, why=TOLD_ELSEWHERE)
    worker.close_chains()
    worker.out.counted(whole.length - end)
    worker.out.mark()
    for loop in rest:
        worker.out.loop(loop.runs, loop.times)
    worker.position, worker.left = worker.base.length, True


def _solid(worker: Worker) -> list[tuple[str, int]]:
    """The stitches and picots made so far, which a joining leaves as they are."""
    made: list[tuple[str, int]] = []
    for cell, number in flattened(tuple(worker.out.loops)):
        if cell.sort in (STITCH, PICOT):
            many = made.pop()[1] if made and made[-1][0] == cell.kind else 0
            made.append((cell.kind, many + number))
    return made


def _behind(whole: Strip, made: list[tuple[str, int]]) -> int | None:
    """The position in the whole round behind so many stitches and picots; None where it has others."""
    left = list(reversed(made))
    if not left:
        return None
    for position, cell, number in whole.runs():
        if cell.sort not in (STITCH, PICOT):
            continue
        kind, many = left.pop()
        if cell.kind != kind:
            return None
        if many > number:
            left.append((kind, many - number))
        elif not left:
            return position + many
        elif many < number:
            return None
    return None


def _ends_in_chains(worker: Worker) -> bool:
    last = worker.out.last()
    return bool(worker.pending) or (last is not None and last.sort in (SPACE, SLIP))
