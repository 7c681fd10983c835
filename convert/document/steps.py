"""The instruction tree: the closed set of steps that a row is made of, and the places that stitches go into.

Every node is frozen and compares by meaning: `span`, the stretch of the author's text that it was read from, and the
`said_` fields, which tell how the author worded something, stay out of equality.
"""

from __future__ import annotations

from enum import StrEnum
from typing import get_args

from msgspec import Struct

from convert.document.numbers import Number
from convert.document.placed import Placed
from convert.document.prose import Prose
from convert.source import NOWHERE, Span


class What(StrEnum):
    """What a stitch can be worked into."""

    STITCH = "stitch"
    SPACE = "space"
    """A chain space (also called loop or arch)."""
    CHAIN = "chain"
    """One given chain of a chain: of the foundation, of a chain space, or of the beginning chain."""
    GAP = "gap"
    """Between two stitches, without a chain there."""
    RING = "ring"
    ROW_END = "row-end"
    BEGINNING_CHAIN = "beginning-chain"
    """The chain that began this row or, for a join or a last stitch, the row worked into."""
    MARKER = "marker"
    CORNER = "corner"
    """The corner space or, where the corner has none, the middle stitch of the corner group."""
    GROUP = "group"
    """A group of stitches worked into one place."""
    PIECE = "piece"
    """Somewhere on a piece of work, as a place to begin."""


class Which(StrEnum):
    """Which of several such places is meant."""

    NEXT = "next"
    SAME = "same"
    FIRST = "first"
    LAST = "last"
    EACH = "each"
    """Each one up to the end of the row or round."""
    NTH = "nth"
    """The one with the ordinal in `Place.nth`, counted from the place named by `within` or from the row's start."""
    CENTER = "center"
    REST = "rest"
    """All that remain."""
    ANY = "any"
    MADE = "made"
    """The stitch just made in this row: "sl st in top of sc just made"."""
    SKIPPED = "skipped"
    """One that this row passed before: `Place.nth` tells which of those passed last; without it, it is the next that
    nothing was worked into since ("skip next st, dc in next st, dc in skipped st")."""

    @property
    def is_one(self) -> bool:
        """Whether it points at a place, and not at all of them."""
        return self not in (Which.EACH, Which.REST, Which.MADE)


class Loops(StrEnum):
    """How the hook enters a stitch."""

    BOTH = "both"
    FRONT = "front"
    BACK = "back"
    THIRD = "third"
    """The horizontal bar behind a half double (US) stitch."""
    BUMP = "bump"
    """The bump at the back of a chain."""
    FRONT_POST = "front-post"
    BACK_POST = "back-post"


class Origin(StrEnum):
    """What the ordinal of a chain counts from."""

    HOOK = "hook"
    START = "start"


class Place(Placed, frozen=True, eq=False):
    """Where a stitch goes.

    `number` is how many such places are worked one after the other ("each of next 3 dc" is 3). `of` narrows a
    stitch to one kind, by stitch id or special-stitch id. `chains` is the length of a chain space. `within` names
    the larger thing that the place is part of ("centre dc of next shell"); `also` lists further kinds of place
    that are worked in the same pass ("in each dc and in each ch-1 sp around").
    """

    what: What = What.STITCH
    which: Which = Which.NEXT
    number: Number = 1
    of: str | None = None
    chains: int | None = None
    nth: int | None = None
    origin: Origin | None = None
    loops: Loops = Loops.BOTH
    every: int = 1
    """2 for "every other", 3 for "every 3rd": the places in between are passed."""
    below: int = 0
    """How many rows further down than the last one."""
    within: Place | None = None
    also: tuple[Place, ...] = ()
    words: str = ""
    """What else the author says of the place ("of second motif"): kept, printed, and beyond what is executed. A stitch
    that the two systems name differently stands in it as `{id}`; "3-{dc}" is the size by which a group is told."""
    span: Span = NOWHERE


class Counts(Struct, frozen=True):
    """What a beginning chain stands for: a stitch, a stitch and some chains, or (all empty) nothing."""

    stitch: str | None = None
    chains: int = 0


