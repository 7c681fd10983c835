"""The second side of a row, which is told as the first one in the other direction.

"... to center sc, 3 dc in center sc, complete other side to correspond": what stands in front of the stitches in the
middle is worked behind them once more, from the last to the first. Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.prose import Prose
from convert.fabric.cells import SPACE, STITCH, Cell, Run, flattened
from convert.fabric.faults import TOLD_ELSEWHERE, Unknown
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import signs


@cache
def _corresponds() -> re.Pattern[str]:
    return re.compile(signs("mirrored"), re.IGNORECASE)


def is_mirrored(words: Prose) -> bool:
    """Whether the words have the other side of the row worked like the first.

    >>> is_mirrored(("Complete other side to correspond",)), is_mirrored(("complete as for first wing",))
    (True, False)
    """
    return len(words) == 1 and isinstance(words[0], str) and _corresponds().fullmatch(words[0]) is not None


def work_mirrored(worker: Worker, span: Span) -> None:
    """Works the other side, where the last stitches went into the very middle of the row below and the row below is
    the same from both ends. Raises `Unknown` otherwise.
    """
    last, base = worker.last, worker.base
    if last is None or worker.unit[0] or worker.pending or base.length - 1 - last != last or not _is_even(worker):
        raise Unknown(span, why=TOLD_ELSEWHERE)
    made = flattened(tuple(worker.out.loops))
    middle = _middle(made)
    side = made[: len(made) - middle]
    if not side or side[-1][0].sort != SPACE:
        raise Unknown(span, why=TOLD_ELSEWHERE)
    for cell, number in reversed(side):
        worker.out.add(_mirrored(cell), number)
    worker.position, worker.last = base.length, base.length - 1


def _is_even(worker: Worker) -> bool:
    """Whether the row below has the same places from its end as from its beginning."""
    there = [(base_kind(cell.kind), cell.sort, n) for _, cell, n in worker.base.runs()]
    merged: list[tuple[str, str, int]] = []
    for kind, sort, number in there:
        if merged and merged[-1][:2] == (kind, sort):
            merged[-1] = (kind, sort, merged[-1][2] + number)
        else:
            merged.append((kind, sort, number))
    return merged == merged[::-1]


def _middle(made: tuple[Run, ...]) -> int:
    """How many of the last runs are the group in the middle, or the one stitch there."""
    size = made[-1][0].size if made else 0
    if not size:
        return 1 if made and made[-1][1] == 1 else 0
    runs, cells = 0, 0
    while cells < size and runs < len(made):
        runs += 1
        cells += made[-runs][1]
    return runs


def _mirrored(cell: Cell) -> Cell:
    """The cell as it is made on the way back: the chain that stood for a stitch is a stitch there."""
    part = cell.size - 1 - cell.part if cell.size else cell.part
    return cell._replace(part=part, chains=0 if cell.sort == STITCH else cell.chains)
