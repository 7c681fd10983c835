"""Tells the sides of a piece from the rows that made it. Common practice, no source.

A piece is taken for a rectangle where its rows hardly differ, and for nothing where they do.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import takewhile

from convert.fabric.cells import CHAIN, ROW_END, SLIP, STITCH, Cell, Loop, Strip, compact
from convert.fabric.counts import total
from convert.fabric.places.place import base_kind
from convert.fabric.rows.jobs import Outcome
from convert.fabric.rows.sides import Sides

_STRAIGHT = 2
"""Rows of a straight side differ by no more stitches than this."""


def sides_of(outcomes: Sequence[Outcome]) -> Sides | None:
    """The sides of the piece that these rows made, in order from its foundation; None where it is no rectangle."""
    begin = max((i for i, one in enumerate(outcomes) if is_on_foundation(one)), default=None)
    own = [one for one in outcomes[begin:] if not one.edge.foundation] if begin is not None else []
    rows = list(takewhile(lambda row: not _is_along(row), own))
    if not rows or not all(_is_whole(row) for row in rows):
        return None
    strips = [row.edge.strip for row in rows if row.edge.strip is not None]
    widths = [total(strip) for strip in strips]
    if max(widths) - min(widths) > _STRAIGHT:
        return None
    ends = Strip.of(compact(tuple(Loop(((_end_of(strip), 1),), 1) for strip in reversed(strips))))
    return sides_left(Sides(strips[-1], ends, _bottom(strips[0])), own[len(rows) :])


def sides_left(sides: Sides | None, outcomes: Sequence[Outcome]) -> Sides | None:
    """What further rows leave of the sides: rows along one of them do not change the other; a round changes all."""
    return sides if all(one.edge.flat for one in outcomes) else None


def _is_along(row: Outcome) -> bool:
    """Whether the row was worked on another edge than the last row."""
    return row.made is not None and row.base is None


def is_on_foundation(one: Outcome) -> bool:
    """Whether the row is worked into a foundation chain, and not around it."""
    base = one.base
    on_chain = base is not None and base.length and all(c.sort == CHAIN for lp in base.loops for c, _ in lp.runs)
    return bool(on_chain) and one.edge.flat is True and not one.edge.ring


def _is_whole(row: Outcome) -> bool:
    """Whether the row was worked flat from one side to the other, and what it made is sure."""
    edge = row.edge
    if edge.strip is None or not edge.strip.length or row.faults or row.free is not None or edge.flat is not True:
        return False
    return not edge.untested and not edge.strip.count(lambda cell: cell.sort == SLIP)


def _end_of(strip: Strip) -> Cell:
    last = strip.at(strip.length - 1)[0]
    return Cell(base_kind(last.kind), ROW_END)


def _bottom(first: Strip) -> Strip | None:
    """The foundation from its other side: a chain under each stitch, where the first row is plain."""
    cells = (cell for loop in first.loops for cell, _ in loop.runs)
    plain = all(cell.sort == STITCH and not cell.size and not cell.kind.endswith("tog") for cell in cells)
    return Strip.of((Loop(((Cell("ch", CHAIN), 1),), first.length),)) if plain else None
