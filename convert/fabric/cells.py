"""What a row leaves for the next to work into: cells in order, held as runs with repeats.

A blanket round of 3,000 stitches that repeats one motif is held as that motif and a number, so that work follows
the length of the instructions and not the size of the piece.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Callable, Iterator
from itertools import accumulate
from typing import NamedTuple

from msgspec import Struct, field

from convert.errors import LimitExceeded
from convert.limits import LIMITS

STITCH = "stitch"
SPACE = "space"
CHAIN = "chain"
"""A chain of the foundation."""
SLIP = "slip"
"""A slip stitch that only travelled: later rows leave it."""
PICOT = "picot"
SPUR = "spur"
"""A stitch along a chain that stands out from the row: later rows leave it."""
ARCH = "arch"
"""Where a chain goes back over as many stitches of the row as `Cell.chains` tells; no place, and gone once the row is
made."""
ROW_END = "row-end"
"""The end of a row at the side of a piece; its kind is that of the stitch there."""
PAIR = 2
"""Stitches in one place: more than these are a group that may be called by a name of its own."""
PETAL = 3
"""The fewest stitches that look like a petal."""
AT_FIRST = "at first"
"""The colour of cells made before the first change of yarn in a row: whatever yarn the row begins with."""


class Cell(NamedTuple):
    """One place. `kind` is a stitch id; `chains` the length of a space or of the beginning chain that stands for
    a stitch.

    `unit` is the id of the group that the cell is part of, `part` its position there and `size` the number of
    cells of the group. `colour` is told only while a row that changes yarn on its way is in work; the row above
    does not ask for it.
    """

    kind: str
    sort: str = STITCH
    chains: int = 0
    unit: str = ""
    part: int = 0
    size: int = 0
    colour: str = ""
    marked: bool = False
    """A stitch marker hangs in it."""


def closed_chains(chains: int, unit: str) -> Cell:
    """What a chain that is closed on itself leaves: a picot."""
    return Cell(PICOT, PICOT, chains, unit)


Run = tuple[Cell, int]
MOST_RUNS = 200_000
"""How many runs one row may need; more means that nested repeats multiply beyond any real pattern."""


class Loop(NamedTuple):
    """Runs that stand `times` times one after the other. Neighbouring runs are of different cells."""

    runs: tuple[Run, ...]
    times: int


class Strip(Struct, frozen=True, eq=False):
    """The cells of a row in working order."""

    loops: tuple[Loop, ...] = ()
    starts: tuple[int, ...] = ()
    widths: tuple[int, ...] = ()
    length: int = 0
    offsets: tuple[tuple[int, ...], ...] = ()
    """Where each run of a loop begins inside one turn of it."""

    def __eq__(self, other: object) -> bool:
        # All else follows from the loops.
        return isinstance(other, Strip) and self.loops == other.loops

    def __hash__(self) -> int:
        return hash(self.loops)

    @classmethod
    def of(cls, loops: tuple[Loop, ...]) -> Strip:
        """A strip from its loops."""
        starts: list[int] = []
        widths: list[int] = []
        total = 0
        for loop in loops:
            width = sum(n for _, n in loop.runs)
            starts.append(total)
            widths.append(width)
            total += width * loop.times
        offsets = tuple(tuple(accumulate((n for _, n in loop.runs[:-1]), initial=0)) for loop in loops)
        return cls(loops, tuple(starts), tuple(widths), total, offsets)

    def at(self, position: int) -> tuple[Cell, int]:
        """The cell at a position, and how many equal ones stand there in a row, itself included."""
        index = bisect_right(self.starts, position) - 1
        loop = self.loops[index]
        width = self.widths[index]
        if len(loop.runs) == 1:
            return loop.runs[0][0], self.starts[index] + width * loop.times - position
        offset = (position - self.starts[index]) % width
        run = bisect_right(self.offsets[index], offset) - 1
        cell, number = loop.runs[run]
        return cell, number - (offset - self.offsets[index][run])

    def unbroken(self, position: int, wanted: Callable[[Cell], bool]) -> int:
        """How many wanted cells surely stand one after the other from a wanted one on: its run, or the rest of a loop
        that holds no others.
        """
        index = bisect_right(self.starts, position) - 1
        loop = self.loops[index]
        if len(loop.runs) > 1 and all(wanted(cell) for cell, _ in loop.runs):
            return self.starts[index] + self.widths[index] * loop.times - position
        return self.at(position)[1]

    def phase(self, position: int) -> tuple[int, int, int]:
        """Which loop, which turn of it, and the offset inside, for a position."""
        if position >= self.length:
            return len(self.loops), 0, 0
        index = bisect_right(self.starts, position) - 1
        turn, offset = divmod(position - self.starts[index], self.widths[index])
        return index, turn, offset

    def runs(self, start: int = 0, end: int | None = None) -> Iterator[tuple[int, Cell, int]]:
        """The runs from `start` up to `end` as (position, cell, number)."""
        stop = self.length if end is None else min(end, self.length)
        position = start
        while position < stop:
            index, _, offset = self.phase(position)
            loop = self.loops[index]
            if len(loop.runs) == 1:
                number = min(self.starts[index] + self.widths[index] * loop.times, stop) - position
                yield position, loop.runs[0][0], number
                position += number
                continue
            first = bisect_right(self.offsets[index], offset) - 1
            into = offset - self.offsets[index][first]
            for cell, whole in loop.runs[first:]:
                number = min(whole - into, stop - position)
                into = 0
                if number <= 0:
                    return
                yield position, cell, number
                position += number

    def count(self, wanted: Callable[[Cell], bool], start: int = 0, end: int | None = None) -> int:
        """How many cells from `start` up to `end` are wanted, without walking through every turn of a loop."""
        stop = self.length if end is None else min(end, self.length)
        if start >= stop:
            return 0
        total = 0
        for index in range(max(0, bisect_right(self.starts, start) - 1), bisect_left(self.starts, stop)):
            loop, begin, width = self.loops[index], self.starts[index], self.widths[index]
            finish = begin + width * loop.times
            if begin >= start and finish <= stop:
                total += loop.times * sum(n for cell, n in loop.runs if wanted(cell))
                continue
            total += self._count_part(index, max(start, begin), min(stop, finish), wanted)
        return total

    def _count_part(self, index: int, start: int, stop: int, wanted: Callable[[Cell], bool]) -> int:
        """The same inside one loop: whole turns at once, the turns at both ends run by run."""
        begin, width = self.starts[index], self.widths[index]
        first = -(-(start - begin) // width)
        last = (stop - begin) // width
        if last <= first:
            return sum(n for _, cell, n in self.runs(start, stop) if wanted(cell))
        whole = (last - first) * sum(n for cell, n in self.loops[index].runs if wanted(cell))
        head = sum(n for _, cell, n in self.runs(start, begin + first * width) if wanted(cell))
        tail = sum(n for _, cell, n in self.runs(begin + last * width, stop) if wanted(cell))
        return whole + head + tail

    def find(self, wanted: Callable[[Cell], bool], start: int) -> int | None:
        """The position of the first wanted cell at or behind `start`."""
        found = self.stretch(wanted, start)
        return None if found is None else found[0]

    def stretch(self, wanted: Callable[[Cell], bool], start: int) -> tuple[int, int] | None:
        """The first wanted cell at or behind `start`: its position, and how many equal ones stand there in a row,
        itself included. No loop is looked through more than once.
        """
        position = max(start, 0)
        while position < self.length:
            index = bisect_right(self.starts, position) - 1
            (runs, times), first, width = self.loops[index], self.starts[index], self.widths[index]
            if len(runs) == 1:
                if wanted(runs[0][0]):
                    return position, first + width * times - position
                position = first + width * times
                continue
            turn, offset = divmod(position - first, width)
            offsets = self.offsets[index]
            begin = bisect_right(offsets, offset) - 1
            into = offset - offsets[begin]
            for cell, number in runs[begin:]:
                if wanted(cell):
                    return position, number - into
                position += number - into
                into = 0
            if turn + 1 < times:
                for cell, number in runs[:begin]:
                    if wanted(cell):
                        return position, number
                    position += number
            position = first + width * times
        return None

    def reversed(self) -> Strip:
        """The cells from the last to the first, as the next row of turned work meets them."""
        loops = tuple(
            Loop(tuple((_mirrored(c), n) for c, n in reversed(lp.runs)), lp.times) for lp in reversed(self.loops)
        )
        return Strip.of(loops)

    def cut(self, start: int, end: int) -> tuple[Loop, ...]:
        """The loops of the cells from `start` up to `end`; whole turns stay loops."""
        out: list[Loop] = []
        position = start
        while position < end:
            index, _, offset = self.phase(position)
            width = self.widths[index]
            stop = min(end, self.starts[index] + width * self.loops[index].times)
            turns = (stop - position) // width if offset == 0 else 0
            if turns:
                out.append(Loop(self.loops[index].runs, turns))
                position += turns * width
                continue
            cell, number = self.at(position)
            number = min(number, end - position)
            out.append(Loop(((cell, number),), 1))
            position += number
        return tuple(out)

    def uncoloured(self) -> Strip:
        """The same cells without their colours."""
        plain = (Loop(tuple((c._replace(colour=""), n) for c, n in runs), times) for runs, times in self.loops)
        return Strip.of(compact(tuple(plain)))

    def from_position(self, position: int) -> Strip:
        """The same round, begun at another of its cells."""
        if position <= 0 or position >= self.length:
            return self
        return Strip.of(compact((*self.cut(position, self.length), *self.cut(0, position))))


def _mirrored(cell: Cell) -> Cell:
    return cell._replace(part=cell.size - 1 - cell.part) if cell.size else cell


def compact(loops: tuple[Loop, ...]) -> tuple[Loop, ...]:
    """Equal neighbours put together: runs of one cell into one run, equal loops into one loop."""
    out: list[Loop] = []
    for given in loops:
        runs = given.runs
        if not runs or given.times <= 0:
            continue
        plain = len(runs) == 1
        loop = Loop(((runs[0][0], 1),), runs[0][1] * given.times) if plain else Loop(runs, given.times)
        if out and out[-1].runs == loop.runs:
            out[-1] = Loop(loop.runs, out[-1].times + loop.times)
        else:
            out.append(loop)
    return tuple(out)


def _merged(runs: tuple[Run, ...]) -> tuple[Run, ...]:
    out: list[Run] = []
    for cell, number in runs:
        if out and out[-1][0] == cell:
            out[-1] = (cell, out[-1][1] + number)
        elif number:
            out.append((cell, number))
    return tuple(out)


def flattened(loops: tuple[Loop, ...]) -> tuple[Run, ...]:
    """All runs in order, loops written out; raises LimitExceeded if that takes more than `MOST_RUNS`."""
    if len(loops) == 1 and (loops[0].times == 1 or len(loops[0].runs) == 1):
        runs, times = loops[0]
        return runs if times == 1 else ((runs[0][0], runs[0][1] * times),)
    size = sum(len(loop.runs) * (loop.times if len(loop.runs) > 1 else 1) for loop in loops)
    if size > MOST_RUNS:
        raise LimitExceeded("repeats inside repeats make more different stretches than can be held")
    out: list[Run] = []
    for loop in loops:
        if len(loop.runs) == 1:
            out.append((loop.runs[0][0], loop.runs[0][1] * loop.times))
        else:
            out.extend(loop.runs * loop.times)
    return _merged(tuple(out))


class Builder(Struct):
    """Collects the cells that a row makes. What stands before a mark is never changed by what comes after it."""

    loops: list[Loop] = field(default_factory=list)
    barrier: int = 0
    made: int = 0
    colour: str = ""
    """What cells made from now on are marked with; empty in rows of one colour."""

    def add(self, cell: Cell, number: int = 1) -> None:
        """Appends equal cells."""
        if number <= 0:
            return
        self._count(number)
        if self.colour:
            cell = self._marked(cell)
        if len(self.loops) > self.barrier:
            runs, times = self.loops[-1]
            if times == 1:
                last, many = runs[-1]
                self.loops[-1] = Loop(
                    (*runs[:-1], (cell, many + number)) if last == cell else (*runs, (cell, number)), 1
                )
                return
        self.loops.append(Loop(((cell, number),), 1))

    def mark(self) -> int:
        """A point from which `taken` takes."""
        self.barrier = len(self.loops)
        return self.barrier

    def taken(self, mark: int, barrier: int) -> tuple[Run, ...]:
        """The runs made since the mark, taken out of the builder; `barrier` is what it was before the mark was
        set.
        """
        runs = flattened(tuple(self.loops[mark:]))
        del self.loops[mark:]
        self.barrier = barrier
        return runs

    def loop(self, runs: tuple[Run, ...], times: int) -> None:
        """Appends a stretch several times; directly behind an equal one (and not across a mark) it joins it."""
        if not runs or times <= 0:
            return
        if self.colour:
            runs = tuple((self._marked(cell), number) for cell, number in runs)
        if len(self.loops) > self.barrier and self.loops[-1].runs == runs:
            self.loops[-1] = Loop(runs, self.loops[-1].times + times)
        else:
            self.loops.append(Loop(runs, times))

    def _marked(self, cell: Cell) -> Cell:
        return cell if cell.colour else cell._replace(colour=self.colour)

    def counted(self, number: int) -> None:
        """Adds to the number of cells made by a loop that is appended as a whole."""
        self._count(number)

    def _count(self, number: int) -> None:
        self.made += number
        if self.made > LIMITS.stitches:
            raise LimitExceeded(f"one row makes more than {LIMITS.stitches:,} stitches")

    def first(self) -> Cell | None:
        """The cell made first."""
        return self.loops[0].runs[0][0] if self.loops else None

    def last(self) -> Cell | None:
        """The cell made last."""
        return self.loops[-1].runs[-1][0] if self.loops else None

    def drop_last(self) -> Cell | None:
        """Takes back the cell made last."""
        if not self.loops:
            return None
        runs, times = self.loops.pop()
        if times > 1:
            self.loops.append(Loop(runs, times - 1))
        cell, number = runs[-1]
        rest = (*runs[:-1], (cell, number - 1)) if number > 1 else runs[:-1]
        if rest:
            self.loops.append(Loop(rest, 1))
        self.made -= 1
        return cell

    def drop_first(self) -> None:
        """Takes out the cells made first, of one kind and length."""
        runs, times = self.loops[0]
        rest = (Loop(runs[1:], 1),) if runs[1:] else ()
        self.loops[:1] = [*rest, *((Loop(runs, times - 1),) if times > 1 else ())]
        self.made -= runs[0][1]

    def strip(self) -> Strip:
        """Everything made, as a strip."""
        return Strip.of(compact(tuple(self.loops)))
