"""A piece worked like another one on a foundation chain of its own: "ch 12, work same as front for 9 rows".

The rows of the other piece go across, as many repeats as there are places for. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.records import Label, Row
from convert.document.steps import Again, Chain, ChangeColour, FastenOff, Step, Turn, Verbatim
from convert.fabric.parts.reference import piece_meant
from convert.fabric.parts.run import Run

_SHORTEST = 2
"""One chain alone is no foundation."""


def own_foundation(row: Row) -> tuple[Chain | None, tuple[Step, ...]]:
    """The foundation chain in front of what a line refers to, and the steps behind it; None and all of them if it has
    none.
    """
    at = _begins(row.steps)
    chain = row.steps[at] if at < len(row.steps) else None
    if not isinstance(chain, Chain) or not isinstance(chain.number, int) or chain.number < _SHORTEST:
        return None, row.steps
    return chain, row.steps[at + 1 :]


def whole_piece(run: Run, row: Row) -> tuple[list[tuple[int | None, Row]], bool]:
    """All rows of the piece that a line with a foundation chain refers to as a whole ("ch 30 and work as for front"),
    and whether it is left open how many that piece has.
    """
    chain, steps = own_foundation(row) if run.edge.fresh else (None, ())
    again = steps[0] if steps and isinstance(steps[0], Again) else None
    if chain is None or again is None or again.first or again.even or again.more or again.until or again.times:
        return [], False
    further = (step for step in steps[1:] if not isinstance(step, FastenOff) and not _is_quiet(step))
    if row.label.first is not None or any(further):
        return [], False
    part = piece_meant(again.words, run.document.parts, run.part)
    key = (part.id, run.size) if part is not None else ("", 0)
    rows = run.memo.histories.get(key) or []
    return on_own_foundation(run, row, chain, rows), key in run.memo.open_pieces


def on_own_foundation(
    run: Run, telling: Row, chain: Chain, rows: list[tuple[int | None, Row]]
) -> list[tuple[int | None, Row]]:
    """The rows, the first of them on this chain instead of its own; none where it begins otherwise."""
    if not rows:
        return []
    number, first = rows[0]
    key = (id(telling), id(first), -1)
    if key not in run.memo.varied:
        at = _begins(first.steps)
        own = first.steps[at] if at < len(first.steps) else None
        begins = isinstance(own, Chain)
        steps = (*first.steps[:at], chain, *first.steps[at + 1 :])
        run.memo.varied[key] = replace(first, label=Label(), steps=steps, stated=()) if begins else None
    begun = run.memo.varied[key]
    return [] if begun is None else [(number, begun), *rows[1:]]


def _begins(steps: tuple[Step, ...]) -> int:
    """Where the work begins, behind words and the choice of a yarn."""
    return next((i for i, s in enumerate(steps) if not _is_quiet(s)), len(steps))


def _is_quiet(step: Step) -> bool:
    return isinstance(step, ChangeColour | Turn) or (isinstance(step, Verbatim) and step.inert)
