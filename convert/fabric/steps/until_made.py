"""Repeats that go on until so many of something are made in the row: "rep from * until 12 loops are completed".

What of the row below is left by then is left on purpose, as the rest of a foundation chain that is cut off. Common
practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from convert.document.steps import Extent, Repeat, What
from convert.fabric.cells import SPACE, STITCH, Cell
from convert.fabric.faults import Unknown
from convert.fabric.places.place import base_kind
from convert.fabric.steps.turns import Doer, Turns, note
from convert.fabric.steps.worker import Worker
from convert.trade.patterns import said, signs

_MOST = 5_000
"""More of anything are counted one by one in no row."""


@cache
def _counted() -> re.Pattern[str]:
    space, group = said("space", "loop"), signs("groups")
    named = rf"(?P<stitch>{said('stitch')})|\{{(?P<kind>[\w-]+)\}}|(?P<name>[\w-]+)"
    noun = rf"(?:(?P<space>{space})|(?P<group>{group})|{named})"
    lead, behind = signs("until_there_are"), signs("are_made")
    return re.compile(rf"{signs('until')}\s(?:{lead}\s)?(?P<number>\d+)\s{noun}(?:\s{behind})*", re.IGNORECASE)


def tells_count(step: Repeat) -> bool:
    """Whether the repeat goes on until something that the fabric can count has come to a number."""
    return _meant(step) is not None


def _meant(step: Repeat) -> tuple[int, Callable[[Cell], bool]] | None:
    place = step.place
    words = place.words if step.extent is Extent.TO_PLACE and place is not None and place.what is What.PIECE else ""
    found = _counted().fullmatch(words) if words else None
    if found is None or int(found["number"]) > _MOST:
        return None
    number, kind = int(found["number"]), found["kind"] or found["name"]
    if found["space"]:
        return number, lambda cell: cell.sort == SPACE
    if found["group"]:
        return number, lambda cell: cell.size > 1 and cell.part == 0
    if found["stitch"]:
        return number, lambda cell: cell.sort == STITCH
    return number, lambda cell: cell.sort == STITCH and _is_called(base_kind(cell.kind), kind)


def _is_called(kind: str, name: str) -> bool:
    """Whether the name is that of the stitch, of one or of several ("6 tufts")."""
    return name.casefold() in (kind, f"{kind}s", f"{kind}es")


def work_until_made(worker: Worker, step: Repeat, do: Doer) -> None:
    """Works the repeat until so many are made. Raises `Unknown` where a working adds none, or one too many."""
    meant = _meant(step)
    assert meant is not None
    number, wanted = meant
    start, made = worker.position, worker.out.made
    already = _many(worker, wanted)
    turns = Turns(worker, step.steps, do)
    while already < number:
        worker.tick(step.span)
        before = already
        turns.once()
        already = _many(worker, wanted)
        if already == before or already > number:
            raise Unknown(step.span, why="a repeat up to what is told in words")
    note(worker, step, turns, start, made)
    worker.left = True


def _many(worker: Worker, wanted: Callable[[Cell], bool]) -> int:
    """How many the row has made so far, chains that the next stitch will close among them."""
    made = sum(n * loop.times for loop in worker.out.loops for cell, n in loop.runs if wanted(cell))
    return made + (worker.pending > 0 and wanted(Cell("ch", SPACE, worker.pending)))
