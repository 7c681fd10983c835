"""Rows that are worked over and over until so many stitches are left: "repeat Row 2 until 6 sts remain".

How many rows that takes is found by working them. Where they never come to the number, or only their length tells how
long they go on, it stays open. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache

from convert.document.records import Row, TermSystem
from convert.document.steps import Until
from convert.fabric.cells import SPACE, Cell
from convert.fabric.parts.run import Run
from convert.fabric.parts.same_names import on_other_stitches
from convert.fabric.places.place import is_workable
from convert.fabric.rows.one_row import work_once
from convert.instructions.words.lexicon import lexemes
from convert.trade.patterns import said, signs
from convert.trade.stitches import stitches

_MOST = 400
"""So many rows at most are looked ahead."""
_LONGEST = 24
"""The longest name of what is counted, in letters."""


@cache
def _counted() -> re.Pattern[str]:
    number = r"(?P<n>\d+)(?P<more>\s?[(\[][\d\s,;:/–-]+[)\]])?"
    lead = rf"(?:(?:{signs('until_there_are')}|{signs('no_more_than')})\s)*"
    noun = rf"(?:{said('the', 'of')}\s)?(?P<noun>[A-Za-z][A-Za-z -]{{0,{_LONGEST}}}?)"
    left = rf"(?:\s(?:{signs('left_there')}|{signs('are_made')}))*"
    return re.compile(rf"{signs('until')}\s{lead}{number}\s{noun}{left}\s*", re.IGNORECASE)


def counts_left(until: Until, size: int, system: TermSystem) -> tuple[int, Callable[[Cell], bool]] | None:
    """The number to be left in a size, and the test for what is counted; None where the words tell otherwise."""
    found = _counted().fullmatch(until.words)
    if found is None:
        return None
    numbers = [int(found["n"]), *(int(number) for number in re.findall(r"\d+", found["more"] or ""))]
    wanted = _wanted(found["noun"], system)
    if wanted is None or (len(numbers) > 1 and size >= len(numbers)):
        return None
    return numbers[size if len(numbers) > 1 else 0], wanted


def _wanted(noun: str, system: TermSystem) -> Callable[[Cell], bool] | None:
    """The test for stitches, spaces or groups of a name; stitches drawn together are stitches of any kind."""
    if re.fullmatch(said("stitch"), noun, re.IGNORECASE):
        return is_workable
    if re.fullmatch(rf"{said('space', 'loop')}|{signs('meshes')}", noun, re.IGNORECASE):
        return lambda cell: cell.sort == SPACE
    named = lexemes(noun, system, ())
    entry = stitches().get(named[0].id) if len(named) == 1 and named[0].kind == "stitch" else None
    if entry is None or entry.decoration or entry.id == "ch":
        return None
    if entry.unit:
        return lambda cell: cell.part == 0 and cell.unit == entry.id
    return is_workable


def rows_until_left(run: Run, rows: list[tuple[int | None, Row]], until: Until) -> int | None:
    """How many of the rows, one after the other and over again, it takes to come to the number; None where they never
    do. The part stays as it is.
    """
    meant = counts_left(until, run.size, run.document.written)
    if meant is None or not rows or run.edge.strip is None:
        return None
    number, wanted = meant
    before = run.edge, dict(run.held), run.rows_done, run.free, run.beside
    found = _worked_to(run, rows, number, wanted)
    run.edge, run.held, run.rows_done, run.free, run.beside = before
    return found


def _worked_to(run: Run, rows: list[tuple[int | None, Row]], number: int, wanted: Callable[[Cell], bool]) -> int | None:
    assert run.edge.strip is not None
    last = first = run.edge.strip.count(wanted)
    for index in range(_MOST):
        outcome = work_once(run, on_other_stitches(run, rows[index % len(rows)][1]), last=False)
        made = outcome.made
        if made is None or outcome.faults:
            return None
        now = made.count(wanted)
        if now == number != first:
            return index + 1
        if (now < number) != (first < number):
            return None
        if index % len(rows) == len(rows) - 1:
            if now == last:
                return None
            last = now
    return None
