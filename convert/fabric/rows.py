"""One row in one size: what it works into, how its beginning is read, what it makes, what is wrong with it."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Marker,
    Repeat,
    Slip,
    Start,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.beginnings import foundation_of
from convert.fabric.cells import AT_FIRST, CHAIN, PICOT, SPACE, STITCH, Cell, Loop, Strip
from convert.fabric.counts import agrees
from convert.fabric.faults import REPORTED_ELSEWHERE, TOLD_IN_WORDS, Fault, RanOut, RowStops, Unknown
from convert.fabric.gathering import gathered
from convert.fabric.jobs import Edge, Outcome, Reading, RowJob
from convert.fabric.onward import other_pieces
from convert.fabric.places import base_kind, is_workable
from convert.fabric.readings import first_stitch, flat_steps, goes_around, readings, skipped_chains
from convert.fabric.remembered import remembered
from convert.fabric.several import rows_in
from convert.fabric.steps import do_steps
from convert.fabric.worker import Worker
from convert.instructions.repeats import plus
from convert.trade.stitches import stitches, stood_for

_QUIET = (Turn, FastenOff, Marker, ChangeColour)
ELSEWHERE = "joins to other pieces"
NO_BEGINNING = "a beginning that no row tells"


def work_row(job: RowJob, edge: Edge) -> Outcome:
    """The row in the reading that fits: the likeliest one, unless only another comes out and meets the stated
    count.
    """
    job = _gathered(job)
    rows = rows_in(job.steps)
    return _work_alone(job, edge) if len(rows) == 1 else _work_several(job, edge, rows)


def _work_several(job: RowJob, edge: Edge, rows: tuple[tuple[Step, ...], ...]) -> Outcome:
    """Several rows of one line, each on what the one before made. Where one does not come out, the line may be meant
    otherwise: it is unknown and not wrong.
    """
    outcome = Outcome(edge)
    for index, steps in enumerate(rows):
        last = index == len(rows) - 1
        outcome = _work_alone(replace(job, steps=steps, stated=job.stated if last else ()), outcome.edge)
        if outcome.faults or (last and not _comes_out(outcome, job)):
            turned = any(isinstance(step, Turn) for step in steps)
            why = "the work is turned in the middle of the row" if turned else "several rounds in one row"
            return Outcome(Edge(None, flat=job.flat, fresh=False), why=why, base=outcome.base, reading=outcome.reading)
        if outcome.edge.strip is None:
            return outcome
    return outcome


def _work_alone(job: RowJob, edge: Edge) -> Outcome:
    options = readings(job, edge)
    first = _work_in(job, edge, options[0])
    if len(options) == 1 or _comes_out(first, job):
        return replace(first, readings=len(options))
    for reading in options[1:]:
        if not reading.is_open_to(first, bool(job.stated)):
            continue
        other = _work_in(job, edge, reading)
        if _comes_out(other, job):
            unusual = not reading.said and reading.counts != options[0].counts
            return replace(other, readings=len(options), unusual=unusual)
    return replace(first, readings=len(options))


def _gathered(job: RowJob) -> RowJob:
    steps = gathered(job.steps)
    return job if steps is job.steps else replace(job, steps=steps)


def _comes_out(outcome: Outcome, job: RowJob) -> bool:
    if outcome.faults:
        return False
    made = outcome.made
    if made is None:
        return True
    return all(agrees(made, item, job.size) is not False for item in job.stated)


class _Parts(Struct, frozen=True):
    """A row's steps taken apart: what comes before the beginning chain, the chain, the work, and what closes it."""

    lead: tuple[Step, ...]
    chain: Chain | None
    body: tuple[Step, ...]
    turned_first: bool
    turned_last: bool
    pending: Chain | None
    joined: bool
    colour: str = AT_FIRST
    """The yarn that the work begins with, if the row changes to it before."""


def _take_apart(job: RowJob, edge: Edge) -> _Parts:
    steps = list(job.steps)
    lead: list[Step] = []
    chain: Chain | None = edge.pending
    turned_first = False
    colour = AT_FIRST
    while steps:
        step = steps[0]
        if isinstance(step, Turn) and len(steps) > 1:
            turned_first = True
        elif isinstance(step, Chain) and chain is None:
            chain = step
        elif isinstance(step, Slip | Begin) and chain is None:
            lead.append(step)
        elif not (isinstance(step, ChangeColour | Marker) or (isinstance(step, Verbatim) and step.inert)):
            break
        if isinstance(step, ChangeColour):
            colour = step.colour
        steps.pop(0)
    pending, turned_last = _closing(steps)
    joined = any(isinstance(s, Join) for s in steps)
    return _Parts(tuple(lead), chain, tuple(steps), turned_first, turned_last, pending, joined, colour)


