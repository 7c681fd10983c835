"""Works the steps of one row, in one size, into the cells of the row before."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.numbers import Number
from convert.document.records import Special
from convert.document.steps import (
    Chain,
    Counts,
    Loops,
    Place,
    Step,
    What,
    Which,
)
from convert.fabric.cells import CHAIN, PICOT, SPACE, STITCH, Builder, Cell, Strip
from convert.fabric.faults import NO_NUMBER, TOLD_IN_WORDS, Fault, NotFound, RanOut, Unknown
from convert.fabric.places import Test, base_kind, corner_test, is_workable, kind_test, test_for
from convert.limits import LIMITS
from convert.source import Span
from convert.trade.stitches import post_stitch, stitches


class RepeatFact(Struct, frozen=True):
    """How a repeat of the row came out, for the explanation of a count."""

    takes: int
    makes: int
    times: int
    span: Span


class Definitions(Struct, frozen=True):
    """What the rows may refer to."""

    specials: dict[str, Special] = field(default_factory=dict)
    defaults: dict[str, tuple[Step, ...]] = field(default_factory=dict)
    """Definitions of the trade's group names that the pattern uses without saying what they are."""

    def steps(self, id: str) -> tuple[Step, ...] | None:
        """What a group name stands for; None where it is one stitch, or not known."""
        own = self.specials.get(id)
        if own is not None and own.steps:
            return own.steps
        return self.defaults.get(id)

    def only_named(self, id: str) -> bool:
        """Whether the pattern names a stitch of its own without a word of what it is."""
        own = self.specials.get(id)
        return own is not None and not own.steps and not own.words


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
    hooked: bool = False
    """Whether the foundation chain has been entered from the hook."""

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
        if self._is_loop_of_chain(place):
            place = replace(place, what=What.CHAIN)
        test = corner_test(place, self.base) if place.what is What.CORNER else test_for(place)
        if not place.also:
            return test
        for other in place.also:
            test = _either(test, self.test(other))
        return test

    def _is_unnamed_group(self, of: str) -> bool:
        """Whether a group's name ("shell") is used for groups that the row below wrote out in stitches."""
        entry = stitches().get(of)
        if entry is None or not entry.unit or entry.decoration:
            return False
        named = self.base.find(kind_test(of), 0) is not None
        return not named and self.base.find(lambda c: c.size >= 3, 0) is not None

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
                    raise NotFound(span, wanted="", place=place)
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

    def into(self, place: Place | None, span: Span) -> int:
        """Goes to the place of one stitch or group and returns how many times it is worked (once for each place
        named).
        """
        if place is None:
            return 1
        self.tick(span)
        if place.words and not self._is_plain_in_words(place):
            raise Unknown(span, why=TOLD_IN_WORDS)
        handler = _GO.get(place.what)
        if handler is not None:
            return handler(self, place, span)
        return self.plain(place, span)

    def plain(self, place: Place, span: Span) -> int:
        """A stitch, a space, a corner or a group of the row below."""
        if self._is_loop_of_chain(place):
            return _chain(self, replace(place, what=What.CHAIN), span)
        if place.what in (What.SPACE, What.CORNER):
            self.spaced = True
        if place.below:
            raise Unknown(span, why="a stitch further down")
        if place.which is Which.MADE:
            return self._just_made(span)
        if place.which is Which.SAME:
            self.same(span)
            return 1
        if self._closes_on_stitch(place):
            self._close_on_stitch()
            return 1
        if place.within is not None:
            return self._within(place, span)
        next_one = place.number == 1 and place.which in (Which.NEXT, Which.FIRST)
        if next_one and (self._into_group(place) or self._into_beginning_loop(place)):
            return 1
        return self._counted(place, self.number(place.number, span), span)

    def _into_beginning_loop(self, place: Place) -> bool:
        """ "Ch-8 loop" where only a beginning chain is so long: it stood for a stitch and the loop beside it."""
        length = place.chains
        if place.what is not What.SPACE or length is None or self.base.find(self.test(place), 0) is not None:
            return False
        top = self.base.find(lambda c: c.sort == STITCH and c.chains == length, max(0, self.position - 1))
        beside = () if top is None else (top + 1, top - 1)
        loop = next((p for p in beside if self.position <= p < self.base.length and self._is_space(p)), None)
        if loop is None:
            return False
        self.last, self.position = loop, loop + 1
        return True

    def _is_space(self, position: int) -> bool:
        return self.base.at(position)[0].sort == SPACE

    def _is_own(self, place: Place) -> bool:
        """Whether the words tell the piece in work from another one, to which the row is joined on its way."""
        return bool(self.others) and place.words not in self.others

    def _is_plain_in_words(self, place: Place) -> bool:
        """Whether the place is known, whatever its words say besides."""
        if place.words == "free" or place.what is What.PIECE or self._is_own(place):
            return True
        return self.described and self._is_right_here(place)

    def _is_right_here(self, place: Place) -> bool:
        """Whether the very next stitch is of the kind that the place names."""
        plain = place.what is What.STITCH and place.which is Which.NEXT and place.nth is None and place.below == 0
        return plain and self.base.find(self.test(place), self.position) == self.position

    def _into_group(self, place: Place) -> bool:
        """Goes into the middle of the next group that has a space there: "shell in next shell"."""
        entry = stitches().get(place.of) if place.of is not None else None
        if place.what is not What.GROUP and (entry is None or not entry.unit):
            return False
        found = self.base.find(self.test(place), self.position)
        size = self.base.at(found)[0].size if found is not None else 0
        if found is None or size < 3 or self.base.at(found + size // 2)[0].sort != SPACE:
            return False
        self.last, self.position, self.spaced = found + size // 2, found + size, True
        return True

    def _is_loop_of_chain(self, place: Place) -> bool:
        """Whether a "loop" is a stitch of the chain that the row is worked on: a bare chain has no other."""
        if place.what is not What.SPACE or place.chains is not None or place.within is not None:
            return False
        base = self.base
        return base.find(lambda c: c.sort == CHAIN, 0) is not None and base.find(lambda c: c.sort == SPACE, 0) is None

    def _counted(self, place: Place, many: int, span: Span) -> int:
        """So many places, told by which of them they are."""
        if self.in_ring and place.what is What.STITCH and place.which is Which.NEXT and place.of is None:
            inside = self.position == 0 and self.last is None and self.out.made > 0
            if inside or many > self.remaining():
                return many  # "12 dc" without a place, in a ring
        if place.which is Which.FIRST:
            return self._first(place, many, span)
        if place.which is Which.LAST:
            return self._last(place, many, span)
        if place.which in (Which.EACH, Which.REST):
            return self._all(place, span)
        if place.which is Which.CENTER and place.of is not None:
            return self._center_of_group(place, span)
        if place.which is Which.NTH and place.nth:
            self.runs_of(place, place.nth, span)
            return 1
        if many:
            self.runs_of(place, many, span)
        return many

    def _all(self, place: Place, span: Span) -> int:
        many = self.remaining(self.test(place)) if place.every == 1 else self._every(place)
        if many == 0:
            self.not_found(place, self.test(place), span)
        self.runs_of(place, many, span)
        return many

    def _every(self, place: Place) -> int:
        return -(-self.remaining(self.test(place)) // place.every)

    def same(self, span: Span) -> None:
        """Stays where the last stitch went or, at the beginning, where the row begins."""
        if self.last is None and not self.in_ring:
            if self.base.length == 0:
                raise NotFound(span, wanted="place worked into before", place=None)
            if self.stand():
                return
            self.last = 0
            self.position = max(self.position, 1)

    def stand(self) -> bool:
        """Takes the loop in whose middle the work stands, where a stitch closed the last round instead of a join."""
        if not self.closing or self.flat or self.position or self.last is not None or not self.base.length:
            return False
        self.base = self.base.from_position(self.base.length - 1)
        self.position, self.last, self.closing = 1, 0, ""
        self.spaced = True
        return True

    def _closes_on_stitch(self, place: Place) -> bool:
        """Whether the place is the stitch that closed the last round instead of a join: it closes this one in
        turn.
        """
        return (
            bool(self.closing)
            and not self.flat
            and place.what is What.STITCH
            and place.of == self.closing
            and self.position < self.base.length
            and (self._only_last_loop() or self.base.find(kind_test(self.closing), self.position) is None)
        )

    def _only_last_loop(self) -> bool:
        """Whether of all loops only the one that the closing stitch formed is left."""
        return self.spaced and self.base.find(lambda c: c.sort == SPACE, self.position) == self.base.length - 1

    def _close_on_stitch(self) -> None:
        """Closes the round on the stitch that closed the last one: the loop which that stitch formed is taken."""
        self.closed = self.spaced = True
        if self._only_last_loop():
            self.position, self.last = self.base.length, self.base.length - 1

    def _just_made(self, span: Span) -> int:
        """The stitch made last: chains before it close to a picot on top of it."""
        if not self.pending:
            raise Unknown(span, why="a stitch into one just made")
        self.out.add(Cell("picot", PICOT, self.pending, self.unit[0]))
        self.pending = 0
        return 0

    def _first(self, place: Place, many: int, span: Span) -> int:
        test = self.test(place)
        found = self.base.find(test, 0)
        made = self.out.first()
        if found is None and made is not None and not self.flat and test(made):
            self.closed, self.last = True, 0  # "first cluster" of this very round
            return 1
        if found is None:
            raise NotFound(span, wanted="", place=place)
        if found < self.position and self.position > 1 and not self.flat:
            self.closed = True
            self.last = found
            return 1
        if found < self.position:
            self.last = found
            return 1
        self.position = found
        self.runs_of(place, many, span)
        self.first_ones = self.position if many > 1 else 0
        return many

    def _last(self, place: Place, many: int, span: Span) -> int:
        test = self.test(place)
        total = self.base.count(test)
        before = self.base.count(test, 0, self.position)
        if total - before < many:
            raise RanOut(span, what=place, wanted=many, left=total - before)
        skipped = total - before - many
        if skipped:
            self.runs_of(Place(place.what, of=place.of, chains=place.chains), skipped, span)
        start = self.position
        self.runs_of(Place(place.what, of=place.of, chains=place.chains), many, span)
        if place.what is What.STITCH and not self.spaced:
            self.passed += skipped + self.base.count(is_workable, start, self.position) - many
        return many

    def _center_of_group(self, place: Place, span: Span) -> int:
        assert place.of is not None
        test = self.test(Place(of=place.of))
        found = self.base.find(test, self.position)
        if found is None:
            self.not_found(place, test, span)
        assert found is not None
        cell, _ = self.base.at(found)
        self.last = found + cell.size // 2
        self.position = found + max(1, cell.size)
        self.spaced = True
        return 1

    def _within(self, place: Place, span: Span) -> int:
        """A stitch or space inside a group: "centre dc of next shell", "ch-2 sp of next shell"."""
        outer = place.within
        assert outer is not None
        if outer.what is What.CHAIN and self.base.find(lambda c: c.sort == CHAIN, 0) is None:
            return _beginning_chain(self, Place(What.BEGINNING_CHAIN, nth=place.nth), span)
        inner = self.test(outer)
        begin = self.last if outer.which is Which.SAME else self.base.find(inner, self.position)
        if begin is None:
            self.not_found(outer, inner, span)
        assert begin is not None
        cell, _ = self.base.at(begin)
        size = max(1, cell.size)
        test = test_for(Place(place.what, of=place.of, chains=place.chains))
        hits = [p for p in range(begin, min(begin + size, self.base.length)) if test(self.base.at(p)[0])]
        if not hits and self.base.find(test, 0) is not None:
            raise Unknown(span, why="a part of a group that the row below does not mark as such")
        if not hits:
            raise NotFound(span, wanted="", place=place)
        index = {Which.FIRST: 0, Which.LAST: -1, Which.CENTER: len(hits) // 2}.get(place.which, (place.nth or 1) - 1)
        if index >= len(hits):
            raise NotFound(span, wanted="", place=place)
        self.last = hits[index]
        self.position = begin + size
        self.spaced = True
        return 1


def _ring(worker: Worker, place: Place, span: Span) -> int:
    if not worker.in_ring and worker.base.length:
        raise NotFound(span, wanted="ring", place=place)
    worker.in_ring = True  # "6 sc in ring" at the very beginning makes the ring that it works into
    return 1


def _chain(worker: Worker, place: Place, span: Span) -> int:
    """A chain of the foundation, or one chain of a chain space."""
    if place.origin is not None:
        return _from_hook(worker, place, span)
    if worker.base.find(lambda c: c.sort == CHAIN, 0) is not None and place.within is None:
        return worker.plain(place, span)
    return _inside_space(worker, place, span)


def _from_hook(worker: Worker, place: Place, span: Span) -> int:
    nth = place.nth or 1
    if (
        not worker.hooked
        and not worker.in_ring
        and worker.base.find(lambda c: c.sort == CHAIN, 0) is not None
        and nth > worker.position
    ):
        worker.hooked = True
        worker.entered = nth - 1
        if nth > worker.base.length:
            raise RanOut(span, what=place, wanted=nth, left=worker.base.length)
        worker.position = nth
        worker.last = nth - 1
        return 1
    if worker.pending >= nth:
        before = worker.pending - nth
        worker.pending = before
        worker.close_chains()
        worker.out.add(Cell("picot", PICOT, nth, worker.unit[0]))
        return 0
    raise NotFound(span, wanted=f"{nth} chains before the hook", place=place)


def _inside_space(worker: Worker, place: Place, span: Span) -> int:
    """ "2nd ch of next ch-3 sp", "next ch" where the next cell is a space."""
    if place.which is Which.SAME and place.within is None:
        worker.same(span)
        return 1
    outer = place.within or Place(What.SPACE)
    worker.spaced = True
    many = worker.number(place.number, span)
    if place.which in (Which.NEXT, Which.EACH) and place.nth is None and place.within is None:
        return _chains_one_by_one(worker, place, many, span)
    if outer.which is Which.SAME and worker.last is not None:
        return 1
    found = worker.base.find(worker.test(outer), worker.position)
    if found is None and not worker.flat and outer.chains is not None and outer.chains == worker.began:
        worker.closed, worker.last = True, 0  # "4th ch of ch-7": the chain that began this round
        return 1
    if found is None:
        if worker.last is not None and worker.test(outer)(worker.base.at(worker.last)[0]):
            return 1
        worker.not_found(outer, worker.test(outer), span)
    assert found is not None
    length = worker.base.at(found)[0].chains
    if place.nth is not None and place.nth > length:
        raise NotFound(span, wanted=f"chain {place.nth} of a ch-{length} sp", place=place)
    worker.last = found
    worker.position = found + 1
    return many


def _chains_one_by_one(worker: Worker, place: Place, many: int, span: Span) -> int:
    every = place.which is Which.EACH
    if _at_beginning_chain(worker) and many == 1:
        worker.last = worker.position
        worker.position += 1
        return 1
    found = worker.base.find(lambda c: c.sort == SPACE, max(0, worker.position - (1 if worker.chain_inside else 0)))
    if found is None:
        raise RanOut(span, what=place, wanted=many, left=0)
    length = worker.base.at(found)[0].chains - worker.chain_inside
    if every:
        many = length
    if many > length:
        raise RanOut(span, what=place, wanted=many, left=length)
    worker.chain_inside = worker.chain_inside + many if many < length else 0
    worker.last = found
    worker.position = found + 1
    return many


def _at_beginning_chain(worker: Worker) -> bool:
    """Whether all chains of a space are passed and the next one belongs to the chain that stood for a stitch."""
    if worker.chain_inside or not 0 < worker.position < worker.base.length:
        return False
    cell = worker.base.at(worker.position)[0]
    return cell.sort == STITCH and cell.chains > 0


def _gap(worker: Worker, place: Place, span: Span) -> int:
    worker.spaced = True
    if place.which is Which.SAME:
        return 1
    if place.which is Which.NTH and place.within is not None:
        return _gap_of_group(worker, place, place.within, span)
    many = worker.number(place.number, span)
    if place.which is Which.EACH:
        many = max(1, _gaps_left(worker, place))
    for _ in range(many):
        if worker.position >= worker.base.length:
            raise RanOut(span, what=place, wanted=many, left=0)
        _to_gap(worker, place)
    if place.which is Which.EACH and worker.flat:
        worker.position = worker.base.length  # the last stitch or group has no gap behind it
    return many


def _gaps_left(worker: Worker, place: Place) -> int:
    """The gaps up to the end: in a round there is one behind the last stitch, or group, too."""
    between = worker.remaining() if place.within is None else worker.remaining(worker.test(place.within))
    return between - 1 if worker.flat else between


def _gap_of_group(worker: Worker, place: Place, group: Place, span: Span) -> int:
    """ "Between 2nd and 3rd dc of next shell"."""
    test = worker.test(group)
    begin = worker.base.find(test, worker.position)
    if begin is None:
        worker.not_found(group, test, span)
    assert begin is not None
    size = worker.base.at(begin)[0].size
    if not place.nth or place.nth >= size:
        raise NotFound(span, wanted=f"gap behind stitch {place.nth} of a group of {size}", place=place)
    worker.last = begin + place.nth - 1
    worker.position = begin + size
    return 1


def _to_gap(worker: Worker, place: Place) -> None:
    """Goes to the next gap: between groups that is where the next group begins, if its gap has not been used."""
    if place.within is not None and worker.base.find(lambda c: c.size > 1, 0) is None:
        raise Unknown(place.span, why="groups that the row below does not mark as such")
    cell, _ = worker.base.at(worker.position)
    boundary = place.within is not None and cell.part == 0 and worker.position > 0
    if not (boundary and worker.gap_used != worker.position):
        step = cell.size - cell.part if cell.size and place.within is not None else 1
        worker.position += max(1, step)
    worker.gap_used = worker.position
    worker.last = max(0, worker.position - 1)


def _stands_behind_slip(worker: Worker) -> bool:
    """Whether the row below slipped to where a chain begins what is left of it."""
    return worker.flat and worker.base.find(lambda c: c.kind == "sl-st", 0) is not None


def _beginning_chain(worker: Worker, place: Place, span: Span) -> int:
    """The top of the beginning chain: of this round where it closes it, of the row below as a row's last stitch."""
    if worker.base.find(lambda c: c.sort == CHAIN, 0) is not None:
        return _of_foundation(worker, place, span)
    test = test_for(place)
    found = worker.base.find(test, worker.position)
    if found is None and (_stands_behind_slip(worker) or (place.nth and place.chains is None and not worker.began)):
        raise Unknown(span, why="a chain that the row below does not begin with")
    if found is None and not worker.flat and worker.out.made:
        worker.closed = True
        worker.last = 0
        return 1
    if found is None:
        if worker.position < worker.base.length or worker.base.find(test, 0) is None:
            raise NotFound(span, wanted="beginning chain that counts as a stitch", place=place)
        raise RanOut(span, what=place, wanted=1, left=0)
    if not worker.spaced:
        worker.passed += worker.base.count(is_workable, worker.position, found)
    worker.last = found
    worker.position = found + 1
    return 1


def _of_foundation(worker: Worker, place: Place, span: Span) -> int:
    """ "4th st of ch", "next st of ch" on a foundation chain: counted from the hook, or simply the next. The first is
    the one that was made first ("ch 2, 8 sc in first st of ch").
    """
    if place.nth == 1 and not worker.position:
        place = replace(place, nth=worker.base.length)
    if place.nth is not None:
        return _from_hook(worker, place, span)
    return worker.plain(replace(place, what=What.CHAIN, chains=None), span)


def _marker(worker: Worker, place: Place, span: Span) -> int:
    raise Unknown(span, why="a marked stitch")


def _elsewhere(worker: Worker, place: Place, span: Span) -> int:
    raise Unknown(span, why="an edge other than the last row")


_GO: dict[What, Callable[[Worker, Place, Span], int]] = {
    What.RING: _ring,
    What.CHAIN: _chain,
    What.GAP: _gap,
    What.BEGINNING_CHAIN: _beginning_chain,
    What.MARKER: _marker,
    What.ROW_END: _elsewhere,
    What.PIECE: _elsewhere,
}


def beginning_readings(
    chain: Chain, number: int, first_height: int | None, first_stitch: str | None
) -> tuple[Counts, ...]:
    """What a beginning chain may stand for where nobody says it, the likeliest first (heights of the stitch
    table).
    """
    options: list[Counts] = []
    if first_height is not None and first_stitch is not None and stitches()[first_stitch].counts:
        if number == first_height:
            options += [Counts(first_stitch), Counts()]
        elif number > first_height:
            options += [Counts(first_stitch, number - first_height), Counts()]
        else:
            options += [Counts(), Counts(first_stitch)]
    else:
        options.append(Counts())
    options.append(Counts(None, number))
    return tuple(dict.fromkeys(options))


def _either(one: Test, other: Test) -> Test:
    return lambda cell: one(cell) or other(cell)