class Work(Placed, frozen=True, eq=False):
    """`each` stitches of one kind into every place named.

    "sc in next 5 sts" is each=1 over 5 places, "3 dc in next sp" is each=3 into one. Without a place the stitch goes
    where the enclosing group goes.
    """

    stitch: str
    each: Number = 1
    place: Place | None = None
    said_doubtful: bool = False
    """ "2 sc in next 2 sts": one in each, or two in each?"""
    span: Span = NOWHERE


class Group(Placed, frozen=True, eq=False):
    """Several steps into one place (or into each of several): "(3 dc, ch 1, 3 dc) in corner sp"."""

    steps: tuple[Step, ...]
    place: Place
    span: Span = NOWHERE


class Chain(Placed, frozen=True, eq=False):
    """`number` chains. `counts` is None where the text does not say what a beginning chain stands for.

    `skipped` chains were made before, in the foundation: the row only says what the ones passed at the hook count as.
    """

    number: Number
    counts: Counts | None = None
    skipped: bool = False
    span: Span = NOWHERE


class Slip(Placed, frozen=True, eq=False):
    """Slip stitches that travel to where the work goes on."""

    place: Place
    span: Span = NOWHERE


class Decrease(Placed, frozen=True, eq=False):
    """One stitch over several places: `dc3tog`.

    `legs` is how many unfinished stitches are drawn together. `places` are the places of the legs: one place with
    a number ("over next 3 dc"), or several named one by one.
    """

    stitch: str
    legs: int
    places: tuple[Place, ...]
    span: Span = NOWHERE


class Skip(Placed, frozen=True, eq=False):
    """Places passed on purpose. `leave` tells that they are left unworked at the end of a row."""

    place: Place
    leave: bool = False
    span: Span = NOWHERE


class Extent(StrEnum):
    """How far a repeat goes."""

    TIMES = "times"
    END = "end"
    """All around or across."""
    TO_LAST = "to-last"
    """To the last n places of a kind."""
    TO_PLACE = "to-place"
    """To a corner, a marker, a named stitch."""


class EndingKind(StrEnum):
    """How the last repeat of a row differs from the others."""

    WITH = "with"
    """It ends with the steps given."""
    AT = "at"
    """It stops after the given number of the repeat's own steps (the mark `**`)."""
    FITTING = "fitting"
    """ "Ending to correspond": it is cut short where the round's beginning stands for the rest."""


class Ending(Struct, frozen=True):
    """The end of the last repeat."""

    kind: EndingKind
    steps: tuple[Step, ...] = ()
    after: int = 0


class Repeat(Placed, frozen=True, eq=False):
    """A body worked several times. `times` counts all workings, the first included."""

    steps: tuple[Step, ...]
    extent: Extent = Extent.TIMES
    times: Number = 1
    place: Place | None = None
    ending: Ending | None = None
    said_doubtful: bool = False
    """The wording gave the number of times and left open whether the first working is among them."""
    span: Span = NOWHERE
    said_bare: bool = False
    """No bracket stands around what is repeated: in "2 sc, inc x 6" it may be all that stands before."""


class JoinBy(StrEnum):
    """What closes a round."""

    SLIP = "slip"
    UNSAID = "unsaid"


class Join(Placed, frozen=True, eq=False):
    """Closes a round. `place` is None where the text only says "join"."""

    place: Place | None = None
    by: JoinBy = JoinBy.UNSAID
    span: Span = NOWHERE


class Turn(Placed, frozen=True, eq=False):
    """The work is turned."""

    span: Span = NOWHERE


class FastenOff(Placed, frozen=True, eq=False):
    """The yarn is cut and drawn through."""

    span: Span = NOWHERE


class ChangeColour(Placed, frozen=True, eq=False):
    """From here on another yarn. `colour` is the letter or name by which the pattern calls it.

    `where` is a place if the yarn is joined anew there.
    """

    colour: str
    span: Span = NOWHERE


class MarkerAct(StrEnum):
    """What is done with a stitch marker."""

    PLACE = "place"
    MOVE = "move"
    REMOVE = "remove"


class Marker(Placed, frozen=True, eq=False):
    """A stitch marker is placed, moved up or removed; without a place, at the stitch just made."""

    act: MarkerAct
    place: Place | None = None
    span: Span = NOWHERE


