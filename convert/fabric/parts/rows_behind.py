"""Rows that a line tells behind its own one by pointing elsewhere: "... ch 5, turn. Follow chart to top.", "... do not
turn. Work a row of sc around entire flap.", "until 30 rows are completed".
"""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.records import Row
from convert.document.steps import Again, Chain, FastenOff, Join, Skip, Step, Turn, Until, Verbatim, What, Which, Work
from convert.fabric.rows.completed import piece_named
from convert.fabric.rows.mirrored import is_mirrored
from convert.fabric.steps.filet import meshes_told
from convert.trade.patterns import said, signs


@cache
def _rows() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('until')}\s(\d+)\s{said('row', 'round')}\b", re.IGNORECASE)


def rows_until(until: Until, done: int | None) -> int | None:
    """How many more rows "until 30 rows are completed" means, after so many; None where it is told otherwise."""
    match = _rows().search(until.words)
    more = int(match[1]) - done if match is not None and done is not None else 0
    return more if more > 0 else None


def own_row(row: Row) -> Row | None:
    """The row that the line tells itself, where all behind its end points to rows that stand elsewhere, or is one more
    row of as many stitches as an edge takes; else None.
    """
    steps = row.steps
    at = next((i for i, step in enumerate(steps) if _points_elsewhere(step) or _goes_along(step)), None)
    if not at or any(_is_work(step) for step in steps[at + 1 :]):
        return None
    along = _goes_along(steps[at])
    if along and row.stated:
        return None
    own = steps[:at]
    ends = [step for step in own if not (isinstance(step, Verbatim) and step.inert)]
    ended = bool(ends) and isinstance(ends[-1], Turn | Join | FastenOff)
    works = any(_is_work(step) for step in own)
    return replace(row, steps=own) if works and (ended or (along and _is_not_turned(own[-1]))) else None


def ends_along(row: Row) -> bool:
    """Whether a row along an edge stands behind rows that are worked again."""
    again = next((i for i, step in enumerate(row.steps) if isinstance(step, Again) and step.first), None)
    return again is not None and any(map(_goes_along, row.steps[again:])) and own_row(row) is not None


def _goes_along(step: Step) -> bool:
    """ "Work a row of sc around entire section"."""
    place = step.place if isinstance(step, Work) and step.each == 1 else None
    return place is not None and place.what is What.PIECE and place.which is Which.EACH


def _is_not_turned(step: Step) -> bool:
    """Whether the row ends here with the hook at its end: "do not turn"."""
    words = step.words if isinstance(step, Verbatim) else ()
    return len(words) == 1 and isinstance(words[0], str) and _unturned().fullmatch(words[0]) is not None


@cache
def _unturned() -> re.Pattern[str]:
    return re.compile(said("do-not-turn"), re.IGNORECASE)


def _points_elsewhere(step: Step) -> bool:
    told = isinstance(step, Again) and step.first == 0 and bool(step.words) and not step.even and not step.more
    if not told or not isinstance(step, Again):
        return False
    return meshes_told(step.words) is None and not is_mirrored(step.words) and not piece_named(step.words)


def _is_work(step: Step) -> bool:
    quiet = isinstance(step, Turn | Join | FastenOff | Chain) or (isinstance(step, Verbatim) and step.inert)
    passes = isinstance(step, Skip) and step.place.what is What.PIECE  # "leaving 1 petal free between": of the others
    return not quiet and not passes and not _points_elsewhere(step)
