"""Rows of filet that go on like the last one with so many meshes fewer each, until few are left.

"Same as last row, but having 3 meshes fewer in each row until 4 meshes are left." Common practice of filet crochet, no
source.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec import Struct
from msgspec.structs import replace

from convert.document.steps import Again, Step
from convert.fabric.cells import SPACE, Strip
from convert.fabric.steps.filet import meshes_told
from convert.trade.patterns import said, signs


class FewerMeshes(Struct, frozen=True):
    """So many spaces fewer in each row than in the one before, until so many are `left`."""

    fewer: int
    left: int


@cache
def _told() -> re.Pattern[str]:
    meshes, number = signs("meshes"), rf"(?:{signs('no_more_than')}\s)?(\d+)"
    fewer = rf"(\d+)\s(?:{said('fewer')}\s{meshes}|{meshes}\s{said('fewer')})"
    each = rf"{said('in')}\s{said('each')}\s{said('row')}"
    lead = rf"(?:{said('but')}\s)?{said('having')}"
    return re.compile(
        rf"{lead}\s{fewer}\s{each}\s{signs('until')}\s{number}\s{meshes}\s{signs('left_there')}", re.IGNORECASE
    )


def fewer_meshes(again: Again) -> FewerMeshes | None:
    """What a reference to the last row tells of its spaces, if it is that and nothing else."""
    text = again.words[0] if len(again.words) == 1 and isinstance(again.words[0], str) else ""
    match = _told().fullmatch(text) if text and again.first == again.last == -1 else None
    return FewerMeshes(int(match[1]), int(match[2])) if match is not None and int(match[1]) else None


def rows_fewer(steps: tuple[Step, ...], told: FewerMeshes, made: Strip) -> list[tuple[Step, ...]]:
    """The further rows behind the one of these `steps`, which `made` that many spaces.

    Empty where they never come to the number that is left, or where the row does not tell its spaces by one number.
    """
    at = [index for index, step in enumerate(steps) if _number(step)]
    now = made.count(lambda cell: cell.sort == SPACE)
    rows, over = divmod(now - told.left, told.fewer)
    if len(at) != 1 or rows < 1 or over:
        return []
    step = steps[at[0]]
    number = _number(step)
    if not isinstance(step, Again) or number <= rows * told.fewer:
        return []
    return [_with_number(steps, at[0], number - told.fewer * (index + 1)) for index in range(rows)]


def _number(step: Step) -> int:
    """How many spaces a step tells by their number; 0 where it tells none."""
    meshes = meshes_told(step.words) if isinstance(step, Again) and step.words and not step.first else None
    return meshes.number or 0 if meshes is not None and not (meshes.blocks or meshes.beside) else 0


def _with_number(steps: tuple[Step, ...], at: int, number: int) -> tuple[Step, ...]:
    step = steps[at]
    assert isinstance(step, Again)
    first = step.words[0]
    assert isinstance(first, str)
    words = (re.sub(r"\d+", str(number), first, count=1), *step.words[1:])
    return (*steps[:at], replace(step, words=words), *steps[at + 1 :])
