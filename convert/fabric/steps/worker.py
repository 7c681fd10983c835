"""Works the steps of one row, in one size, into the cells of the row before."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.steps import (
    Loops,
    Place,
    What,
    Which,
)
from convert.fabric.cells import CHAIN, SPACE, STITCH, Builder, Cell, Strip
from convert.fabric.faults import NO_NUMBER, Fault, NotFound, RanOut, Unknown
from convert.fabric.places.opened import with_open_chains
from convert.fabric.places.place import Test, base_kind, corner_test, is_workable, kind_test, test_for, with_written_out
from convert.fabric.rows.sides import Sides
from convert.fabric.steps.definitions import Definitions
from convert.limits import LIMITS
from convert.source import Span
from convert.trade.stitches import post_stitch, stitches


class RepeatFact(Struct, frozen=True):
    """How a repeat of the row came out, for the explanation of a count."""

    takes: int
    makes: int
    times: int
    span: Span


class Worker(Struct):
    """The state of a row in work: how far the base has been used, and what has been made.

    `position` is the next unused cell of the base, `last` the one worked into last. `flat` is False for rounds.
    """

    base: Strip
    definitions: Definitions
    flat: bool
    in_ring: bool = False
    position: int = 0
    last: int | None = None
    chain_inside: int = 0
    out: Builder = field(default_factory=Builder)
    pending: int = 0
    """Chains made and not yet closed to a space by the next stitch."""
    kind: str = "sc"
    """The prevailing stitch."""
    spaced: bool = False
    """Whether the row works into spaces or gaps, so that stitches passed at its end are no left-overs."""
    unit: tuple[str, int] = ("", 0)
    steps: int = 0
    tests: dict[int, tuple[Place, Test]] = field(default_factory=dict)
    """The test for each place that was asked about on the base in `tested`. The place is kept with it, so that its
    identity stays its own.
    """
    tested: Strip | None = None
    faults: list[Fault] = field(default_factory=list)
    repeats: list[RepeatFact] = field(default_factory=list)
    passed: int = 0
    left: bool = False
    left_beside: int = 0
    """How many more stitches there are than the row says that it leaves."""
    left_from: int = 0
    """Where the places begin that were left on purpose."""
    gap_used: int = -1
    """The position before which the last gap was worked."""
    closed: bool = False
    closing: str = ""
    """The stitch that closed the last round instead of a join."""
    joined: bool = False
    origin: int = 0
    travels: bool = True
    """Whether slip stitches at the beginning only lead to where the work begins."""
    began: int = 0
    """The length of this row's beginning chain."""
    entered: int = 0
    """The chain of the foundation that was entered first."""
    opening: bool = False
    """Only the beginning chain, which stands for a stitch, has been made."""
    others: frozenset[str] = frozenset()
    """The words by which the row calls other pieces, to which it is joined on its way."""
    first_ones: int = 0
    """Behind the places of "the first 28 sts": a row that is turned there leaves the others on purpose."""
    around: bool = False
    """The work goes back along the other side of the foundation, whose first chain it has met already."""
    first_many: int = 0
    """How many stitches the beginning chain and what follows it put into the first place."""
    leg: bool = False
    """The beginning chain is still to be drawn together with the cluster behind it."""
    described: bool = False
    """Words beside a place are taken to describe the very next stitch."""
    slid: int = 0
    """The size of the group at whose beginning the row stands, since it slipped "into shell"."""
    hooked: bool = False
    """Whether the foundation chain has been entered from the hook."""
    skipped: tuple[int, int] = (0, 0)
    """Where the places that were passed last begin and end."""
    gone_back: int = 0
    """How many of them have been worked into since."""
    passes_on: bool = False
    """Nothing is worked where the slip stitches at the beginning lead to: the round comes back to it at its end."""
    flap: bool = False
    """Yarn was joined on a round, and the row turns back: the stitches that it does not come to are left on purpose."""
    around_below: bool = False
    """The row below is a round that was joined."""
    comes_back: bool = False
    """The round ends in the place where its yarn was joined."""
    on_other_side: bool = False
    """The row has gone on to another side of the piece, which told how many stitches are there."""
    beyond: bool = False
    """The row has gone on from the last one to an edge that nobody tells."""
    extended: bool = False
    """The chain that begins the row has made it longer."""
    spurred: bool = False
    """The row has stitches along chains that stand out from it."""
    folds: bool = False
    """The row only closes the work pressed flat, through both layers."""
    closes_to: int = 0
    """The stitches that its count then tells; 0 where it tells none."""
    untold: bool = False
    """Nobody tells the edge below: every place named once is there."""
    turns: int = 0
    """How often what goes all around that edge is worked, to stand for any number; 0 where it stays unknown."""
    sides: Sides | None = None
    """The sides of the piece along which the row goes."""
    ends_met: int = 0
    """How many ends of rows along this side have been worked into, by their kinds."""
    shares: tuple[int, ...] | None = None
    """How many stitches go along each edge of which the row says only "evenly"; `shared` of them have been worked."""
    shared: int = 0
    completes: Strip | None = None
    """What the round of another piece made, as which this one ends."""

    # --- places --------------------------------------------------------------------------------------------------

    def tick(self, span: Span) -> None:
        """Counts a step, so that no input runs for ever."""
        self.steps += 1
        if self.steps > LIMITS.steps:
            raise Unknown(span, why="too many steps")

    def used_up(self) -> bool:
        """Whether no stitch is left to work into. Asked at every turn of a repeat, so nothing is counted."""
        return self.base.find(is_workable, self.position) is None

    def remaining(self, wanted: Callable[[Cell], bool] = is_workable) -> int:
        """How many wanted cells are left."""
        return self.base.count(wanted, self.position)

    def number(self, number: Number, span: Span) -> int:
        """A number that has been worked out for this size."""
        if not isinstance(number, int):
            raise Unknown(span, why=NO_NUMBER)
        if number > LIMITS.number:
            raise Unknown(span, why=f"the number {number:,} is larger than any pattern needs")
        return number

    def test(self, place: Place) -> Callable[[Cell], bool]:
        """The test for a place, with the further kinds of place that it names."""
        if self.tested is not self.base:
            self.tests, self.tested = {}, self.base
        known = self.tests.get(id(place))
        if known is None:
            known = self.tests[id(place)] = (place, self._test(place))
        return known[1]

    def _test(self, place: Place) -> Test:
        if place.of is not None and self._is_unnamed_group(place.of):
            return lambda cell: cell.size >= 3 and cell.part == 0
        if place.what is What.GROUP and self.base.find(lambda c: bool(c.unit), 0) is None:
            of = place.of
            return lambda cell: cell.size == 2 and cell.part == 0 and (of is None or base_kind(cell.kind) == of)
        if self.is_loop_of_chain(place):
            place = replace(place, what=What.CHAIN)
        test = corner_test(place, self.base) if place.what is What.CORNER else test_for(place)
        if place.of is not None and place.what is What.STITCH:
            test = with_written_out(test, place.of, self.base)
        if place.what is What.SPACE and place.chains and self.base.find(lambda cell: cell.sort == SPACE, 0) is None:
            # Nothing but the chain that stands for a stitch leaves a space, and it is one of that length.
            return lambda cell: cell.sort == STITCH and cell.chains == place.chains
        if not place.also:
            return test
        for other in place.also:
            test = _either(test, self.test(other))
        return test

    def _is_unnamed_group(self, of: str) -> bool:
        """Whether a group's name ("shell") is used for groups that the row below wrote out in stitches."""
        entry = stitches().get(of)
        own = self.definitions.steps(of) if entry is None else None
        if own is None and (entry is None or not entry.unit or entry.decoration):
            return False
        named = self.base.find(kind_test(of), 0) is not None
        return not named and self.base.find(lambda c: c.size >= 3, 0) is not None

    def open_chains(self) -> None:
        """Makes every space ahead the chains that it consists of, for work that goes into each of them."""
        self.base = with_open_chains(self.base, self.position)

    def seek(self, place: Place, span: Span) -> int:
        """The position of the next cell that the place means; raises `RanOut` or `NotFound`."""
        test = self.test(place)
        if place.what is What.STITCH and place.of is None:
            found = self.base.find(test, self.position)
            if found is None:
                raise RanOut(span, what=place, left=0)
            return found
        found = self.base.find(test, self.position)
        if found is None:
            self.not_found(place, test, span)
        assert found is not None
        return found

    def not_found(self, place: Place, test: Callable[[Cell], bool], span: Span) -> None:
        """Raises `RanOut` where the row below had such a place, and `NotFound` where it never did."""
        if self.base.find(test, 0) is not None:
            raise RanOut(span, what=place, left=0)
        if place.what is What.CORNER and place.which is Which.EACH:
            raise Unknown(span, why="corners that the row below does not mark as such")
        if place.what is What.GROUP and place.of is None and self.base.find(lambda c: c.sort == SPACE, 0) is not None:
            raise Unknown(span, why="groups that the row below does not mark as such")  # stitches between chains
        entry = stitches().get(place.of) if place.of is not None else None
        if entry is not None and entry.decoration:
            raise Unknown(span, why="picots that the row below does not mark as such")
        raise NotFound(span, wanted="", place=place)

    def runs_of(self, place: Place, many: int, span: Span) -> None:
        """Moves over `many` cells that the place means; `last` is then the last of them."""
        test = self.test(place)
        left = many
        position = self.position
        base = self.base
        every = max(1, place.every)
        while left:
            stretch = base.stretch(test, position)
            if stretch is None:
                named = place.of is not None or place.what is not What.STITCH
                if named and base.length and base.find(test, 0) is None:
                    self.not_found(place, test, span)
                    raise NotFound(span, wanted="", place=place)
                if self.around and left == 1 and many - left == base.length > 0:
                    break  # the last chain, which one side ended in, may be worked from the other one too
                raise RanOut(span, what=place, wanted=many, left=many - left)
            found, number = stretch
            if number < left and every == 1:
                number = base.unbroken(found, test)
            taken = min(left, number if every == 1 else 1)
            position = found + taken
            self.last = position - 1
            if every > 1 and left > taken:
                position = self._past(position, every - 1, test)
            left -= taken
        self.position = position
        self.chain_inside = 0

    def _past(self, position: int, many: int, test: Callable[[Cell], bool]) -> int:
        for _ in range(many):
            found = self.base.find(test, position)
            if found is None:
                return self.base.length
            position = found + 1
        return position

    # --- making --------------------------------------------------------------------------------------------------

    def close_chains(self) -> None:
        """Chains made before a stitch become a space."""
        if self.pending:
            self.out.add(Cell("ch", SPACE, self.pending, self.unit[0]))
            self.pending = 0

    def make(self, kind: str, number: int = 1, *, chains: int = 0) -> None:
        """Adds stitches to what the row makes."""
        self.close_chains()
        if kind != "sl-st":
            self.kind = base_kind(kind)
        self.out.add(Cell(kind, STITCH, chains, self.unit[0]), number)

    def made_kind(self, stitch: str, place: Place | None) -> str:
        """The kind of stitch made: the post form for posts."""
        if place is not None and place.loops in (Loops.FRONT_POST, Loops.BACK_POST):
            post = post_stitch(stitch, "front" if place.loops is Loops.FRONT_POST else "back")
            if post is not None:
                return post.id
        return stitch

    def is_loop_of_chain(self, place: Place) -> bool:
        """Whether a "loop" is a stitch of the chain that the row is worked on: a bare chain has no other."""
        if place.what is not What.SPACE or place.chains is not None or place.within is not None:
            return False
        base = self.base
        return base.find(lambda c: c.sort == CHAIN, 0) is not None and base.find(lambda c: c.sort == SPACE, 0) is None

    def same(self, span: Span) -> None:
        """Stays where the last stitch went or, at the beginning, where the row begins."""
        if self.last is None and not self.in_ring:
            if self.base.length == 0:
                raise NotFound(span, wanted="place worked into before", place=None)
            if self.stand():
                return
            self.last = 0
            self.position = max(self.position, 1)

    def into_slid(self) -> None:
        """ "Sl st into shell, 3 dc in same space": the first space of the group that the row slipped into."""
        if not self.slid or self.last != 0 or self.base.at(0)[0].sort == SPACE:
            return
        found = self.base.find(lambda cell: cell.sort == SPACE, 0)
        if found is not None and found < self.slid:
            self.last, self.position, self.slid = found, found + 1, 0

    def stand(self) -> bool:
        """Takes the loop in whose middle the work stands, where a stitch closed the last round instead of a join."""
        if not self.closing or self.flat or self.position or self.last is not None or not self.base.length:
            return False
        self.base = self.base.from_position(self.base.length - 1)
        self.position, self.last, self.closing = 1, 0, ""
        self.spaced = True
        return True


def _either(one: Test, other: Test) -> Test:
    return lambda cell: one(cell) or other(cell)