class Start(StrEnum):
    """How a piece of work begins."""

    CHAIN = "chain"
    OPEN_CHAIN = "open-chain"
    """A foundation chain whose length the maker chooses: `Begin.multiple` chains so often as wanted, and `Begin.number`
    more."""
    CHAIN_RING = "chain-ring"
    ADJUSTABLE_RING = "adjustable-ring"
    STITCHES = "stitches"
    """Stitches made without a foundation chain; `Begin.stitch` says which."""
    EDGE = "edge"
    """On the edge of finished work; `Begin.place` says where the yarn is joined."""
    OTHER_SIDE = "other-side"
    """Along the other side of the foundation chain, in the same row."""
    ALONG = "along"
    """On along another edge, in the same row; `Begin.place` names it in words."""


class Begin(Placed, frozen=True, eq=False):
    """The foundation: `number` chains or stitches (0 for an adjustable ring or an edge)."""

    start: Start
    number: Number = 0
    stitch: str | None = None
    place: Place | None = None
    by: str | None = None
    """Stitch id of a standing stitch that begins on an edge."""
    multiple: int = 1
    """What the length of an open foundation chain is a multiple of, `number` more apart; 1 for any length."""
    words: str = ""
    """What else the author says of that length ("long enough for the cloth")."""
    span: Span = NOWHERE


class Until(Struct, frozen=True):
    """How long rows are repeated where no number is given: to a length, or to the target of a size."""

    length: object | None = None
    target: str | None = None
    words: str = ""


class ReachedIn(StrEnum):
    """What a number of stitches is counted in, that rows with more and more stitches come to."""

    ROW = "row"
    SECTION = "section"
    """From one shaping to the next, the shaping included."""
    BETWEEN = "between"
    """Between two shapings."""


class Reached(Struct, frozen=True):
    """How many stitches the last of such rows has."""

    number: int
    within: ReachedIn = ReachedIn.ROW


class Again(Placed, frozen=True, eq=False):
    """Earlier rows worked again: rows `first` to `last`, in all `times` times more, or until something is reached.

    `times` is None where the row's own label tells how many rows there are ("Rows 4-13: Rep Rows 2 and 3").
    """

    first: int
    last: int
    times: Number | None = None
    until: Until | None = None
    part: str | None = None
    """Id of the part whose rows are meant; None for the same part."""
    rounds: bool | None = None
    """Whether the text calls them rounds; None where it says neither."""
    words: Prose = ()
    """Where the rows stand and how the work differs this time ("of the small mat", "but having ch 4 between shells");
    with 0 for both numbers, the whole reference ("finish as for first motif"), whose `times` or `until` are those of
    rows worked even. Kept, printed, and, but for such rows and those with `more`, beyond what is
    executed."""
    more: int = 0
    """On such a reference: how many more plain stitches each of the rows has between its shapings than the row before,
    which it is like otherwise; below 0 for fewer."""
    reached: Reached | None = None
    """On a reference with `more`: what the last of the rows has, where that tells how many there are."""
    span: Span = NOWHERE

    @property
    def even(self) -> bool:
        """Whether it is a reference in words for rows worked straight on ("work 3 rounds even"): as many as `times` or
        `until` tell.
        """
        return not self.first and (self.times is not None or self.until is not None)


class Verbatim(Placed, frozen=True, eq=False):
    """Words that stand as they were written.

    `inert` words have no effect on the fabric ("corner made"); the effect of others is unknown, and they are
    reported.
    """

    words: Prose
    inert: bool = False
    span: Span = NOWHERE
    said_repeat: Repeat | None = None
    """What the words have repeated, if they refer to a mark that the row does not have: a repeat without steps."""


Step = (
    Work
    | Group
    | Chain
    | Slip
    | Decrease
    | Skip
    | Repeat
    | Join
    | Turn
    | FastenOff
    | ChangeColour
    | Marker
    | Begin
    | Again
    | Verbatim
)
"""One step of a row."""

STEP_KINDS: tuple[type, ...] = get_args(Step)
"""Every kind of step. Writers, the codec and the fabric have a case for each; tests hold them to it."""