def _closing(steps: list[Step]) -> tuple[Chain | None, bool]:
    """Takes turn, fastening off and a turning chain from the row's end."""
    turned = False
    pending: Chain | None = None
    seen: list[Step] = []
    while steps:
        step = steps[-1]
        if isinstance(step, Turn):
            turned = True
        elif (
            isinstance(step, Chain) and pending is None and (turned or (len(steps) > 1 and isinstance(steps[-2], Join)))
        ):
            pending = step
        elif isinstance(step, FastenOff | Marker) or (isinstance(step, Verbatim) and step.inert):
            seen.append(step)
        elif isinstance(step, Chain) and any(isinstance(s, Turn) for s in steps[:-1]) and isinstance(steps[-2], Turn):
            pending = step
        else:
            break
        steps.pop()
    return pending, turned


def _base(edge: Edge, job: RowJob, parts: _Parts) -> Strip:
    """The cells of the last row in the order in which this row meets them."""
    strip = edge.strip
    assert strip is not None
    if edge.fresh or edge.foundation or edge.ring:
        return strip
    turned = edge.turned or parts.turned_first or (job.flat and edge.flat is True)
    if not turned:
        return strip
    if job.flat or not edge.joined:
        return strip.reversed()
    return strip.reversed().from_position(strip.length - 1)


def _work_in(job: RowJob, edge: Edge, reading: Reading) -> Outcome:
    """The row in one reading. Words beside a place describe the next stitch where the row so comes out."""
    outcome = _work_as(job, edge, reading)
    if outcome.why != TOLD_IN_WORDS or not _counts_all(job.steps):
        return outcome
    other = _work_as(job, edge, reading, described=True)
    return other if other.made is not None and _comes_out(other, job) else outcome


def _work_as(job: RowJob, edge: Edge, reading: Reading, *, described: bool = False) -> Outcome:
    if edge.strip is None and not any(_begins_anew(s) for s in job.steps):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why="", reading=reading)
    parts = _take_apart(job, edge)
    base = _base(edge, job, parts) if edge.strip is not None else Strip()
    worker = Worker(base, job.definitions, job.flat, in_ring=edge.ring)
    worker.kind = _prevailing(job.steps, base)
    worker.closing, worker.described = edge.closing, described
    worker.others = other_pieces(job.steps)
    worker.travels = any(isinstance(leaf, Work | Group | Decrease) for leaf in flat_steps(job.steps))
    body = _otherwise(parts.body) if reading.fewer else parts.body
    if _changes_yarn(body):
        worker.out.colour = parts.colour
    try:
        do_steps(worker, parts.lead)
        if parts.chain is not None:
            _begin_with(worker, parts.chain, reading, edge, body)
        elif edge.foundation:
            _count_skipped(worker, reading, body)
        do_steps(worker, body)
    except Unknown as stop:
        why = str(stop.facts.get("why", ""))
        unknown = Edge(None, flat=job.flat, fresh=False)
        return Outcome(unknown, tuple(worker.faults), (), base, reading, why=why, unread=why in REPORTED_ELSEWHERE)
    except RowStops as stop:
        if worker.others:
            return Outcome(Edge(None, flat=job.flat, fresh=False), why=ELSEWHERE, base=base, reading=reading)
        code = "out-of-stitches" if isinstance(stop, RanOut) else "place-not-found"
        fault = Fault(code, stop.span, stop.facts)
        return Outcome(
            Edge(None, flat=job.flat, fresh=False), (*worker.faults, fault), tuple(worker.repeats), base, reading
        )
    nothing = worker.base.length == 0 and not worker.out.made and not worker.in_ring
    if nothing and _demands_places(parts.body):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why=NO_BEGINNING, base=base, reading=reading)
    idle = not (worker.out.made or worker.pending or worker.position or worker.in_ring or parts.pending)
    if idle and job.labelled and base.count(is_workable) and any(isinstance(s, Chain | Turn) for s in job.steps):
        fault = Fault("stitches-left-over", facts={"left": base.count(is_workable), "what": "stitches"})
        return Outcome(Edge(None, flat=job.flat, fresh=False), (fault,), (), base, reading)
    if idle and edge.strip is not None and worker.base == base:
        return Outcome(replace(edge, turned=edge.turned or parts.turned_last), base=base, reading=reading)
    return _finished(worker, job, parts, reading)


def _counts_all(steps: tuple[Step, ...]) -> bool:
    """Whether every place is counted, so that the row uses up its base only where each place is the one meant."""
    repeats = [step for step in steps if isinstance(step, Repeat)]
    if not all(r.extent is Extent.TIMES and r.ending is None and _counts_all(r.steps) for r in repeats):
        return False
    places = (getattr(step, "place", None) for step in steps)
    return not any(place is not None and place.which in (Which.EACH, Which.REST) for place in places)


