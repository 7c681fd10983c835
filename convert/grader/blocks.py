"""Blocks of shaping (armholes, necks, crowns and their like) worked out as the rows of one size.

Every block is nothing but rows: they are executed, proved and printed as if the author had written them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from msgspec import Struct

from convert.document.records import CountItem, CountKind
from convert.document.shaping import Block, BlockKind
from convert.document.steps import Again
from convert.grader.block_steps import Maker, Steps
from convert.grader.schedule import (
    NoSchedule,
    Schedule,
    Stretch,
    cap_schedule,
    changes_between,
    neck_schedule,
    schedule,
    sections,
    shares,
)
from convert.limits import LIMITS

Numbers = Mapping[str, int]


class Line(Struct, frozen=True):
    """One row of a block, or several alike. `stage` is its place in the block, the same in every size.

    `stitches` is the count that it states: 0 for none. A line with `again` works earlier rows once more.
    """

    stage: tuple[int, ...]
    steps: Steps
    stitches: int = 0
    rows: int = 1
    again: bool = False
    spaces: int = 0

    @property
    def stated(self) -> tuple[CountItem, ...]:
        """What the line says that it makes."""
        corners = (CountItem(self.spaces, CountKind.SPACE, chains=2),) if self.spaces else ()
        return (CountItem(self.stitches), *corners) if self.stitches else ()


def scheduled(
    plan: Schedule, shaped: Callable[[int], Steps], even: Steps, counts: Callable[[int], int], *, rounds: bool
) -> Iterator[Line]:
    """The rows of a schedule. `shaped` and `counts` give the n-th shaping row and the stitches after it."""
    if plan.before:
        yield Line((1,), even, rows=plan.before)
    done = 0
    for at, stretch in enumerate(plan.stretches):
        if stretch.interval > 1:
            yield Line((2, at, 0), even, rows=stretch.interval - 1)
        yield Line((2, at, 1), shaped(done + 1), counts(done + 1))
        done += stretch.times
        if stretch.times > 1:
            step = Again(-stretch.interval, -1, stretch.times - 1, rounds=rounds)
            yield Line((2, at, 2, stretch.interval), (step,), counts(done), again=True)
    if plan.after:
        yield Line((3,), even, rows=plan.after)


def block_lines(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """The rows of a block with the numbers of one size. Raises `NoSchedule`, in words for the author."""
    sections = numbers.get("sections", 0) or abs(numbers.get("start", 0) - numbers.get("end", 0))
    if block.kind in (BlockKind.SPREAD, BlockKind.SHOULDER) and sections > LIMITS.rows:
        raise NoSchedule(f"it has more than {LIMITS.rows:,} sections")
    lacking = next((name for name in _NEEDS[block.kind] if name not in numbers), None)
    if lacking is not None:
        raise NoSchedule(f"the block lacks “{lacking}”")
    return _KINDS[block.kind](block, numbers, maker)


def _notched(numbers: Numbers, maker: Maker, notch: int) -> tuple[int, Iterator[Line]]:
    """The stitches that a notch at both edges leaves, and its row."""
    left = numbers["start"] - 2 * notch
    if left <= 0:
        raise NoSchedule(f"a notch of {notch} stitches at both edges leaves none of {numbers['start']}")
    return left, iter((Line((0,), maker.notch(notch, both=True), left),) if notch else ())


def _both_edges(start: int, plan: Schedule, maker: Maker) -> Iterator[Line]:
    shaped = maker.decreases()
    return scheduled(plan, lambda _: shaped, maker.even(), lambda done: start - 2 * done, rounds=False)


def _armhole(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """About half goes off at once, the rest one stitch at each edge a row (common practice, no source)."""
    start, end, rows = numbers["start"], numbers["end"], numbers["rows"]
    _smaller(start, end)
    notch = numbers.get("notch", changes_between(start, end, 2) // 2)
    left, first = _notched(numbers, maker, notch)
    _smaller(left, end)
    changes = changes_between(left, end, 2)
    rest = rows - bool(notch) - changes * block.step
    if rest < 0:
        raise NoSchedule(f"{changes} shaping rows do not fit into {rows} rows")
    yield from first
    stretches = (Stretch(block.step, changes),) if changes else ()
    yield from _both_edges(left, Schedule(0, stretches, rest), maker)


def _raglan(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    notch = numbers.get("notch", 0)
    left, first = _notched(numbers, maker, notch)
    _smaller(left, numbers["end"])
    plan = schedule(numbers["rows"] - bool(notch), changes_between(left, numbers["end"], 2), step=block.step)
    yield from first
    yield from _both_edges(left, plan, maker)


def _sleeve_cap(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    notch = numbers.get("notch", 0)
    left, first = _notched(numbers, maker, notch)
    _smaller(left, numbers["end"])
    plan = cap_schedule(numbers["rows"] - bool(notch), changes_between(left, numbers["end"], 2))
    yield from first
    yield from _both_edges(left, plan, maker)


def _neck(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """A neck with a notch is round: quick first, then slow. One without is a V: even all the way."""
    start, end, rows, notch = numbers["start"], numbers["end"], numbers["rows"], numbers.get("notch", 0)
    left = start - notch
    _smaller(left, end)
    changes, room = left - end, rows - 1
    first = maker.notch(notch, both=False) if notch else maker.even()
    yield Line((0,), first, left if notch else 0)
    at_end = maker.decreases(start=False)
    if not notch:
        plan = schedule(room, changes, step=2)
        yield from scheduled(plan, lambda _: at_end, maker.even(), lambda done: left - done, rounds=False)
        return
    quick, slow = neck_schedule(room, changes)
    if quick:
        yield Line((1, 0), maker.decreases(end=False), left - 1)
        yield Line((1, 1), at_end, left - 2)
    if quick > 2:
        yield Line((1, 2), (Again(-2, -1, quick // 2 - 1, rounds=False),), left - quick, again=True)
    stretches = (Stretch(2, slow),) if slow else ()
    plan = Schedule(0, stretches, room - quick - 2 * slow)
    yield from scheduled(plan, lambda _: at_end, maker.even(), lambda done: left - quick - done, rounds=False)


def _yoke(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """One stitch of each corner becomes two and a space; each later round adds two at each corner."""
    start, sleeve, rows = numbers["start"], numbers["sleeve"], numbers["rows"]
    panel, odd = divmod(start - 4 - 2 * sleeve, 2)
    if odd or panel < 1:
        raise NoSchedule(f"{start} stitches, less 4 corners and two sleeves of {sleeve}, are no front and back alike")
    if rows < 1:
        raise NoSchedule("a yoke takes a round at least")
    yield Line((0,), maker.corners(panel, sleeve), start + 4, spaces=4)
    if rows > 1:
        yield Line((1,), maker.round_of_corners(), start + 12, spaces=4)
    if rows > 2:
        again = Again(-1, -1, rows - 2, rounds=True)
        yield Line((2,), (again,), start + 4 + 8 * (rows - 1), again=True, spaces=4)


def _crown(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """Each shaping round has its own text; without `rows` every round shapes.

    Rounds that shrink are counted from the last one, those that grow from the first, so that sizes share them.
    """
    start, end, parts = numbers["start"], numbers["end"], numbers["sections"]
    if parts < 1 or start % parts:
        raise NoSchedule(f"{start} stitches are no whole number of {parts} sections")
    changes, grow = changes_between(start, end, parts), end > start
    plan = schedule(numbers.get("rows", changes), changes)
    intervals = [s.interval for s in plan.stretches for _ in range(s.times)]
    for done, interval in enumerate(intervals, start=1):
        wide = start // parts + (done - 1 if grow else 1 - done)
        plain = wide - (1 if grow else 2)
        if plain < 0:
            raise NoSchedule(f"{wide} stitches in a section are too few for a decrease")
        stage = done if grow else done - changes
        if interval > 1:
            yield Line((1, stage, 0), maker.even(), rows=interval - 1)
        made = start + (parts * done if grow else -parts * done)
        yield Line((1, stage, 1), maker.spread((*[plain] * parts, 0), grow=grow), made)
    if plan.after and changes:
        yield Line((2,), maker.even(), rows=plan.after)


def _spread(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """In a round each change ends its section; in a row it stands in the middle of it, so that either end has half."""
    start, end = numbers["start"], numbers["end"]
    changes, taken = abs(start - end), 1 if end > start else 2
    if not changes:
        yield Line((0,), maker.even(), start)
        return
    if start < changes * taken:
        raise NoSchedule(f"{changes} changes do not fit into {start} stitches")
    plain, before = [], 0
    for section in sections(start, changes):
        first = section - taken if block.rounds else (section - taken) // 2
        plain.append(before + first)
        before = section - taken - first
    yield Line((0,), maker.spread((*plain, before), grow=end > start), end)


def _shoulder(block: Block, numbers: Numbers, maker: Maker) -> Iterator[Line]:
    """From the neck: to the last stitches of the step, and back, until the last step is left."""
    left = numbers["start"]
    for at, wide in enumerate(shares(left, numbers["sections"])[:0:-1]):
        left -= wide
        yield Line((0, at, 0), maker.notch(wide, both=False), left)
        yield Line((0, at, 1), maker.even(), left)


def _smaller(start: int, end: int) -> None:
    if end > start:
        raise NoSchedule(f"{end} stitches at the end are more than the {start} before")


_NEEDS: Mapping[BlockKind, tuple[str, ...]] = MappingProxyType(
    {
        BlockKind.SPREAD: ("start", "end"),
        BlockKind.ARMHOLE: ("start", "end", "rows"),
        BlockKind.NECK: ("start", "end", "rows"),
        BlockKind.RAGLAN: ("start", "end", "rows"),
        BlockKind.YOKE: ("start", "sleeve", "rows"),
        BlockKind.SLEEVE_CAP: ("start", "end", "rows"),
        BlockKind.CROWN: ("start", "end", "sections"),
        BlockKind.SHOULDER: ("start", "sections"),
    }
)
_KINDS: Mapping[BlockKind, Callable[[Block, Numbers, Maker], Iterator[Line]]] = MappingProxyType(
    {
        BlockKind.SPREAD: _spread,
        BlockKind.ARMHOLE: _armhole,
        BlockKind.NECK: _neck,
        BlockKind.RAGLAN: _raglan,
        BlockKind.YOKE: _yoke,
        BlockKind.SLEEVE_CAP: _sleeve_cap,
        BlockKind.CROWN: _crown,
        BlockKind.SHOULDER: _shoulder,
    }
)
