"""Takes apart lines that tell of rows in several sentences: a row, then earlier rows again, rows worked even, and how
the last round ends.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

from msgspec.structs import replace

from convert.document.prose import Term
from convert.document.records import Row, RowKind
from convert.document.steps import (
    Again,
    Chain,
    ChangeColour,
    FastenOff,
    Join,
    Place,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import STITCH, Strip
from convert.fabric.parts.fewer_meshes import fewer_meshes
from convert.fabric.places.place import base_kind
from convert.trade.patterns import signs
from convert.trade.stitches import stitches
from convert.trade.words import words


def stands_for_rows(step: Step) -> bool:
    """Whether the step is rows by itself: earlier ones that no words change, rows worked even, or rows like the last
    one with other numbers.
    """
    if not isinstance(step, Again):
        return False
    return not step.words or step.even or step.more != 0 or fewer_meshes(step) is not None


def again_of(row: Row) -> Again | None:
    """The step that is rows by itself, of a line that has no other work; not one that only its words explain."""
    found = [step for step in row.steps if isinstance(step, Again) and stands_for_rows(step)]
    told = next((step for step in row.steps if isinstance(step, Again)), None)
    alone = len(found) == 1 and told is found[0] and not _works(row.steps)
    return found[0] if alone and not any(map(_tells_difference, row.steps)) else None


def _tells_difference(step: Step) -> bool:
    """Whether words behind a row worked again tell what it has besides: "with 3 extra sc under each arm"."""
    first = step.words[0] if isinstance(step, Again) and not step.first and not step.even and step.words else ""
    return isinstance(first, str) and first.split(" ", 1)[0].lower() in words()["with"].forms


def turning_chain(steps: tuple[Step, ...]) -> Chain | None:
    """The chain that is told once more at the end of rows worked again: "repeat last row 5 times, ch 3, turn"."""
    return next((one for one, other in pairwise(steps) if isinstance(one, Chain) and isinstance(other, Turn)), None)


def _works(steps: tuple[Step, ...]) -> bool:
    """Whether more is told than references, what closes a row, and remarks."""
    turning = turning_chain(steps)
    quiet = Again | Turn | FastenOff | Join | ChangeColour
    return any(not isinstance(s, quiet) and s is not turning and not _is_remark(s) for s in steps)


def _is_remark(step: Step) -> bool:
    return isinstance(step, Verbatim) and step.inert


def _is_understood(step: Step) -> bool:
    """Whether the step has a known meaning of its own."""
    return (stands_for_rows(step) or not isinstance(step, Again)) and (not isinstance(step, Verbatim) or step.inert)


def only_inert(row: Row) -> bool:
    """Whether the line has only words that change nothing."""
    return bool(row.steps) and all(_is_remark(step) for step in row.steps)


def work_and_again(row: Row) -> tuple[Row, Row] | None:
    """A line taken apart into its first row, or rows worked again, and what it tells behind. A count that stands in
    front of the second sentence is of the first alone.

    Where work follows rows that are repeated, it must be told how often those are, and every word be understood:
    otherwise it may well tell how the repeated row goes this time.
    """
    if again_of(row) is not None:
        return None
    at = next((i for i, step in enumerate(row.steps) if stands_for_rows(step)), None)
    if at is None:
        return None
    again = row.steps[at]
    end = _behind_closing(row.steps, at)
    told = isinstance(again, Again) and (again.times is not None or again.until is not None)
    even = isinstance(again, Again) and again.even
    if (even or _works(row.steps[end:])) and not (told and all(_is_understood(step) for step in row.steps)):
        return None
    cut = at or end
    return _cut(row, cut) if cut < len(row.steps) else None


def _behind_closing(steps: tuple[Step, ...], at: int) -> int:
    """Behind the rows told at `at` and what closes them."""
    end = at + 1
    while end < len(steps):
        turning = isinstance(steps[end], Chain) and end + 1 < len(steps) and isinstance(steps[end + 1], Turn)
        if not (turning or isinstance(steps[end], Turn | FastenOff | Join) or _is_remark(steps[end])):
            break
        end += 1
    return end


def _cut(row: Row, at: int) -> tuple[Row, Row]:
    label = replace(row.label, kind=RowKind.UNLABELLED, first=None, last=None, rest=())
    early = tuple(item for item in row.stated if item.early)
    late = tuple(item for item in row.stated if not item.early)
    first = replace(row, steps=row.steps[:at], stated=early)
    return first, replace(row, label=label, steps=row.steps[at:], stated=late)


def even_steps(again: Again, strip: Strip) -> tuple[Step, ...]:
    """One row worked even on these places: a stitch of the one kind that is there, or that the words name, in each.

    Empty where spaces stand between the stitches, or stitches of several kinds and none is named: then the rows go on
    in a pattern.
    """
    cells = [cell for loop in strip.loops for cell, _ in loop.runs]
    kinds = {base_kind(cell.kind) for cell in cells}
    named = [word.id for word in again.words if isinstance(word, Term) and word.id in stitches()]
    if not cells or any(cell.sort != STITCH for cell in cells) or (len(kinds) > 1 and not named):
        return ()
    stitch = named[0] if named else kinds.pop()
    return (Work(stitch, 1, Place(which=Which.EACH), span=again.span),)


def in_pattern(again: Again) -> bool:
    """Whether rows worked even go on in the pattern of the rows before."""
    return any(isinstance(word, str) and _in_pattern().search(word) for word in again.words)


def says_even(again: Again) -> bool:
    """Whether rows are said to be worked without increase or decrease, and not only in which stitch or yarn."""
    told = " ".join(word for word in again.words if isinstance(word, str))
    plain = re.search(rf"\b{signs('even')}\b", told, re.IGNORECASE) is not None
    return plain or any(isinstance(word, Term) and word.id in stitches() for word in again.words)


@cache
def _in_pattern() -> re.Pattern[str]:
    return re.compile(rf"\b{signs('in_pattern')}", re.IGNORECASE)


def ends_spiral(steps: tuple[Step, ...], strip: Strip) -> bool:
    """Whether the steps only lead a spiral to its end, so that its last round stays as it is: some stitches and a slip
    stitch into the next places, fewer than go once around.
    """
    worked = [step for step in steps if isinstance(step, Work | Slip)]
    rest = [s for s in steps if not isinstance(s, Work | Slip | FastenOff) and not _is_remark(s)]
    places = [step.place for step in worked]
    if rest or not worked or not isinstance(worked[-1], Slip):
        return False
    plain = all(p is not None and p.what is What.STITCH and p.which is Which.NEXT and not p.words for p in places)
    numbers = [p.number for p in places if p is not None]
    return plain and sum(n for n in numbers if isinstance(n, int)) < strip.length
