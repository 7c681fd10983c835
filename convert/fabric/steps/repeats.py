"""Executes repeats: a number of times, up to the last stitches, up to a place, all around."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import (
    EndingKind,
    Extent,
    Place,
    Repeat,
    Skip,
    Step,
    What,
    Which,
    Work,
)
from convert.fabric.cells import Cell
from convert.fabric.faults import Fault, NotFound, RanOut, Unknown
from convert.fabric.places.marked import is_up_to_marker
from convert.fabric.places.place import is_workable
from convert.fabric.places.worded import first_of_groups, in_next_group
from convert.fabric.rows.open_rounds import goes_around_open, turn_around
from convert.fabric.rows.untold import may_begin_later, stops_at_edge
from convert.fabric.steps.far_ends import to_far_end
from convert.fabric.steps.in_turn import as_they_come, one_at_a_time, works_spread
from convert.fabric.steps.markers import up_to_marker
from convert.fabric.steps.rounds import to_end, wanted_by
from convert.fabric.steps.turns import Doer, Turns, note, restore, save
from convert.fabric.steps.until_all import uses_all, work_all
from convert.fabric.steps.until_made import tells_count, work_until_made
from convert.fabric.steps.worker import RepeatFact, Worker
from convert.source import Span
from convert.trade.stitches import stitches

_PLAIN = 2
"""More stitches than this in one place are a group, whose middle can be named."""


def do_repeat(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    """Works a repeat as far as it goes."""
    if step.extent is Extent.TIMES:
        if worker.untold and may_begin_later(step):
            stops_at_edge(worker, step)
        _times(worker, step, do)
        return
    if tells_count(step):
        work_until_made(worker, step, do)
        return
    if uses_all(step) and not worker.untold:
        work_all(worker, step, tail, do)
        return
    step = to_far_end(step) if worker.flat else step
    if goes_around_open(worker, step):
        turn_around(worker, step, do)
        return
    stops_at_edge(worker, step)
    if works_spread(worker, step, do):
        return
    step = _from_first(worker, as_they_come(worker, one_at_a_time(step)))
    gaps = step.place is not None and step.place.what is What.GAP
    if step.extent is Extent.TO_LAST and not gaps and not _ends_in_last(step):
        _to_last(worker, step, do)
    elif step.extent is Extent.TO_PLACE:
        _to_place(worker, step, tail, do)
    else:
        to_end(worker, step, tail, do)


def _ends_in_last(step: Repeat) -> bool:
    """ "... to last sc, ending with 3 dc in last sc": the last working is told whole, with the place up to which it
    goes.
    """
    ending = step.ending
    if ending is None or ending.kind is not EndingKind.WITH or not ending.steps:
        return False
    worked = [step for step in ending.steps if getattr(step, "place", None) is not None]
    place = getattr(worked[-1], "place", None) if worked else None
    return place is not None and place.which is Which.LAST and place.number == 1


def _from_first(worker: Worker, step: Repeat) -> Repeat:
    """ "*Sc in first st, dc in next st; rep from * across": the first stitch of each working is the next one."""
    first = step.steps[0] if step.steps else None
    if worker.position or not isinstance(first, Work) or first.place is None:
        return step
    place = first.place
    if place.which is not Which.FIRST or place.what is not What.STITCH or len(step.steps) == 1:
        return step
    if place.number == 1 and first_of_groups(worker.base, step, place):
        place = replace(place, within=Place(What.GROUP))
        return replace(step, steps=(replace(first, place=place), *step.steps[1:]))
    return replace(step, steps=(replace(first, place=replace(place, which=Which.NEXT)), *step.steps[1:]))


def _times(worker: Worker, step: Repeat, do: Doer) -> None:
    times = worker.number(step.times, step.span)
    ending = step.ending
    if ending is not None and ending.kind is EndingKind.WITH and _ends_behind(worker, step, do):
        return
    start, made = worker.position, worker.out.made
    turns = Turns(worker, step.steps, do)
    full = times - 1 if ending is not None else times
    while turns.done < full:
        worker.tick(step.span)
        try:
            turns.once()
        except RanOut as fault:
            raise RanOut(fault.span, **{**fault.facts, "time": turns.done + 1, "times": times}) from None
        if turns.done < full:
            turns.leap(full)
    note(worker, step, turns, start, made)
    if ending is not None and times > 0:
        last = {EndingKind.AT: step.steps[: ending.after], EndingKind.FITTING: step.steps[:-1]}.get(
            ending.kind, ending.steps
        )
        do(worker, last)


def _ends_behind(worker: Worker, step: Repeat, do: Doer) -> bool:
    """ "Rep from * 6 times, ending with dc in last st": the ending stands behind all workings, if the row has
    places for it; else it is that of the last working.
    """
    assert step.ending is not None
    saved = save(worker)
    try:
        do(worker, (replace(step, ending=None), *step.ending.steps))
    except (RanOut, NotFound):
        restore(worker, saved)
        return False
    return True


def _to_last(worker: Worker, step: Repeat, do: Doer) -> None:
    place = step.place or Place(number=0)
    leave = worker.number(place.number, step.span)
    test = worker.test(place)
    start, made = worker.position, worker.out.made
    turns = Turns(worker, step.steps, do)
    base, left = worker.base, worker.remaining(test)
    while left > leave:
        worker.tick(step.span)
        before = worker.position
        try:
            turns.once()
        except RanOut:
            worker.faults.append(
                Fault("repeat-does-not-fit", step.span, {"left": left, "leave": leave, "times": turns.done})
            )
            break
        if worker.position == before:
            raise Unknown(step.span, why="a repeat that takes no stitches has no end")
        # What is left is counted on, not anew: a row of many small groups has no end of turns.
        left = left - base.count(test, before, worker.position) if worker.base is base else worker.remaining(test)
        after = worker.position
        turns.leap(turns.done + max(0, (left - leave) // max(1, after - before)))
        left -= worker.base.count(test, after, worker.position)
        base = worker.base
    if worker.remaining(test) < leave:
        facts: dict[str, object] = {"left": worker.remaining(test), "leave": leave, "times": turns.done}
        worker.faults.append(Fault("repeat-does-not-fit", step.span, facts))
    note(worker, step, turns, start, made)


def _to_place(worker: Worker, step: Repeat, tail: tuple[Step, ...], do: Doer) -> None:
    place = step.place
    if place is None:
        raise Unknown(step.span, why="a repeat up to a marker")
    marked = is_up_to_marker(place)
    target = up_to_marker(worker, place, tail, step.span) if marked else _target(worker, place, step.span)
    if _all_at_once(worker, step, target):
        return
    start, made = worker.position, worker.out.made
    turns = Turns(worker, step.steps, do)
    wanted = wanted_by(worker, step.steps)
    first = getattr(step.steps[0], "place", None)
    gaps = first is not None and first.what is What.GAP
    passes = isinstance(step.steps[0], Skip)
    while _before(worker, target, wanted):
        worker.tick(step.span)
        before, saved = worker.position, save(worker) if gaps or passes else None
        ends = saved is not None and passes and _only_passed(worker, step, before, target)
        try:
            turns.once()
        except (RanOut, NotFound):
            if not ends:
                raise
            worker.position = target + 1
        if ends and saved is not None and worker.position > target:
            restore(worker, saved)
            worker.position = target
            break
        if gaps and saved is not None and worker.position > target:
            restore(worker, saved)  # the next gap between groups lies behind the place
            break
        if worker.position > target or worker.position == before:
            facts: dict[str, object] = {"left": 0, "leave": 0, "times": turns.done}
            worker.faults.append(Fault("repeat-does-not-fit", step.span, facts))
            break
        if _before(worker, target, wanted):
            turns.leap(turns.done + target - worker.position)
    note(worker, step, turns, start, made)


def _only_passed(worker: Worker, step: Repeat, position: int, target: int) -> bool:
    """ "*Skip next 2 dc, shell in next sc; rep from * to turning ch": whether only what a working passes first is left
    in front of the place. Common practice, no source.
    """
    first = step.steps[0]
    many = first.place.number if isinstance(first, Skip) and first.place.within is None else 0
    return isinstance(many, int) and 0 < worker.base.count(is_workable, position, target) <= many


def _all_at_once(worker: Worker, step: Repeat, target: int) -> bool:
    """ "dc in each st to ...": one kind of stitch in every place up to the target, without working them one by
    one.
    """
    one = step.steps[0]
    if len(step.steps) > 1 or not isinstance(one, Work) or not isinstance(one.each, int) or one.each > _PLAIN:
        return False
    place, entry = one.place, stitches().get(one.stitch)
    if place is None or entry is None or entry.unit or entry.prevailing or entry.decoration:
        return False
    if place.what is What.GAP:
        return False  # between groups there are fewer gaps than stitches
    if place.which is not Which.NEXT or place.number != 1 or place.nth or place.within or place.every != 1:
        return False
    many = worker.base.count(worker.test(place), worker.position, target)
    if not many or worker.definitions.steps(one.stitch) is not None:
        return False
    worker.make(worker.made_kind(one.stitch, place), one.each * many)
    worker.repeats.append(RepeatFact(1, one.each, many, step.span))
    worker.position, worker.last, worker.chain_inside = target, target - 1, 0
    return True


def _target(worker: Worker, place: Place, span: Span) -> int:
    """Where the place is up to which a repeat goes. Raises `Unknown` where that is told in words, or no such one is."""
    if place.within is not None:
        found = in_next_group(worker, place)
        if found is None:
            raise Unknown(span, why="a repeat up to a marker")
        return found
    if place.words:
        raise Unknown(span, why="a repeat up to what is told in words")
    test = worker.test(place)
    if place.which is Which.LAST:
        return _nth(worker, place, worker.base.count(test))
    if place.which is Which.CENTER and place.what is What.SPACE:
        total = worker.base.count(test)
        if total % 2 == 0:
            raise Unknown(span, why="a middle between two places")
        return _nth(worker, place, total // 2 + 1)
    found = worker.base.find(test, worker.position)
    if found is None and place.what is What.CORNER and worker.base.find(test, 0) is None:
        raise Unknown(span, why="corners that the row below does not mark as such")
    return found if found is not None else worker.base.length


def _before(worker: Worker, target: int, wanted: Callable[[Cell], bool]) -> bool:
    """Whether something to work stands before the target."""
    found = worker.base.find(wanted, worker.position)
    return found is not None and found < target


def _nth(worker: Worker, place: Place, nth: int) -> int:
    position = -1
    test = worker.test(place)
    for _ in range(nth):
        found = worker.base.find(test, position + 1)
        if found is None:
            return worker.base.length
        position = found
    return position


def do_each(worker: Worker, step: Work, tail: tuple[Step, ...], do: Doer) -> None:
    """ "sc in each st across, 2 sc in last st": every stitch but those that the steps behind need."""
    assert step.place is not None
    one = Work(step.stitch, step.each, replace(step.place, which=Which.NEXT), span=step.span)
    do_repeat(worker, Repeat((one,), Extent.END, span=step.span), tail, do)
