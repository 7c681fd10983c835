"""What the order of units tells: numbers that follow on, and sentences that are no further item of a list."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from itertools import takewhile

from convert.importers.typed.signs import names_supplies, speaks_of_stitches
from convert.importers.typed.units import Kind, Unit, ends_counted, label_length, numbered_length
from convert.source import Passage

_FEW = 4
"""Words that make a sentence."""
_LONG = 14
"""Words from which a paragraph below a list of abbreviations is no entry of it; twice as many in other lists."""
NEARBY = 12
"""How many units ahead are looked at to tell what one is."""
_NUMBER = re.compile(r"\d{1,5}")
Tells = Callable[[Passage], bool]


def begins_run(units: Sequence[Unit]) -> bool:
    """Whether paragraphs numbered 1, 2, 3 begin here that speak of stitches."""
    run = [unit.passage.text for unit in units[:NEARBY] if unit.kind is Kind.NUMBERED and unit.fresh][:3]
    return list(map(number_in_front, run)) == [1, 2, 3] and sum(map(speaks_of_stitches, run)) >= 2


def begins_lines(units: Sequence[Unit], reads_as_steps: Tells, opens: Tells) -> bool:
    """Whether lines numbered 1, 2 begin here of which the first opens a piece of work and the others go on with it."""
    run = list(takewhile(lambda unit: unit.kind is Kind.NUMBERED and unit.at_line, units))[:3]
    bare = [unit.passage.cut(numbered_length(unit.passage.text)) for unit in run]
    counted = [number_in_front(unit.passage.text) for unit in run] == list(range(1, len(run) + 1))
    return len(run) > 1 and counted and opens(bare[0]) and all(map(reads_as_steps, bare[1:]))


def begins_counted(units: Sequence[Unit], reads_as_steps: Tells) -> bool:
    """Whether lines without labels begin here that are instructions and end with a count, each of the first two."""
    run = units[:2]
    return len(run) == 2 and all(
        unit.kind is Kind.TEXT and unit.at_line and ends_counted(unit.passage.text) and reads_as_steps(unit.passage)
        for unit in run
    )


def number_in_front(text: str) -> int:
    """The number in front of a text that begins with one."""
    found = _NUMBER.search(text)
    return int(found.group()) if found else 0


def is_sentence(text: str, section: str) -> bool:
    """Whether a paragraph below a list is a text of its own and no further item of the list."""
    words = len(text.split())
    if words < _FEW or not text.endswith((".", "!", "”")):
        return False
    return words >= _LONG if section == "abbreviations" else words >= 2 * _LONG or not names_supplies(text)


def label_numbers(unit: Unit) -> list[int]:
    """The numbers in the label of a row, in order."""
    return [int(number) for number in _NUMBER.findall(unit.passage.text[: label_length(unit.passage.text)])]


def first_number(unit: Unit) -> int | None:
    """The first number in the label of a row."""
    return next(iter(label_numbers(unit)), None)


def goes_on(units: Sequence[Unit], unit: Unit) -> bool:
    """Whether a row follows on the numbers of the rows before, though something stood between."""
    last = next((numbers[-1] for earlier in reversed(units) if (numbers := label_numbers(earlier))), None)
    return last is not None and first_number(unit) == last + 1