def _begins_anew(step: Step) -> bool:
    """Whether the work begins where nothing need be known of the last row."""
    if not isinstance(step, Begin):
        return False
    place = step.place
    return step.start is not Start.EDGE or place is None or place.what not in (What.STITCH, What.SPACE, What.CORNER)


@remembered
def _changes_yarn(steps: tuple[Step, ...]) -> bool:
    for step in steps:
        if isinstance(step, ChangeColour):
            return True
        if isinstance(step, Repeat | Group) and _changes_yarn(step.steps):
            return True
        if isinstance(step, Repeat) and step.ending is not None and _changes_yarn(step.ending.steps):
            return True
    return False


def _prevailing(steps: tuple[Step, ...], base: Strip) -> str:
    """The stitch that "inc" and "dec" are made of: the first that the row names, or that of the row below."""
    stitch, _ = first_stitch(steps)
    if stitch is not None and stitch in stitches() and not stitches()[stitch].prevailing:
        return stitch
    for loop in base.loops:
        for cell, _number in loop.runs:
            if cell.sort == STITCH:
                return base_kind(cell.kind)
    return "sc"


def _otherwise(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps in their other reading: "sc in next st, 2 sc in next st around" repeats all that stands before."""
    at = next((index for index, step in enumerate(steps) if goes_around(step)), 0)
    if not at:
        return tuple(_fewer(step) for step in steps)
    last = steps[at]
    whole = (*steps[:at], *(last.steps if isinstance(last, Repeat) else (_next(last),)))
    return (Repeat(whole, Extent.END, span=steps[0].span.to(last.span)), *steps[at + 1 :])


def _next(step: Step) -> Step:
    """A stitch into every place as a stitch into the next one."""
    if isinstance(step, Work) and step.place is not None:
        return replace(step, place=replace(step.place, which=Which.NEXT))
    return step


def _fewer(step: Step) -> Step:
    """A doubtful step in its other reading: the number of times includes the first working; so many into each
    of the places.
    """
    if isinstance(step, Work) and step.said_doubtful and step.place is not None and not goes_around(step):
        return replace(step, each=step.place.number)
    if not isinstance(step, Repeat):
        return step
    inner = tuple(_fewer(s) for s in step.steps)
    times = plus(step.times, -1) if step.said_doubtful and step.extent is Extent.TIMES else step.times
    return replace(step, steps=inner, times=times)


def _begin_with(worker: Worker, chain: Chain, reading: Reading, edge: Edge, body: tuple[Step, ...]) -> None:
    """The beginning chain: a foundation at the very start, otherwise what the reading says it counts as."""
    number = worker.number(chain.number, chain.span)
    if edge.fresh and not worker.in_ring and not worker.base.length:
        worker.base = foundation_of(number)
        _count_skipped(worker, reading, body)
        return
    worker.began = number
    counts = reading.counts or Counts()
    if reading.leg:
        worker.leg = True
        if not worker.stand() and worker.base.length and not worker.in_ring:
            worker.last, worker.position = worker.position, worker.position + 1
        return
    if counts.stitch is None:
        worker.pending = counts.chains
        return
    if not worker.stand() and worker.base.length and (not worker.in_ring or _works_chains(body)):
        worker.last = worker.position
        worker.position += 1
        cell, _ = worker.base.at(worker.last)
        worker.spaced = worker.spaced or cell.sort == SPACE
    worker.make(_stitch_of(counts, number), chains=number)
    worker.pending = counts.chains
    worker.opening = True


def _count_skipped(worker: Worker, reading: Reading, body: tuple[Step, ...]) -> None:
    """The chains between the hook and the first stitch stand for what the reading says."""
    skipped = skipped_chains(body)
    if reading.counts is not None and reading.counts.stitch is not None and skipped:
        worker.position, worker.last = skipped, skipped - 1
        worker.make(_stitch_of(reading.counts, skipped), chains=skipped)
        worker.pending = reading.counts.chains


def _works_chains(steps: tuple[Step, ...]) -> bool:
    """Whether the first stitch of a round on a ring of chains goes into a chain and not into the ring."""
    for step in flat_steps(steps):
        place = getattr(step, "place", None)
        if place is not None:
            return bool(place.what is not What.RING)
    return False


def _stitch_of(counts: Counts, chains: int) -> str:
    if counts.stitch == "st" or counts.stitch is None:
        return stood_for(chains) or "sc"
    return counts.stitch


def _finished(worker: Worker, job: RowJob, parts: _Parts, reading: Reading) -> Outcome:
    worker.faults.extend(_left_over(worker, turned=parts.turned_last))
    if worker.others and worker.faults:
        return Outcome(Edge(None, flat=job.flat, fresh=False), why=ELSEWHERE, base=worker.base, reading=reading)
    only_chain = (
        worker.out.made == 0
        and worker.base.length
        and all(c.sort == CHAIN for lp in worker.base.loops for c, _ in lp.runs)
    )
    if only_chain and worker.position == 0 and not worker.in_ring and worker.joined:
        return Outcome(Edge(worker.base, ring=True, fresh=False, flat=False), (), (), worker.base, reading)
    if only_chain and worker.position == 0 and not worker.in_ring:
        edge = Edge(worker.base, fresh=False, flat=job.flat, foundation=True)
        return Outcome(edge, (), (), worker.base, reading)
    if worker.in_ring and not worker.out.made and not worker.pending:
        return Outcome(Edge(worker.base, ring=True, fresh=False, flat=False), (), (), worker.base, reading)
    closing = _closing_stitch(worker) if worker.closed and not worker.flat else ""
    pending = parts.pending
    if worker.pending and worker.flat and pending is None:
        pending = Chain(worker.pending)
        worker.pending = 0
    worker.close_chains()
    strip = worker.out.strip()
    coloured = strip if worker.out.colour else None
    if coloured is not None:
        strip = strip.uncoloured()
    strip = _named_alike(strip)
    joined = parts.joined or worker.closed
    edge = Edge(strip, False, False, job.flat, joined, parts.turned_last, pending, closing=closing)
    outcome = Outcome(edge, tuple(worker.faults), tuple(worker.repeats), worker.base, reading)
    return replace(outcome, coloured=coloured, last_colour=worker.out.colour) if coloured is not None else outcome


def _named_alike(strip: Strip) -> Strip:
    """Where a round begins with a group that is written out, and goes on with one name for groups of that size, the
    first one is called so too.
    """
    first = strip.at(0)[0] if strip.length else None
    if first is None or first.unit != "group" or not first.chains:
        return strip
    named = {c.unit for lp in strip.loops for c, _ in lp.runs if c.part == 0 and c.size == first.size}
    named -= {"group", ""}
    if len(named) != 1:
        return strip
    unit = named.pop()
    opened = tuple(
        Loop(tuple((c._replace(unit=unit), n) for c, n in lp.runs), lp.times) for lp in strip.cut(0, first.size)
    )
    return Strip.of((*opened, *strip.cut(first.size, strip.length)))


def _closing_stitch(worker: Worker) -> str:
    """A round closed by a stitch instead of a join: with the chains before it, it forms the last loop.

    The stitch's id; empty for a slip stitch, which is a join.
    """
    last = worker.out.last()
    if last is None or last.sort != STITCH:
        return ""
    worker.out.drop_last()
    if last.kind == "sl-st":
        return ""
    before = worker.out.last()
    chains = 0
    if before is not None and before.sort == SPACE:
        chains = before.chains
        worker.out.drop_last()
    entry = stitches().get(last.kind)
    worker.out.add(Cell("ch", SPACE, chains + (entry.height or 1 if entry else 1)))
    return last.kind


def _demands_places(steps: tuple[Step, ...]) -> bool:
    return any(isinstance(leaf, Work | Group | Decrease) for leaf in flat_steps(steps))


def _left_over(worker: Worker, *, turned: bool) -> list[Fault]:
    """Places that the row should have worked and did not."""
    base = worker.base
    if worker.described and worker.position < base.length:
        return [Fault("stitches-left-over", facts={"left": base.length - worker.position, "what": "stitches"})]
    if worker.left or not base.length or (worker.in_ring and not worker.position):
        return []
    if turned and (worker.in_ring or 0 < worker.first_ones == worker.position):
        return []  # rows on a part of the ring, or on so many of the first stitches
    if worker.position == 0 and worker.out.made == 0:
        return []
    last = base.at(worker.last)[0] if worker.last is not None and worker.last < base.length else None
    if worker.spaced and last is not None and last.sort in (SPACE, PICOT):
        chains = last.chains
        spaces = base.count(lambda c: c.sort == last.sort and c.chains == chains, worker.position)
        return [Fault("stitches-left-over", facts={"left": spaces, "what": "spaces"})] if spaces else []
    left = base.count(is_workable, worker.position) + worker.passed
    if worker.spaced and worker.last is not None and last is not None and last.unit:
        left = 0
    if worker.around and left == 1:
        left = 0
    return [Fault("stitches-left-over", facts={"left": left, "what": "stitches"})] if left else []


def starts_ring(steps: tuple[Step, ...]) -> bool:
    """Whether the row begins with a ring."""
    return any(isinstance(s, Begin) and s.start in (Start.CHAIN_RING, Start.ADJUSTABLE_RING) for s in steps)
