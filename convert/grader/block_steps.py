"""The rows of blocks of shaping as instruction trees, for one size."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from msgspec import Struct

from convert.document.records import BeginningChain
from convert.document.shaping import Block, BlockKind
from convert.document.steps import (
    Chain,
    Decrease,
    Extent,
    Group,
    Place,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    What,
    Which,
    Work,
)
from convert.grader.schedule import NoSchedule

Steps = tuple[Step, ...]
_TO_CORNER = Place(What.SPACE, Which.NEXT, chains=2)


class Maker(Struct, frozen=True):
    """What all rows of a block share. `counted` is 1 where the beginning chain stands for the first stitch."""

    stitch: str
    begin: Steps
    close: Steps
    edge: int
    counted: int

    def even(self) -> Steps:
        """A stitch in each stitch."""
        return (*self.begin, Work(self.stitch, 1, Place(which=Which.EACH)), *self.close)

    def notch(self, number: int, *, both: bool) -> Steps:
        """Stitches left off at the end of the row, and at its start too."""
        slip = (Slip(Place(number=number)),) if both else ()
        leave = Skip(Place(which=Which.REST), leave=True)
        return (*slip, *self.begin, self._to_last(number), leave, *self.close)

    def decreases(self, *, start: bool = True, end: bool = True) -> Steps:
        """A decrease at the start of the row, at its end or at both, with the edge stitches plain."""
        first = (*self._edge(Which.FIRST, self.edge - self.counted), self._decrease()) if start else ()
        if not end:
            return (*self.begin, *first, Work(self.stitch, 1, Place(which=Which.EACH)), *self.close)
        last = (self._to_last(2 + self.edge), self._decrease(), *self._edge(Which.LAST, self.edge))
        return (*self.begin, *first, *last, *self.close)

    def spread(self, plain: Sequence[int], *, grow: bool) -> Steps:
        """Changes with so many plain stitches before each of them, and so many behind the last.

        Raises `NoSchedule` where the beginning chain stands on a stitch that a decrease needs.
        """
        head: Steps = ()
        before = list(plain[:-1])
        if self.counted and before[0]:
            before[0] -= 1
        elif self.counted and not grow:
            raise NoSchedule("the first stitches are worked together, but the beginning chain counts as one of them")
        elif self.counted:
            head, before = (Work(self.stitch, 1, Place(which=Which.SAME)),), before[1:]
        return (*self.begin, *head, *self._runs(before, grow), *self._plain(plain[-1]), *self.close)

    def corners(self, panel: int, sleeve: int) -> Steps:
        """The round that sets up four corners, each in one stitch."""
        corner = self._corner(Place())
        sides = (panel - self.counted, sleeve, panel, sleeve)
        return (*self.begin, *(step for side in sides for step in (*self._plain(side), corner)), *self.close)

    def round_of_corners(self) -> Steps:
        """A round that works each corner in the corner before."""
        side = Repeat((Work(self.stitch, 1, Place(of=self.stitch)),), Extent.TO_PLACE, place=_TO_CORNER)
        rest = Work(self.stitch, 1, Place(which=Which.EACH, of=self.stitch))
        return (*self.begin, Repeat((side, self._corner(_TO_CORNER)), times=4), rest, *self.close)

    def _corner(self, place: Place) -> Group:
        return Group((Work(self.stitch), Chain(2), Work(self.stitch)), place)

    def _edge(self, which: Which, number: int) -> Steps:
        if number <= 0:
            return ()
        meant = Which.NEXT if which is Which.FIRST and number > 1 else which
        return (Work(self.stitch, 1, Place(which=meant, number=number)),)

    def _plain(self, number: int) -> Steps:
        return (Work(self.stitch, 1, Place(number=number)),) if number > 0 else ()

    def _to_last(self, number: int) -> Repeat:
        return Repeat((Work(self.stitch, 1, Place()),), Extent.TO_LAST, place=Place(which=Which.LAST, number=number))

    def _decrease(self) -> Decrease:
        return Decrease(self.stitch, 2, (Place(number=2),))

    def _runs(self, plain: Sequence[int], grow: bool) -> Iterator[Step]:
        """The sections, those alike together as one repeat."""
        change = Work(self.stitch, 2, Place()) if grow else self._decrease()
        for number, alike in groupby(plain):
            times = len(list(alike))
            body = (*self._plain(number), change)
            yield from (Repeat(body, times=times),) if times > 1 else body


def is_round(block: Block) -> bool:
    """Whether the block is worked in rounds."""
    return block.kind in (BlockKind.YOKE, BlockKind.CROWN) or block.rounds


def maker_of(block: Block, chains: Sequence[BeginningChain]) -> Maker:
    """What the rows of a block share. `chains` are what the pattern says of beginning chains.

    Raises `NoSchedule` where nobody says what the beginning chain counts as.
    """
    close = block.close or (() if is_round(block) else (Turn(),))
    return Maker(block.stitch, block.begin, close, block.edge, _counted(block, chains))


def _counted(block: Block, chains: Sequence[BeginningChain]) -> int:
    chain = next((step for step in block.begin if isinstance(step, Chain)), None)
    if chain is None:
        return 0
    counts = chain.counts or next((c.counts for c in chains if c.chains == chain.number), None)
    if counts is not None and counts.chains:
        raise NoSchedule("its beginning chain counts as a stitch and chains")
    # One chain lifts the hook to a single crochet (US), and that chain is not counted (common practice, no source).
    if counts is None and chain.number != 1:
        raise NoSchedule("it is not told whether its beginning chain counts as a stitch")
    return int(counts is not None and counts.stitch is not None)
