"""How far down a row lies that a stitch goes into and that is called by its number: "tr in 3rd st of 1st row"."""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.records import Row
from convert.document.steps import Repeat, Step, What, Work
from convert.fabric.remembered import remembered
from convert.trade.patterns import said


@remembered
def by_depth(row: Row) -> tuple[Step, ...]:
    """The steps, with stitches into a row of a lower number told as so many rows below the last; the last itself stays
    in words, and so does every row where it is not known which one this is.
    """
    first = row.label.first
    if first is None or len(row.label.numbers) != 1 or not _names_row(row.steps):
        return row.steps
    return tuple(_told_by_depth(step, first - 1) for step in row.steps)


def _names_row(steps: tuple[Step, ...]) -> bool:
    return any(_names_row(step.steps) if isinstance(step, Repeat) else _named(step) is not None for step in steps)


def _named(step: Step) -> re.Match[str] | None:
    place = step.place if isinstance(step, Work) else None
    if place is None or not place.words or place.what is not What.STITCH or place.below or place.within is not None:
        return None
    return _row().fullmatch(place.words)


def _told_by_depth(step: Step, last: int) -> Step:
    if isinstance(step, Repeat):
        return replace(step, steps=tuple(_told_by_depth(one, last) for one in step.steps))
    match = _named(step)
    below = last - int(match[1] or match[2]) if match is not None else 0
    if below < 1 or not isinstance(step, Work) or step.place is None:
        return step
    return replace(step, place=replace(step.place, below=below, words=""))


@cache
def _row() -> re.Pattern[str]:
    noun = said("row", "round")
    number = rf"(?:(\d+)(?:st|nd|rd|th|d)\s{noun}|{noun}\s(\d+))"
    return re.compile(rf"(?:{said('of', 'in')}\s)?(?:{said('the')}\s)?{number}", re.IGNORECASE)
