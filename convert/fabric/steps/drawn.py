"""Stitches of one place that are drawn together to a popcorn once they are made. Common practice, no source."""

from __future__ import annotations

from convert.fabric.cells import STITCH, Builder, Cell
from convert.fabric.places.place import base_kind
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import closed_stitch


def draw_through(worker: Worker) -> None:
    """The last stitches in one place become one; where chains or nothing stand there, nothing is drawn together."""
    last = worker.out.last()
    if worker.pending or last is None or last.sort != STITCH or last.kind == closed_stitch():
        return
    for _ in range(last.size or _in_a_row(worker.out, last)):
        worker.out.drop_last()
    worker.out.add(Cell(closed_stitch(), unit=worker.unit[0]))


def _in_a_row(out: Builder, last: Cell) -> int:
    """How many stitches of the kind were made one after the other: in a ring and in a group all go into one place."""
    many = 0
    for runs, times in reversed(out.loops):
        for cell, number in reversed(runs):
            if cell.sort != STITCH or base_kind(cell.kind) != base_kind(last.kind):
                return many
            many += number * (times if len(runs) == 1 else 1)
        if times > 1 and len(runs) > 1:
            return many
    return many
