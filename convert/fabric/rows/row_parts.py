"""What the steps of a row are: its beginning, work and end, and what can be told of them before they are worked."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from msgspec import Struct

from convert.document.steps import (
    Again,
    Begin,
    Chain,
    ChangeColour,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Marker,
    Place,
    Repeat,
    Skip,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import AT_FIRST
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge, RowJob
from convert.fabric.rows.joined_behind import joins_behind
from convert.fabric.rows.readings import flat_steps
from convert.trade.patterns import signs


class RowParts(Struct, frozen=True):
    """A row's steps taken apart: what comes before the beginning chain, the chain, the work, and what closes it."""

    lead: tuple[Step, ...]
    chain: Chain | None
    body: tuple[Step, ...]
    turned_first: bool
    turned_last: bool
    pending: Chain | None
    joined: bool
    rejoined: bool = False
    """The yarn was cut at the end, and joined where the row began."""
    colour: str = AT_FIRST
    """The yarn that the work begins with, if the row changes to it before."""


def begins_in_chain(steps: tuple[Step, ...]) -> bool:
    """Whether yarn is joined in a chain: that of the foundation, perhaps, at the other edge of the piece."""
    begins = (step.place for step in steps if isinstance(step, Begin) and step.start is Start.EDGE)
    return any(place is not None and place.what is What.CHAIN and place.within is None for place in begins)


def take_apart(job: RowJob, edge: Edge) -> RowParts:
    """Tells the beginning of a row, on this edge, from its work and its end."""
    lead: list[Step] = []
    chain: Chain | None = edge.pending
    turned_first = False
    colour = AT_FIRST
    begin = body_start(job.steps, begun=chain is not None)
    steps = list(job.steps[begin:])
    for step in job.steps[:begin]:
        turned_first = turned_first or isinstance(step, Turn)
        if isinstance(step, Chain):
            chain = step
        elif isinstance(step, Slip | Begin | Skip):
            lead.append(step)
        elif isinstance(step, ChangeColour):
            colour = step.colour
    pending, turned_last = _closing(steps)
    joined = any(isinstance(s, Join) for s in steps)
    rejoined = any(isinstance(step, FastenOff) for step in job.steps) and _is_rejoined(job.steps)
    return RowParts(tuple(lead), chain, tuple(steps), turned_first, turned_last, pending, joined, rejoined, colour)


def body_start(steps: tuple[Step, ...], *, begun: bool = False) -> int:
    """Where the work of a row begins, behind its beginning chain and what stands before that. `begun` rows have their
    beginning chain from the row before.
    """
    for index, step in enumerate(steps):
        if isinstance(step, Turn) and index < len(steps) - 1:
            continue
        if isinstance(step, Chain | Slip | Begin) and not begun:
            begun = isinstance(step, Chain)
            continue
        if isinstance(step, Skip) and not begun and joins_behind(steps[index:]):
            continue
        if not (isinstance(step, ChangeColour | Marker) or (isinstance(step, Verbatim) and step.inert)):
            return index
    return len(steps)


def _closing(steps: list[Step]) -> tuple[Chain | None, bool]:
    """Takes turn, fastening off and a turning chain from the row's end."""
    turned = False
    pending: Chain | None = None
    seen: list[Step] = []
    colours: list[Step] = []
    while steps:
        step = steps[-1]
        if isinstance(step, ChangeColour) and any(isinstance(s, Turn | FastenOff) for s in steps[:-1]):
            colours.insert(0, step)  # "turn. Fasten off B, join C.": the next row begins with it
        elif isinstance(step, Turn):
            turned = True
        elif (
            isinstance(step, Chain) and pending is None and (turned or (len(steps) > 1 and isinstance(steps[-2], Join)))
        ):
            pending = step
        elif isinstance(step, FastenOff | Marker) or (isinstance(step, Verbatim) and step.inert):
            seen.append(step)
        elif _is_of_other_places(step, steps) or _is_rejoined((*steps[:-1], step)):
            pass
        elif isinstance(step, Chain) and any(isinstance(s, Turn) for s in steps[:-1]) and isinstance(steps[-2], Turn):
            pending = step
        else:
            break
        steps.pop()
    steps += colours
    return pending, turned


