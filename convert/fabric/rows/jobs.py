"""What a row is worked from and what it comes to: the edge below, one reading of what is left open, the outcome."""

from __future__ import annotations

from msgspec import Struct, field

from convert.document.records import BeginningChain, CountItem
from convert.document.steps import (
    Chain,
    Counts,
    Step,
)
from convert.fabric.cells import Strip
from convert.fabric.faults import Fault
from convert.fabric.rows.sides import Sides
from convert.fabric.steps.definitions import Definitions
from convert.fabric.steps.worker import RepeatFact


class Edge(Struct, frozen=True):
    """What stands on the hook's side of the work before a row.

    `strip` is None where it is unknown. `fresh` means that nothing has been made yet. `pending` is a turning
    chain made at the end of the last row, `turned` that the work was turned there.
    """

    strip: Strip | None = field(default_factory=Strip)
    ring: bool = False
    fresh: bool = True
    flat: bool | None = None
    joined: bool = False
    turned: bool = False
    pending: Chain | None = None
    foundation: bool = False
    closing: str = ""
    """The stitch that closed the last round instead of a join."""
    untested: bool = False
    """Counted by rows alone whose own edge nobody tells: what does not fit on it is unknown, and not wrong."""
    counted: bool = False
    """A stated count tells how many stitches it has, and nothing tells where its corners and spaces are."""
    on_round: bool = False
    """Yarn was joined in a line by itself, on a round."""
    turns: int = 0
    """How many turns were taken around an edge that nobody tells: the counts are those of so many; 0 if it is told."""


class Reading(Struct, frozen=True):
    """One way to read what a row leaves open: what its beginning chain counts as, and how doubtful repeats are
    meant.
    """

    counts: Counts | None = None
    said: bool = True
    fewer: bool = False
    onward: bool = False
    """Increases "in same st" go into the next one."""
    leg: bool = False
    """The beginning chain is the first leg of the cluster behind it and no stitch of its own."""
    led: bool = False
    """The beginning chain stands on the stitch that slip stitches ended in, and not on the one behind it."""

    def is_open_to(self, first: Outcome, stated: bool) -> bool:
        """Whether this reading may be tried at all, after what the usual one came to.

        That a chain of one counts as a stitch, or that a chain is a space and nothing else, is so rare that a
        wrong count alone does not speak for it: the usual reading must fail to come out, and for the former a
        stated count must bear it out.
        """
        if self.said or self.counts is None:
            return True
        if self.counts == Counts("sc"):
            return stated and bool(first.faults)
        return self.counts.stitch is not None or not self.counts.chains or bool(first.faults)


class Outcome(Struct, frozen=True):
    """What executing a row came to. `edge.strip` is None where its effect is unknown, and `why` says why; where the row
    was counted by itself, `why` is the reason why its edge could not be followed.
    """

    edge: Edge
    faults: tuple[Fault, ...] = ()
    repeats: tuple[RepeatFact, ...] = ()
    base: Strip | None = None
    reading: Reading = Reading()
    readings: int = 1
    unusual: bool = False
    """A beginning chain came out only in another than the usual reading."""
    why: str = ""
    unread: bool = False
    shared: bool = False
    """The stated count told how many stitches go along an edge, and cannot bear the row out."""
    coloured: Strip | None = None
    """What the row made with the colour of every cell, where it changes yarn on its way; `edge` is without."""
    last_colour: str = ""
    """The yarn on the hook at the end of such a row."""
    apart: bool = False
    """What the row made stands out from the piece, whose edge stays as it was."""
    free: Strip | None = None
    """What the row left of the one below, where it is turned behind so many of the first stitches."""

    @property
    def made(self) -> Strip | None:
        """What the row made."""
        return self.edge.strip


class RowJob(Struct, frozen=True):
    """A row of one size, ready to be worked: its numbers are plain."""

    steps: tuple[Step, ...]
    stated: tuple[CountItem, ...]
    flat: bool
    conventions: tuple[BeginningChain, ...]
    definitions: Definitions
    size: int = 0
    held: Counts | None = None
    """What such a beginning chain stood for in the rows before."""
    all_told: bool = False
    """Repeats "6 times" of the rows before were six in all, as their counts showed."""
    spaces: frozenset[int] = frozenset()
    """The lengths of beginning chains of low stitches that are spaces for the rows above."""
    completes: Strip | None = None
    """What the round of another piece made, as which this one is completed."""
    sides: Sides | None = None
    """The sides of the piece that the row goes along, where it is worked along them."""
    shares: tuple[int, ...] | None = None
    """How many stitches go along each edge of which the row says only "evenly"."""
    labelled: bool = False
    """The line is a row by its label, and no mere direction between rows."""
    leaves: bool = False
    """The row stands between turns of one line and counts all its stitches: the last of those below may be left."""
    turns: int = 0
    """How often a repeat around an edge that nobody tells is worked, to stand for any number; 0 for not at all."""
    covers: bool = False
    """Long stitches cover stitches of the last row that no words skip."""
