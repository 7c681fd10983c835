"""Stitches that a row puts one after the other into one place are one group, however the row words it.

"2 dc in next sp, ch 2, 2 dc in same sp" leaves the same shell as "(2 dc, ch 2, 2 dc) in next sp", and later rows call
both a shell and speak of its middle. Common practice, no source.
"""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Chain, Decrease, Extent, Group, Loops, Place, Repeat, Step, Verbatim, Which, Work
from convert.fabric.remembered import remembered


@remembered
def gathered(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps, with those that go on into the same place put together into groups."""
    if not any(_goes_on(step) or isinstance(step, Repeat) for step in steps):
        return steps
    out: list[Step] = []
    index = 0
    while index < len(steps):
        step = steps[index]
        end = _end_of_group(steps, index)
        if end > index + 1:
            out.append(_group(steps[index:end]))
            out += [s for s in steps[index:end] if isinstance(s, Verbatim)]
            index = end
            continue
        out.append(replace(step, steps=gathered(step.steps)) if isinstance(step, Repeat) else step)
        index += 1
    return tuple(out)


def _goes_on(step: Step) -> bool:
    place = _place(step)
    return place is not None and place.which is Which.SAME


def _place(step: Step) -> Place | None:
    if isinstance(step, Work | Group):
        return step.place
    if isinstance(step, Decrease) and len(step.places) == 1:
        return step.places[0]
    return None


def _opens(step: Step) -> bool:
    """Whether a group may begin with this step: stitches into one place."""
    place = _place(step)
    return (
        place is not None
        and place.which in (Which.NEXT, Which.SAME, Which.FIRST, Which.LAST, Which.ANY, Which.CENTER, Which.NTH)
        and place.number == 1
        and place.loops in (Loops.BOTH, Loops.FRONT, Loops.BACK)
    )


def _end_of_group(steps: tuple[Step, ...], start: int) -> int:
    """Behind the last step that goes on, with chains in between, where the step at `start` went."""
    if not _opens(steps[start]):
        return start
    end = start + 1
    index = start + 1
    chained = False
    while index < len(steps):
        step = steps[index]
        if isinstance(step, Chain):
            chained = True
        elif (_goes_on(step) and _opens(step) and chained) or _repeats_there(step):
            end = index + 1
        elif not (isinstance(step, Verbatim) and step.inert):
            break
        index += 1
    return end


def _repeats_there(step: Step) -> bool:
    """ "(ch 1, tr in same sp) 3 times": chains and stitches into the same place, a sure number of times."""
    if not isinstance(step, Repeat) or step.extent is not Extent.TIMES or step.said_doubtful or step.ending is not None:
        return False
    first, works = step.steps[0], [s for s in step.steps if not isinstance(s, Chain)]
    return isinstance(first, Chain) and bool(works) and all(_goes_on(s) and _opens(s) for s in works)


def _group(steps: tuple[Step, ...]) -> Group:
    place = _place(steps[0])
    assert place is not None
    inner: list[Step] = []
    for step in steps:
        if isinstance(step, Group):
            inner += step.steps
        elif isinstance(step, Work):
            inner.append(replace(step, place=None))
        elif isinstance(step, Decrease):
            inner.append(replace(step, places=(Place(which=Which.SAME),)))
        elif isinstance(step, Chain):
            inner.append(step)
        elif isinstance(step, Repeat):
            opened = tuple(s.steps if isinstance(s, Group) else (s,) for s in step.steps)
            inner.append(replace(step, steps=tuple(one for some in opened for one in some)))
    return Group(tuple(inner), place, steps[0].span.to(steps[-1].span))