def _is_rejoined(steps: Sequence[Step]) -> bool:
    """Whether yarn that was cut is joined at the end of the row where the row began."""
    last = next((s for s in reversed(steps) if not (isinstance(s, Verbatim) and s.inert)), None)
    cut = len(steps) > 1 and any(isinstance(step, FastenOff) for step in steps)
    place = last.place if isinstance(last, Begin) and last.start is Start.EDGE else None
    return cut and place is not None and place.what is What.PIECE and is_row_start(place.words)


def is_row_start(words: str) -> bool:
    """Whether words name the beginning of the last row: "at the other end again"."""
    return bool(_row_start().fullmatch(" ".join(words.split())))


@cache
def _row_start() -> re.Pattern[str]:
    return re.compile(signs("row_starts"), re.IGNORECASE)


def _is_of_other_places(step: Step, steps: list[Step]) -> bool:
    """ "Fasten off. Work all corners in this manner": behind the cut yarn, the same is done elsewhere."""
    told = isinstance(step, Again) and step.first == 0 and bool(step.words)
    return told and any(isinstance(s, FastenOff) for s in steps)


def counts_all(steps: tuple[Step, ...]) -> bool:
    """Whether every place is counted, so that the row uses up its base only where each place is the one meant."""
    repeats = [step for step in steps if isinstance(step, Repeat)]
    if not all(r.extent is Extent.TIMES and r.ending is None and counts_all(r.steps) for r in repeats):
        return False
    places = (getattr(step, "place", None) for step in steps)
    return not any(place is not None and place.which in (Which.EACH, Which.REST) for place in places)


def begins_anew(step: Step) -> bool:
    """Whether the work begins where nothing need be known of the last row."""
    if not isinstance(step, Begin):
        return False
    place = step.place
    return step.start is not Start.EDGE or place is None or place.what not in (What.STITCH, What.SPACE, What.CORNER)


def is_new_piece(step: Step) -> bool:
    """Whether a foundation or a ring of its own begins the work."""
    return isinstance(step, Begin) and step.start not in (Start.EDGE, Start.ALONG, Start.OTHER_SIDE)


@remembered
def changes_yarn(steps: tuple[Step, ...]) -> bool:
    """Whether the yarn changes somewhere in these steps."""
    for step in steps:
        if isinstance(step, ChangeColour):
            return True
        if isinstance(step, Repeat | Group) and changes_yarn(step.steps):
            return True
        if isinstance(step, Repeat) and step.ending is not None and changes_yarn(step.ending.steps):
            return True
    return False


def works_chains(steps: tuple[Step, ...]) -> bool:
    """Whether the first stitch of a round on a ring of chains goes into a chain and not into the ring."""
    place = _first_place(steps)
    return place is not None and place.what is not What.RING


def _first_place(steps: tuple[Step, ...]) -> Place | None:
    """Where the first step that tells a place goes, the legs of a cluster or decrease included."""
    for step in flat_steps(steps):
        place = step.places[0] if isinstance(step, Decrease) and step.places else getattr(step, "place", None)
        if isinstance(place, Place):
            return place
    return None


def works_at_start(steps: tuple[Step, ...]) -> bool:
    """Whether the first stitch behind the beginning goes where the round begins: "sc in same space"."""
    place = next((place for step in flat_steps(steps) if (place := getattr(step, "place", None)) is not None), None)
    return place is None or place.which is Which.SAME


def demands_places(steps: tuple[Step, ...]) -> bool:
    """Whether something is worked into the row below."""
    return any(isinstance(leaf, Work | Group | Decrease) for leaf in flat_steps(steps))


def starts_ring(steps: tuple[Step, ...]) -> bool:
    """Whether the row begins with a ring."""
    return any(isinstance(s, Begin) and s.start in (Start.CHAIN_RING, Start.ADJUSTABLE_RING) for s in steps)
