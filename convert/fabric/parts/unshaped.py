"""Rows that go on in the manner of the last ones without their shaping: "continue in same manner, but do not increase".

The rows meant are those that were worked over and over, as many as make one turn of the pattern; each is worked with
one stitch where it put several, or drew several together. Common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from msgspec.structs import replace

from convert.document.prose import Prose, Term
from convert.document.records import Label, Row, RowKind, TermSystem
from convert.document.resolving import resolved
from convert.document.steps import (
    Again,
    Chain,
    ChangeColour,
    Decrease,
    FastenOff,
    Join,
    Place,
    Repeat,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.parts.reference import rows_meant
from convert.fabric.parts.run import Run
from convert.fabric.remembered import remembered
from convert.terms.naming import write_prose
from convert.trade.patterns import said, signs
from convert.trade.stitches import stitches
from convert.trade.words import words as trade_words

_MOST_ROWS = 6
"""The longest turn of a pattern that is looked for."""
_MOST_IN_ONE = 3
"""More stitches in one place are a pattern, and no increase at the end of a row."""
_PLAIN = (Chain, Turn, Join, FastenOff, ChangeColour)


def goes_unshaped(words: Prose) -> bool:
    """Whether the words say that rows go on as before without increase or decrease, and nothing else.

    >>> goes_unshaped(("continue in pattern, but do not decrease",)), goes_unshaped(("without increasing",))
    (True, True)
    >>> goes_unshaped(("continue in same manner",))
    False
    """
    if any(isinstance(word, Term) and word.id not in stitches() and word.id not in trade_words() for word in words):
        return False  # a stitch of the author's own
    return _unshaped().fullmatch(" ".join(write_prose(words, TermSystem.US).split())) is not None


@cache
def _unshaped() -> re.Pattern[str]:
    goes_on, joint = said("go-on", "work", "repeat"), rf"(?:[\s,]+|\s{said('but', 'and')}\s|,\s{said('but', 'and')}\s)"
    manner = rf"(?:{goes_on}\s)+(?:{said('manner')}|{signs('as_before')})"
    rows = rf"(?:\s{said('in')}\s{signs('of_any')}\s{said('row', 'round')})?"
    return re.compile(rf"(?:{manner}{joint}|{said('but')}\s)?{signs('unshaped')}{rows}", re.IGNORECASE)


def rows_unshaped(run: Run, row: Row) -> list[tuple[int | None, Row]]:
    """The rows of a line that says so; none where it says something else, or nobody can tell how many or which."""
    found = [step for step in row.steps if isinstance(step, Again)]
    if len(found) != 1 or not goes_unshaped(found[0].words) or found[0].until is not None:
        return []
    rest = (step for step in row.steps if step is not found[0] and not isinstance(step, _PLAIN))
    if any(not (isinstance(step, Verbatim) and step.inert) for step in rest):
        return []
    again = found[0]
    meant = rows_meant(run.history, again) if again.first else last_turn(run.history)
    plain = [_plain_row(run, row, one) for _, one in meant]
    many = _how_many(run, row, again, len(meant))
    known = [one for one in plain if one is not None]
    if not many or len(known) != len(plain) or all(one is old for one, (_, old) in zip(known, meant, strict=True)):
        return []
    return [(None, known[index % len(known)]) for index in range(many)]


def last_turn(history: Sequence[tuple[int | None, Row]]) -> list[tuple[int | None, Row]]:
    """The fewest rows at the end that were worked twice over; none where the last rows all differ."""
    for many in range(1, _MOST_ROWS + 1):
        last, before = history[-many:], history[-2 * many : -many]
        if len(before) == many and all(one is other for (_, one), (_, other) in zip(last, before, strict=True)):
            return list(last)
    return []


def _how_many(run: Run, row: Row, again: Again, turn: int) -> int:
    """As many rows as the label tells, or so often the rows that are referred to."""
    numbers = len(row.label.in_size(run.size).numbers)
    if again.times is not None:
        times = resolved(again.times, run.size, run.values)
        return times * turn if isinstance(times, int) else 0
    if row.label.kind in (RowKind.NEXT_ROW, RowKind.NEXT_ROUND):
        many = resolved(row.label.repeat, run.size, run.values)
        return many if isinstance(many, int) else 0
    return numbers or (turn if again.first else 0)


def _plain_row(run: Run, telling: Row, row: Row) -> Row | None:
    """The row without its shaping, the same for every size; None where it cannot be told what is shaping."""
    key = (id(telling), id(row), 0)
    if key not in run.memo.varied:
        steps = plain_steps(row.steps)
        same = steps == row.steps
        run.memo.varied[key] = (
            None if steps is None else row if same else replace(row, label=Label(), steps=steps, stated=())
        )
    return run.memo.varied[key]


def plain_steps(steps: tuple[Step, ...]) -> tuple[Step, ...] | None:
    """The steps with one stitch for each; None where they are no row of one stitch in each but for its shaping.

    A stitch into the place of the beginning chain is an increase: it falls away.
    """
    plain = next((s.stitch for s in _leaves(steps) if isinstance(s, Work) and s.each == 1), None)
    if plain is None or _has_spaces(steps):
        return None
    out: list[Step] = []
    for step in steps:
        own = tuple(_plain(step, plain))
        if None in own:
            return None
        first = not any(isinstance(one, Work) for one in out)
        by_chain = first and isinstance(step, Work) and _is_same(step.place)
        out += () if by_chain else [one for one in own if one is not None]
    return tuple(out)


def _leaves(steps: tuple[Step, ...]) -> list[Step]:
    return [leaf for step in steps for leaf in (_leaves(step.steps) if isinstance(step, Repeat) else [step])]


@remembered
def is_shaped(steps: tuple[Step, ...]) -> bool:
    """Whether a row of one stitch in each is wider or narrower by what it puts into one place or draws together."""
    plain = plain_steps(steps)
    return plain is not None and plain != steps


def _has_spaces(steps: tuple[Step, ...]) -> bool:
    """Whether chains stand between stitches."""
    worked = [isinstance(step, Chain) for step in _leaves(steps) if isinstance(step, Chain | Work | Decrease)]
    within = worked[worked.index(False) : len(worked) - worked[::-1].index(False)] if False in worked else worked
    return any(within)


def _is_same(place: Place | None) -> bool:
    return place is not None and place.which is Which.SAME


def _plain(step: Step, stitch: str | None) -> list[Step | None]:
    """What the step comes to without its shaping; a None in it where that cannot be told."""
    if isinstance(step, Decrease):
        place = step.places[0] if len(step.places) == 1 else None
        plain = place is not None and place.number == step.legs and place.what is What.STITCH
        return [Work(step.stitch, 1, place, span=step.span) if plain else None]
    if isinstance(step, Work):
        return [_one_in_each(step, stitch)]
    if isinstance(step, Repeat):
        if step.ending is not None:
            return [None]
        inner = plain_steps(step.steps)
        return [replace(step, steps=inner) if inner is not None else None]
    quiet = isinstance(step, (*_PLAIN, Slip, Again)) or (isinstance(step, Verbatim) and step.inert)
    return [] if isinstance(step, Again) else [step if quiet else None]


def _one_in_each(step: Work, stitch: str | None) -> Work | None:
    place, entry = step.place, stitches().get(step.stitch)
    if place is None or place.what not in (What.STITCH, What.BEGINNING_CHAIN):
        return None
    if entry is not None and entry.prevailing:
        number = place.number if entry.takes == 1 else entry.takes
        return Work(stitch, 1, replace(place, number=number), span=step.span) if stitch and place.number == 1 else None
    if not isinstance(step.each, int) or step.each > _MOST_IN_ONE:
        return None
    return step if step.each == 1 else replace(step, each=1, said_doubtful=False)
