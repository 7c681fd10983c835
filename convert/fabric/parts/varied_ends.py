"""What a line tells of rows by others; those whose repeats go on or end otherwise."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from convert.document.prose import Prose
from convert.document.steps import (
    Again,
    Chain,
    Ending,
    EndingKind,
    Extent,
    FastenOff,
    Join,
    Repeat,
    Step,
    Turn,
    Verbatim,
)
from convert.instructions.rows.variation_ends import EndingInstead, TimesInstead
from convert.instructions.rows.variations import Variation

_CLOSING = Join | Turn | FastenOff


class Told(Struct, frozen=True):
    """Rows that a line tells by others: which, of which piece if the words name one, and how they differ."""

    again: Again
    changes: tuple[Variation, ...]
    piece: Prose = ()

    @property
    def ends(self) -> bool:
        """Whether the line goes on with how its last row ends."""
        return any(isinstance(change, EndingInstead) for change in self.changes)


def with_times(steps: tuple[Step, ...], change: TimesInstead) -> tuple[Step, ...] | None:
    """The steps with the one repeat that is told by its number worked another number of times; None where no repeat, or
    more than one, has the number that the words name. Whether they count its first working or not, the row's own do so
    alike.
    """
    found = [
        step for step in _repeats(steps) if isinstance(step.times, int) and step.times - change.instead_of in (0, 1)
    ]
    if len(found) != 1 or not isinstance(found[0].times, int):
        return None
    times = found[0].times + change.times - change.instead_of
    return replaced(steps, found[0], replace(found[0], times=times)) if times > 0 else None


def with_ending(steps: tuple[Step, ...], change: EndingInstead, told: tuple[Step, ...]) -> tuple[Step, ...] | None:
    """The steps with the last turn of their one repeat all around ended by the chains and the steps `told`; None where
    they have no such repeat.
    """
    around = [index for index, step in enumerate(steps) if isinstance(step, Repeat) and step.extent is Extent.END]
    if len(around) != 1 or not told:
        return None
    repeat, behind = steps[around[0]], steps[around[0] + 1 :]
    if not isinstance(repeat, Repeat) or any(not _is_closing(step) for step in behind):
        return None
    ending = Ending(EndingKind.WITH, (Chain(change.chains, span=repeat.span), *told))
    return (*steps[: around[0]], replace(repeat, ending=ending), *behind)


def _is_closing(step: Step) -> bool:
    return isinstance(step, _CLOSING) or (isinstance(step, Verbatim) and step.inert)


def _repeats(steps: tuple[Step, ...]) -> Iterator[Repeat]:
    for step in steps:
        if isinstance(step, Repeat):
            if step.extent is Extent.TIMES:
                yield step
            yield from _repeats(step.steps)


def replaced(steps: tuple[Step, ...], old: Repeat, new: Repeat) -> tuple[Step, ...]:
    """The steps with this very repeat replaced, wherever it stands."""
    out: list[Step] = []
    for step in steps:
        if step is old:
            out.append(new)
        elif isinstance(step, Repeat):
            out.append(replace(step, steps=replaced(step.steps, old, new)))
        else:
            out.append(step)
    return tuple(out)
