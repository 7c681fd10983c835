"""Opens chain spaces: work that goes into each chain finds chains there, and no space."""

from __future__ import annotations

from collections.abc import Iterator

from convert.fabric.cells import CHAIN, SPACE, Cell, Loop, Run, Strip


def with_open_chains(strip: Strip, start: int) -> Strip:
    """The strip with every space from `start` on as the chains that it consists of.

    >>> spaces = Strip.of((Loop(((Cell("sc"), 1), (Cell("ch", SPACE, 3), 1)), 4),))
    >>> spaces.length, with_open_chains(spaces, 0).length
    (8, 16)
    """
    ahead = (Loop(tuple(_runs(loop)), loop.times) for loop in strip.cut(start, strip.length))
    return Strip.of((*strip.cut(0, start), *ahead))


def _runs(loop: Loop) -> Iterator[Run]:
    """The runs of a loop with its spaces opened; chains that then stand side by side are one run."""
    waiting: Run | None = None
    for cell, number in loop.runs:
        run = (Cell("ch", CHAIN), number * cell.chains) if cell.sort == SPACE else (cell, number)
        if waiting is not None and waiting[0] == run[0]:
            waiting = (run[0], waiting[1] + run[1])
            continue
        if waiting is not None:
            yield waiting
        waiting = run
    if waiting is not None:
        yield waiting
