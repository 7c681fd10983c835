"""Rows that are told by another row and by how they differ from it: "as 5th row but having ch 3 between shells"."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from convert.document.prose import Prose, Term
from convert.document.records import Row, Special
from convert.document.steps import (
    Again,
    Chain,
    ChangeColour,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Repeat,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import PAIR
from convert.fabric.parts.every import with_every
from convert.fabric.parts.reference import piece_meant, rows_meant
from convert.fabric.parts.run import Run, rows_of_piece
from convert.fabric.parts.varied_ends import Told, replaced, with_ending, with_times
from convert.instructions.rows.every import EveryInstead, EveryMore
from convert.instructions.rows.variation_ends import EndingInstead, TimesInstead, behind_but
from convert.instructions.rows.variations import (
    ChainsAround,
    ChainsBetween,
    ChainsEach,
    ChainsInstead,
    FewerLoops,
    GroupInstead,
    LoopsAcross,
    MoreBesideCenter,
    MoreChains,
    Variation,
    variations,
)
from convert.trade.stitches import drawn_together, stitches


def _told_with_changes(row: Row, specials: tuple[Special, ...]) -> Told | None:
    """The reference and the changes of a line that holds nothing else, or else only the end of the row."""
    found = [step for step in row.steps if isinstance(step, Again)]
    if len(found) != 1 or not found[0].words or found[0].part is not None or row.steps[0] is not found[0]:
        return None
    again = found[0]
    piece: Prose = ()
    changes = variations(again.words, specials)
    if not changes:
        piece, behind = behind_but(again.words)
        changes = variations(behind, specials) if behind else ()
    told = Told(again, changes, piece)
    quiet = Turn | FastenOff | Join | ChangeColour | Chain | (Work if told.ends else Turn)
    rest = [step for step in row.steps[1:] if not isinstance(step, quiet)]
    if not again.first or any(not (isinstance(step, Verbatim) and step.inert) for step in rest):
        return None
    return told if changes else None


def rows_told(run: Run, row: Row) -> list[tuple[int | None, Row]]:
    """The rows that a line tells by earlier ones and by how they differ from them; none where that is not understood.

    They are made once for all sizes, so that they are known by their identity.
    """
    if id(row) not in run.memo.told:
        run.memo.told[id(row)] = _told_with_changes(row, run.document.specials)
    told = run.memo.told[id(row)]
    meant = _meant(run, told) if told is not None else []
    if told is None or not meant or told.again.until is not None or told.again.times is not None:
        return []
    numbers = row.label.in_size(run.size).numbers
    many = len(numbers) or len(meant)
    found: list[tuple[int | None, Row]] = []
    for index in range(many):
        number, earlier = meant[index % len(meant)]
        own = numbers[index] if numbers else number
        key = (id(row), id(earlier), index if told.ends else index // len(meant) + 1)
        if key not in run.memo.varied:
            changes = tuple(one for one in told.changes if _is_of(one, own, last=index == many - 1))
            run.memo.varied[key] = _varied(earlier, changes, index // len(meant) + 1, _end(row), row.steps[1:])
        one = run.memo.varied[key]
        if one is None:
            return []
        found.append((number, one))
    return found


def _meant(run: Run, told: Told) -> list[tuple[int | None, Row]]:
    """The rows that the line refers to, of the piece that it names."""
    if not told.piece or not any(_says(word) for word in told.piece):
        return rows_meant(run.history, told.again)
    part = piece_meant(told.piece, run.document.parts, run.part)
    again = told.again
    rows = rows_of_piece(run, part, again.first, again.last) if part is not None and again.first > 0 else []
    return rows if run.edge.fresh else [(number, one) for number, one in rows if number is None or number > 0]


def _says(word: str | Term) -> bool:
    return isinstance(word, Term) or bool(word.strip())


def _is_of(change: Variation, number: int | None, *, last: bool) -> bool:
    """Whether the change is one of the row of this number."""
    return not isinstance(change, EndingInstead) or (change.row == number if change.row else last)


def _end(row: Row) -> tuple[Step, ...]:
    """How the line ends behind the reference."""
    return tuple(step for step in row.steps[1:] if not isinstance(step, Verbatim | Work))


def _varied(
    row: Row, changes: tuple[Variation, ...], time: int, end: tuple[Step, ...], behind: tuple[Step, ...]
) -> Row | None:
    """The row with the changes made, for the `time`-th row (from 1) that is told so; None where they do not fit it.

    The end that the telling line has is the row's own, if that has none of the kind.
    """
    steps = row.steps
    for change in changes:
        told = tuple(step for step in behind if isinstance(step, Work))
        if isinstance(change, EndingInstead):
            changed = with_ending(steps, change, told)
        else:
            changed = _changed(steps, change, time)
        if changed is None:
            return None
        steps = changed
    own = {type(step) for step in row.steps[-len(end) - 1 :]} if end else set()
    return replace(row, steps=steps if own & {type(step) for step in end} else (*steps, *end), stated=())


def _changed(steps: tuple[Step, ...], change: Variation, time: int) -> tuple[Step, ...] | None:
    if isinstance(change, MoreBesideCenter):
        return _wider_beside_center(steps, change.stitches * time)
    if isinstance(change, EveryInstead | EveryMore):
        return with_every(steps, change, time)
    if isinstance(change, LoopsAcross | FewerLoops):
        return _with_loops(steps, change, time)
    if isinstance(change, GroupInstead):
        return _with_group(steps, change)
    if isinstance(change, TimesInstead):
        return with_times(steps, change)
    first = next((step for step in steps if isinstance(step, Chain | Work | Group | Decrease | Repeat)), None)
    work = _ChainWork(change, time, first if isinstance(first, Chain) else None)
    changed = work.through(steps, _only(_last_kind(steps)), _only(_first_kind(steps)))
    return changed if work.found and work.sure else None


def _with_loops(steps: tuple[Step, ...], change: LoopsAcross | FewerLoops, time: int) -> tuple[Step, ...] | None:
    """Another number of times for the one repeat that makes loops."""
    stretches = list(_stretches(steps))
    if len(stretches) != 1 or not isinstance(stretches[0].times, int):
        return None
    now = stretches[0].times
    times = change.loops if isinstance(change, LoopsAcross) else now - change.loops * time
    return replaced(steps, stretches[0], replace(stretches[0], times=times, said_doubtful=False)) if times > 0 else None


def _with_group(steps: tuple[Step, ...], change: GroupInstead) -> tuple[Step, ...] | None:
    """Other stitches in the groups of the name or, where no group has it, in the one group that the row writes out."""
    inside = tuple(leaf for step in steps for leaf in _leaves(step))
    named = any(isinstance(leaf, Work) and leaf.stitch == change.stitch for leaf in inside)
    written = [leaf for leaf in inside if isinstance(leaf, Group) and _size(leaf) > PAIR]
    if not named and (not written or any(one.steps != written[0].steps for one in written)):
        return None
    return tuple(_with_other(step, change, named=named) for step in steps)


def _leaves(step: Step) -> tuple[Step, ...]:
    if not isinstance(step, Repeat):
        return (step,)
    behind = step.ending.steps if step.ending is not None else ()
    return tuple(leaf for inner in (*step.steps, *behind) for leaf in _leaves(inner))


def _size(group: Group) -> int:
    return sum(step.each if isinstance(step, Work) and isinstance(step.each, int) else 1 for step in group.steps)


def _with_other(step: Step, change: GroupInstead, *, named: bool) -> Step:
    if isinstance(step, Repeat):
        ending = step.ending
        if ending is not None:
            ending = replace(ending, steps=tuple(_with_other(s, change, named=named) for s in ending.steps))
        return replace(step, steps=tuple(_with_other(s, change, named=named) for s in step.steps), ending=ending)
    if named and isinstance(step, Work) and step.stitch == change.stitch and step.place is not None:
        return Group(change.steps, step.place, step.span)
    if not named and isinstance(step, Group) and _size(step) > PAIR:
        return replace(step, steps=change.steps)
    return step


def _stretches(steps: tuple[Step, ...]) -> Iterator[Repeat]:
    """The repeats of so many loops: a chain and a stitch into the next loop."""
    for step in steps:
        if not isinstance(step, Repeat):
            continue
        chain, *rest = step.steps or (None,)
        one = rest[0] if len(rest) == 1 else None
        loop = isinstance(one, Work) and one.place is not None and one.place.what is What.SPACE
        if step.extent is Extent.TIMES and isinstance(chain, Chain) and loop:
            yield step
        else:
            yield from _stretches(step.steps)


_Kinds = frozenset[str]


class _ChainWork(Struct):
    """Gives the chains that a change is about their new length; the chain that begins the row keeps its own."""

    change: Variation
    time: int
    beginning: Chain | None
    found: bool = False
    sure: bool = True
    """Whether no chain was met of which it cannot be told if it is meant."""

    def through(self, steps: tuple[Step, ...], before: _Kinds, behind: _Kinds) -> tuple[Step, ...]:
        """The steps, with the stitches that may stand in front of them and behind them."""
        out: list[Step] = []
        for index, step in enumerate(steps):
            left = _only(_last_kind(steps[:index])) or before
            right = _only(_first_kind(steps[index + 1 :])) or behind
            out.append(self._one(step, left, right))
        return tuple(out)

    def _one(self, step: Step, left: _Kinds, right: _Kinds) -> Step:
        if isinstance(step, Chain):
            return self._chain(step, left, right)
        if not isinstance(step, Repeat):
            return step
        first, last = _only(_first_kind(step.steps)), _only(_last_kind(step.steps))
        inside = self.through(step.steps, left | last, right | first)
        ending = step.ending
        if ending is not None and ending.steps:
            ending = replace(ending, steps=self.through(ending.steps, last, right))
        return replace(step, steps=inside, ending=ending)

    def _chain(self, step: Chain, left: _Kinds, right: _Kinds) -> Chain:
        change = self.change
        if step is self.beginning or step.skipped or not isinstance(step.number, int):
            return step
        number: int | None = None
        if isinstance(change, ChainsBetween):
            number = change.chains if self._is_between(change.stitches, left, right) else None
        elif isinstance(change, ChainsInstead):
            number = change.chains if step.number == change.instead_of else None
        elif isinstance(change, ChainsAround):
            number = change.chains if self._is_beside(change.stitch, left, right) else None
        elif isinstance(change, ChainsEach):
            number = change.chains
        elif isinstance(change, MoreChains):
            number = step.number + change.chains * self.time
        self.found = self.found or number is not None
        return replace(step, number=number) if number is not None else step

    def _is_between(self, stitches: _Kinds, left: _Kinds, right: _Kinds) -> bool:
        """Whether the chain stands between the stitches named; a repeat is met from before it and from its own end."""
        found = {frozenset({one, other}) == stitches for one in left for other in right}
        self.sure = self.sure and len(found) == 1
        return found == {True}

    def _is_beside(self, stitch: str, left: _Kinds, right: _Kinds) -> bool:
        """Whether the chain stands before or behind such a group."""
        found = {stitch in (one, other) for one in left for other in right}
        self.sure = self.sure and len(found) == 1
        return found == {True}


def _only(kind: str | None) -> _Kinds:
    return frozenset() if kind is None else frozenset({kind})


def _first_kind(steps: tuple[Step, ...]) -> str | None:
    return next((kind for step in steps if (kind := _kind(step, 0)) is not None), None)


def _last_kind(steps: tuple[Step, ...]) -> str | None:
    return next((kind for step in reversed(steps) if (kind := _kind(step, -1)) is not None), None)


def _kind(step: Step, end: int) -> str | None:
    """The stitch that a step begins (0) or ends (-1) with, by the name that the row calls it."""
    if isinstance(step, Work):
        return step.stitch
    if isinstance(step, Decrease):
        return next(id for id in stitches() if drawn_together(id))
    if isinstance(step, Group | Repeat):
        return (_first_kind if end == 0 else _last_kind)(step.steps)
    return None


def _wider_beside_center(steps: tuple[Step, ...], more: int) -> tuple[Step, ...] | None:
    """The row with so many more stitches in front of its one increase, and as many behind it; None where it has
    several, or other work stands beside it.
    """
    at = [i for i, s in enumerate(steps) if isinstance(s, Work) and isinstance(s.each, int) and s.each > 1]
    worked = [i for i, s in enumerate(steps) if isinstance(s, Work | Group | Decrease | Repeat)]
    if len(at) != 1 or len(worked) != _BESIDE or worked[1] != at[0]:
        return None
    out = list(steps)
    for index in (worked[0], worked[2]):
        step = steps[index]
        place = step.place if isinstance(step, Work) else None
        if not isinstance(step, Work) or place is None or step.each != 1 or not isinstance(place.number, int):
            return None
        if place.which is Which.NEXT:
            out[index] = replace(step, place=replace(place, number=place.number + more))
    return tuple(out)


_BESIDE = 3
"""The stitches on both sides of an increase, and the increase."""
