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


def sections(stitches: int, changes: int) -> tuple[int, ...]:
    """The sections of `gaps` in the order that is shortest to write: half of the longer ones, the shorter, the rest.

    >>> sections(22, 4)
    (6, 5, 5, 6)
    """
    found = sorted(gaps(stitches, changes), reverse=True)
    longer = found.count(found[0]) if found[0] != found[-1] else 0
    return (*found[: -(-longer // 2)], *found[longer:], *found[-(-longer // 2) : longer])


def shares(stitches: int, steps: int) -> tuple[int, ...]:
    """The stitches of each step of a shoulder, as equal as can be, the wider steps last.

    >>> shares(20, 3)
    (6, 7, 7)
    """
    return tuple(sorted(gaps(stitches, steps)))


def cap_schedule(rows: int, changes: int) -> Schedule:
    """The curve of a sleeve cap: a quarter of the changes in every row, half of them slowly, a quarter in every row.

    Common practice, no source. Raises `NoSchedule` where there are fewer rows than changes.

    >>> cap_schedule(16, 8).stretches
    (Stretch(interval=1, times=2), Stretch(interval=3, times=4), Stretch(interval=1, times=2))
    """
    quick = changes // 4
    middle = schedule(rows - 2 * quick, changes - 2 * quick)
    if not quick:
        return middle
    return Schedule(0, (Stretch(1, quick), *middle.stretches, Stretch(1, quick)), middle.after)


def neck_schedule(rows: int, changes: int) -> tuple[int, int]:
    """How many changes of a neck edge come in every row, and how many then in every second row.

    About half of each (common practice, no source); more in every row where there are too few rows. Rows of the first
    kind come in pairs, since a neck edge lies at the end of one row and at the start of the next. Raises `NoSchedule`.

    >>> neck_schedule(20, 8), neck_schedule(11, 8)
    ((4, 4), (6, 2))
    """
    needed = 2 * changes - rows
    quick = max(changes // 4 * 2, needed + needed % 2)
    if quick > changes:
        raise NoSchedule(f"{changes} decreases along the neck do not fit into {max(rows, 0)} rows")
    return quick, changes - quick
