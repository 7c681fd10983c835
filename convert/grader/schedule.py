"""Where shaping goes: rows that shape among rows that do not, and changes spread evenly over a row or round."""

from __future__ import annotations

from msgspec import Struct


class NoSchedule(ValueError):
    """The shaping cannot be placed; the text says why, in words for the author."""


class Stretch(Struct, frozen=True):
    """Every `interval`-th row shapes, `times` times: `interval - 1` even rows and a shaping row each time."""

    interval: int
    times: int


class Schedule(Struct, frozen=True):
    """Rows worked even first, the stretches in order, rows worked even at the end."""

    before: int
    stretches: tuple[Stretch, ...]
    after: int

    @property
    def rows(self) -> int:
        """All rows together."""
        return self.before + sum(s.interval * s.times for s in self.stretches) + self.after


def schedule(rows: int, changes: int, *, step: int = 1, before: int = 0, after: int = 0) -> Schedule:
    """Shaping rows as even as whole rows allow, the longer intervals first, so that the edge runs straight.

    `step` 2 places them on every second row only. Rows that no interval can take are worked even at the end.
    Raises `NoSchedule` where there are fewer rows than changes.

    >>> schedule(140, 36).stretches
    (Stretch(interval=4, times=32), Stretch(interval=3, times=4))
    """
    room = rows - before - after
    if not changes:
        if room < 0:
            raise NoSchedule(f"{rows} rows do not hold {before} even rows first and {after} at the end")
        return Schedule(rows, (), 0)
    units = room // step
    if units < changes:
        raise NoSchedule(f"{changes} shaping rows do not fit into {max(room, 0)} rows")
    short, more = divmod(units, changes)
    parts = (Stretch((short + 1) * step, more), Stretch(short * step, changes - more))
    return Schedule(before, tuple(p for p in parts if p.times), after + room - units * step)


def changes_between(start: int, end: int, each: int) -> int:
    """How many shaping rows lead from one number to the other. Raises `NoSchedule` where it takes no whole number.

    >>> changes_between(60, 38, 2)
    11
    """
    changes, left = divmod(abs(start - end), each)
    if left:
        raise NoSchedule(f"from {start} to {end} stitches is no multiple of {each}")
    return changes


def gaps(stitches: int, changes: int) -> tuple[int, ...]:
    """The stitches of each section when `changes` changes are spread evenly over a round, the sizes of sections
    mixed evenly.

    >>> sorted(gaps(124, 14))
    [8, 8, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9]
    """
    if changes <= 0 or stitches < changes:
        raise NoSchedule(f"{changes} changes do not fit into {stitches} stitches")
    return tuple((k + 1) * stitches // changes - k * stitches // changes for k in range(changes))


def positions(stitches: int, changes: int, *, flat: bool) -> tuple[int, ...]:
    """After which stitch each change stands: at the end of its section in a round, in the middle of it in a row.

    In a row so half an interval is left at either end.

    >>> positions(48, 12, flat=True)[:3], positions(48, 12, flat=True)[-1]
    ((2, 6, 10), 46)
    """
    ends: list[int] = []
    total = 0
    for gap in gaps(stitches, changes):
        ends.append(total + (gap // 2 if flat else gap))
        total += gap
    return tuple(ends)
