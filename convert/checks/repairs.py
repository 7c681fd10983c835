"""Looks for the one edit that makes a row and those after it come out, to propose it: a number, a clause, or the count."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice
from typing import Any

from msgspec import Struct
from msgspec.structs import replace

from convert.checks.check import Facts, label_of
from convert.checks.telling import noun_of
from convert.document.records import Part, Row
from convert.document.resolving import drops_out, resolved
from convert.document.steps import ChangeColour, Group, Place, Repeat, Step, Turn, Verbatim
from convert.fabric.counts import agrees, computed
from convert.fabric.parts.onward import Left
from convert.fabric.parts.part import work_part
from convert.fabric.parts.run import Memo, WorkedRow
from convert.fabric.proving import definitions_for
from convert.fabric.rows.jobs import Edge, Outcome, RowJob
from convert.fabric.rows.row import work_row
from convert.fabric.steps.definitions import Definitions
from convert.instructions.writing.wording import Wording
from convert.instructions.writing.writer import write_steps

_CHANGES = (1, -1, 2, -2)
_MOST = 240
_FEW = 4
"""How many edits that mend the row itself are held against the rows after it."""
_MOST_ROWS = 12
"""For how many wrong rows an edit is looked for."""
_AHEAD = 6
"""How many rows ahead an edit is followed."""
_NUMBERS = ("number", "times", "each", "legs", "chains", "nth")


class Edit(Struct, frozen=True):
    """The step that is changed, the deepest that holds the change, and all of the row's steps with it; `new` is None
    where one of two is left out.
    """

    old: Step
    new: Step | None
    steps: tuple[Step, ...]


class _Trial(Struct, frozen=True):
    """What edits of one row in one size are tried on."""

    facts: Facts
    part: Part
    row: Row
    worked: WorkedRow
    size: int
    definitions: Definitions
    before: Left | None
    memo: Memo
    tried: list[Row]
    """Every row tried: what is remembered of rows goes by their identity, so that they must live as long."""

    def problems(self, *new: Row) -> int:
        """How many rows from this one on, as far as a maker would look, fail or disagree with their count if `new` stands
        in its place (and in that of the next row).
        """
        self.tried.extend(new)
        rows = self.part.rows
        at = next(index for index, row in enumerate(rows) if row is self.row)
        items = (*rows[:at], *new, *rows[at + len(new) : at + len(new) + _AHEAD])
        later = {id(item) for item in items[at:]}
        part = replace(self.part, items=items)
        done = work_part(
            self.facts.document, part, self.size, self.facts.values, self.definitions, self.memo, before=self.before
        )
        return sum(id(worked.row) in later and _is_wrong(worked) for worked in done.rows)


def repairs(facts: Facts) -> Callable[[Row, WorkedRow, int], str]:
    """A function that gives the hint for a wrong row in one size: the one edit with which the row and those after it come
    out; empty if none is found.

    Where the count alone is in doubt, the rows after it tell whether they are worked on what the row makes or on what it
    says; where they tell neither, both are named. Only the first size of each row is tried, since findings of several
    sizes are told with the hint of the first, and only the first rows: many wrong rows have one cause.
    """
    tried: dict[int, None] = {}
    shared: list[tuple[Definitions, Memo, list[Row]]] = []

    def once(row: Row, worked: WorkedRow, size: int) -> str:
        outcome = worked.outcome
        if (
            id(row) in tried
            or len(tried) >= _MOST_ROWS
            or outcome is None
            or outcome.base is None
            or worked.worked != 1
        ):
            return ""
        tried[id(row)] = None
        if not shared:
            shared.append((definitions_for(facts.document), Memo(), []))
        definitions, memo, rows = shared[0]
        part = next(part for part in facts.document.parts if any(r is row for r in part.rows))
        before = _left_before(facts, part, size, definitions, memo)
        return _hint(_Trial(facts, part, row, worked, size, definitions, before, memo, rows), outcome)

    return once


def _hint(trial: _Trial, outcome: Outcome) -> str:
    facts, part, row, worked = trial.facts, trial.part, trial.row, trial.worked
    edit, left = _best_edit(trial, outcome)
    # Rows further on may have mistakes of their own: what mends this row has to add none, not to mend them too.
    stands = trial.problems(row)
    mends = edit is not None and left < stands
    said = _said(edit, Wording(facts.document.written, facts.document.specials)) if edit is not None else ""
    comes_out = f"{said} makes {_what(part, row) if left == 0 else 'the row'} come out."
    if outcome.faults:
        return comes_out if mends else _changed_places(trial)
    count = _count_words(facts, worked, outcome)
    recounted = trial.problems(_recounted(row, worked, outcome)) if count else stands
    if recounted and not mends and (swapped := _changed_places(trial)):
        return swapped
    if recounted < stands:
        if not mends:
            return f"If the row is right, the count should be {count}."
        return f"{said} would make the count right. Or the count should be {count}."
    return comes_out if mends else _MISSING


_MISSING = "The rows after it go on from the count that it states: look for a step that is missing, or said twice."


def _what(part: Part, row: Row) -> str:
    return "the row" if row is part.rows[-1] else "this row and those after it"


def _count_words(facts: Facts, worked: WorkedRow, outcome: Outcome) -> str:
    """What the row makes of all that its count got wrong; empty if that is nothing at all."""
    made = outcome.made
    wrong = [item for item in worked.stated if made is not None and agrees(made, item, 0) is False]
    figures = [(computed(made, item), noun_of(facts, item)) for item in wrong if made is not None]
    return " and ".join(f"{number} {noun}" for number, noun in figures) if all(n for n, _ in figures) else ""


def _changed_places(trial: _Trial) -> str:
    """A hint that this row and the next seem to have changed places, if both come out the other way round."""
    rows = trial.part.rows
    at = next(index for index, row in enumerate(rows) if row is trial.row)
    following = rows[at + 1] if at + 1 < len(rows) else None
    if following is None or following.label.first is None or trial.row.label.first is None:
        return ""
    first = replace(following, label=trial.row.label, stated=following.stated)
    second = replace(trial.row, label=following.label)
    if trial.problems(first, second):
        return ""
    return f"{label_of(trial.row)} and {label_of(following)} seem to have changed places."


def _left_before(facts: Facts, part: Part, size: int, definitions: Definitions, memo: Memo) -> Left | None:
    """What the part before leaves for this one to go on from."""
    left: Left | None = None
    for earlier in facts.document.parts:
        if earlier is part:
            break
        left = work_part(facts.document, earlier, size, facts.values, definitions, memo, before=left).left
    return left


def _recounted(row: Row, worked: WorkedRow, outcome: Outcome) -> Row:
    """The row with the count that it makes."""
    made = outcome.made
    assert made is not None
    return replace(row, stated=tuple(replace(item, number=computed(made, item)) for item in worked.stated))


def _best_edit(trial: _Trial, outcome: Outcome) -> tuple[Edit | None, int]:
    """The edit after which the fewest rows go wrong, and how many still do."""
    best: tuple[Edit | None, int] = (None, 1 << 20)
    fitting = 0
    steps = resolved(drops_out(trial.row.steps, trial.size), trial.size, trial.facts.values)
    edits = list(islice(_edits(steps), _MOST))
    for tried, edit in enumerate(sorted(edits, key=lambda edit: edit.old is _beginning(steps))):
        if tried >= _MOST or fitting >= _FEW or best[1] == 0:
            break
        if _fits(trial, edit.steps, outcome):
            fitting += 1
            left = trial.problems(replace(trial.row, steps=edit.steps))
            best = (edit, left) if left < best[1] else best
    return best


def _beginning(steps: tuple[Step, ...]) -> Step | None:
    """The chain that begins a row: how long it is often changes what a row comes to, and seldom is the mistake."""
    return next((step for step in steps if not isinstance(step, Turn | Verbatim | ChangeColour)), None)


def _is_wrong(worked: WorkedRow) -> bool:
    outcome = worked.outcome
    if outcome is None:
        return False
    made = outcome.made
    return bool(outcome.faults) or (made is not None and any(agrees(made, item, 0) is False for item in worked.stated))


def _said(edit: Edit, wording: Wording) -> str:
    before = _worded(edit.old, wording)
    if edit.new is None:
        return f"Leaving out one of the two “{before}”"
    shown, stood = _worded(edit.new, wording), before
    if isinstance(edit.old, Repeat | Group):
        shown, stood = _where_they_differ(shown, stood)
    return f"“{shown}” instead of “{stood}”"


def _worded(step: Step, wording: Wording) -> str:
    text = write_steps((step,), wording).rstrip(".")
    return text[:1].lower() + text[1:]


def _where_they_differ(one: str, other: str) -> tuple[str, str]:
    """The words in which two wordings differ, with two words behind and, inside a bracket, the word before.

    >>> _where_they_differ("[sc, inc] 5 times", "[sc, inc] 4 times")
    ('5 times', '4 times')
    >>> _where_they_differ("sc in next 5 sts, inc", "sc in next 4 sts, inc")
    ('next 5 sts, inc', 'next 4 sts, inc')
    """
    left, right = one.split(), other.split()
    first = next((i for i, (a, b) in enumerate(zip(left, right, strict=False)) if a != b), 0)
    begin = first if first and left[first - 1].endswith(("]", ")")) else max(0, first - 1)
    return " ".join(left[begin : first + 3]), " ".join(right[begin : first + 3])


def _fits(trial: _Trial, steps: tuple[Step, ...], outcome: Outcome) -> bool:
    """Whether the row comes out with these steps, on the row below as it is."""
    base = outcome.base
    assert base is not None
    job = RowJob(
        steps,
        trial.worked.stated,
        outcome.edge.flat or False,
        trial.facts.document.beginning_chains,
        trial.definitions,
    )
    # The base stands in working order already: an edge that is not turned hands it on as it is.
    again = work_row(job, Edge(base, fresh=False, flat=None))
    stated = all(agrees(again.made, item, 0) is not False for item in trial.worked.stated) if again.made else False
    return not again.faults and stated


def _edits(steps: tuple[Step, ...]) -> Iterator[Edit]:
    """Every way to leave out a clause that stands twice, or to change one number of the steps a little."""
    for old, new, changed in _without_doubles(steps):
        yield Edit(old, new, changed)
    for change in _CHANGES:
        for old, new, changed in _in_steps(steps, change):
            yield Edit(old, new, changed)


_Changed = Iterator[tuple[Any, Any, Any]]
"""The deepest step that holds a change, what it becomes (None: it is left out), and the whole with the change."""


def _without_doubles(steps: tuple[Step, ...]) -> _Changed:
    for index, step in enumerate(steps):
        if index and step == steps[index - 1]:
            yield step, None, (*steps[:index], *steps[index + 1 :])
        if isinstance(step, Repeat | Group):
            for old, new, inner in _without_doubles(step.steps):
                yield old, new, (*steps[:index], replace(step, steps=inner), *steps[index + 1 :])


def _in_steps(steps: tuple[Step, ...], change: int) -> _Changed:
    for index, step in enumerate(steps):
        for old, new, whole in _in_step(step, change):
            yield old, new, (*steps[:index], whole, *steps[index + 1 :])


def _in_step(step: Any, change: int) -> _Changed:
    for new in _numbers(step, change):
        yield step, new, new
    if isinstance(step, Repeat | Group):
        for old, new, inner in _in_steps(step.steps, change):
            yield old, new, replace(step, steps=inner)


def _numbers(node: Any, change: int) -> Iterator[Any]:
    """The record with one of its own numbers, or of its places', changed."""
    for name in node.__struct_fields__:
        value = getattr(node, name)
        if name in _NUMBERS and isinstance(value, int) and value + change > 0:
            yield replace(node, **{name: value + change})
        elif isinstance(value, Place):
            yield from (replace(node, **{name: new}) for new in _numbers(value, change))
        elif name == "places":
            for index, place in enumerate(value):
                for new in _numbers(place, change):
                    yield replace(node, places=(*value[:index], new, *value[index + 1 :]))
