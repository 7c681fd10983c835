"""Long stitches into a row further down, among stitches of the last row: "FPdc around next dc 2 rows below, skip 1 sc".

They stand in the place of the stitch of the last row that is skipped behind them. Where nothing is skipped they cover
the one behind them all the same, and it is left unworked; but that is not said, so that a row which does not come out
so is unknown and not wrong. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Decrease, Group, Place, Repeat, Skip, Step, Verbatim, What, Which, Work
from convert.fabric.remembered import remembered


@remembered
def in_their_places(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with each long stitch in the place of the last row that it covers. A row all of whose stitches go into
    a lower one is worked on that, and stays as it is.
    """
    return _covering(steps, skipped=False) if _reaches_down(steps) and _works_here(steps) else steps


@remembered
def covers_untold(steps: tuple[Step, ...]) -> bool:
    """Whether a long stitch covers a stitch of the last row that no step skips."""
    return _reaches_down(steps) and _works_here(steps) and _untold(steps)


def _untold(steps: tuple[Step, ...]) -> bool:
    return any(
        _untold(step.steps) if isinstance(step, Repeat) else _is_long(step) and _skip_behind(steps, at) is None
        for at, step in enumerate(steps)
    )


def _covering(steps: tuple[Step, ...], *, skipped: bool) -> tuple[Step, ...]:
    """`skipped` tells whether the row passed a place before, to which "the skipped sts 2 rows below" would go back."""
    out: list[Step] = []
    done = 0
    for at, step in enumerate(steps):
        if at < done:
            continue
        skipped = skipped or isinstance(step, Skip)
        if isinstance(step, Repeat):
            out.append(replace(step, steps=_covering(step.steps, skipped=skipped)))
        elif isinstance(step, Work) and step.place is not None and _is_long(step):
            behind = _skip_behind(steps, at)
            out.append(replace(step, place=_covered(step.place, skipped=skipped and behind is None)))
            out += steps[at + 1 : behind] if behind is not None else ()
            done = behind + 1 if behind is not None else 0
        else:
            out.append(step)
    return tuple(out)


def _covered(place: Place, *, skipped: bool) -> Place:
    if place.which is Which.SKIPPED:
        return replace(place, below=0 if skipped else 1, of=None)
    return Place(number=place.number, loops=place.loops, span=place.span)


def _skip_behind(steps: tuple[Step, ...], at: int) -> int | None:
    """Where as many places as the long stitch goes into are skipped right behind it."""
    behind = at + 1
    while behind < len(steps) and _is_inert(steps[behind]):
        behind += 1
    step, long = steps[behind] if behind < len(steps) else None, steps[at]
    if not isinstance(step, Skip) or step.leave or not isinstance(long, Work) or long.place is None:
        return None
    place = step.place
    plain = place.what is What.STITCH and place.which is Which.NEXT and not place.words
    return behind if plain and place.number == long.place.number else None


def _is_inert(step: Step) -> bool:
    return isinstance(step, Verbatim) and step.inert


def _is_long(step: Step) -> bool:
    place = step.place if isinstance(step, Work) else None
    if place is None or not place.below or place.what is not What.STITCH or place.words or place.within is not None:
        return False
    return place.which in (Which.NEXT, Which.NTH, Which.FIRST) or (place.which is Which.SKIPPED and place.below > 1)


def _reaches_down(steps: tuple[Step, ...]) -> bool:
    return any(_reaches_down(step.steps) if isinstance(step, Repeat) else _is_long(step) for step in steps)


def _works_here(steps: tuple[Step, ...]) -> bool:
    """Whether stitches go into the last row too."""
    return any(_works_here(step.steps) if isinstance(step, Repeat) else _is_here(step) for step in steps)


def _is_here(step: Step) -> bool:
    if isinstance(step, Decrease):
        return True
    place = step.place if isinstance(step, Work | Group) else None
    return place is not None and not place.below and place.which is not Which.SAME
