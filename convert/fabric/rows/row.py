"""One row in one size: what it works into, how its beginning is read, what it makes, what is wrong with it."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.numbers import number_for
from convert.document.steps import (
    Begin,
    Chain,
    ChangeColour,
    Counts,
    Decrease,
    FastenOff,
    Group,
    Marker,
    Place,
    Start,
    Step,
    Turn,
    What,
    Work,
)
from convert.fabric.cells import ARCH, CHAIN, SPACE, SPUR, STITCH, Strip
from convert.fabric.counts import agrees
from convert.fabric.faults import (
    FURTHER_DOWN,
    OPEN_TURNS,
    OTHER_EDGE,
    REPORTED_ELSEWHERE,
    TOLD_IN_WORDS,
    UNTOLD,
    Fault,
    NotFound,
    RanOut,
    RowStops,
    Unknown,
)
from convert.fabric.parts.onward import other_pieces
from convert.fabric.parts.several import rows_in
from convert.fabric.places.begun_space import names_begun_space, with_begun_spaces
from convert.fabric.places.further_down import covers_untold, in_their_places
from convert.fabric.places.place import base_kind, is_workable
from convert.fabric.rows.along import along_sides, edge_of, shared_out, work_legs
from convert.fabric.rows.beginnings import foundation_of
from convert.fabric.rows.begun_groups import with_begun_group
from convert.fabric.rows.decided import decided_by_count
from convert.fabric.rows.evenly import with_lengths
from convert.fabric.rows.handles import before_handle, into_ring_called_loop, over_handle
from convert.fabric.rows.jobs import Edge, Outcome, Reading, RowJob
from convert.fabric.rows.layers import lies_on_another, only_closes
from convert.fabric.rows.legs import TOP, Leg, leaves_row, legs_of
from convert.fabric.rows.passes import is_back, on_hook, without_first
from convert.fabric.rows.readings import extends, first_stitch, flat_steps, otherwise, readings, skipped_chains
from convert.fabric.rows.row_ends import ELSEWHERE, finished
from convert.fabric.rows.row_parts import (
    RowParts,
    begins_anew,
    begins_in_chain,
    changes_yarn,
    counts_all,
    demands_places,
    is_new_piece,
    take_apart,
    works_at_start,
    works_chains,
)
from convert.fabric.rows.same_next import in_next
from convert.fabric.rows.sides import Sides
from convert.fabric.rows.untold import ring_unsaid, untold_edge
from convert.fabric.steps.arches import with_arches, with_covered
from convert.fabric.steps.blocks import with_blocks
from convert.fabric.steps.doing import do_steps
from convert.fabric.steps.gathering import gathered
from convert.fabric.steps.halves import with_halves
from convert.fabric.steps.knobs import without_knobs
from convert.fabric.steps.meshes_beside import with_meshes_beside
from convert.fabric.steps.named_bodies import with_named_bodies
from convert.fabric.steps.one_pass import in_one_pass
from convert.fabric.steps.slips_along import slips_told, slips_travel, stands_where_led, with_led
from convert.fabric.steps.stretches import names_stretch
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import stitches, stood_for

_QUIET = (Turn, FastenOff, Marker, ChangeColour)
NO_BEGINNING = "a beginning that no row tells"


def work_row(job: RowJob, edge: Edge, sides: Sides | None = None) -> Outcome:
    """The row in the reading that fits: the likeliest one, unless only another comes out and meets the stated
    count. `sides` are those of the piece, if it has some.
    """
    job = _gathered(replace(job, covers=covers_untold(job.steps)))
    own = before_handle(job.steps)
    job = replace(job, steps=own) if own is not None else job
    rows = rows_in(job.steps)
    outcome = _work_anyhow(job, edge, sides) if len(rows) == 1 else _work_several(job, edge, rows)
    if outcome.made is None or outcome.faults or outcome.why:
        return over_handle(job, edge, _work_alone) or outcome
    return outcome


def _work_anyhow(job: RowJob, edge: Edge, sides: Sides | None = None) -> Outcome:
    """The row on the edge, or along the `sides` of the piece, or by itself where it counts all it makes and the edge
    does not tell what it needs.
    """
    outcome = _work_alone(job, edge)
    if job.covers and not _comes_out(outcome, job):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why=FURTHER_DOWN, base=outcome.base)
    if edge.untested and not _comes_out(outcome, job):
        outcome = Outcome(Edge(None, flat=job.flat, fresh=False))
    if outcome.faults and (leaves_row(job.steps) or lies_on_another(job.steps)):
        outcome = Outcome(Edge(None, flat=job.flat, fresh=False), why=OTHER_EDGE, base=outcome.base)
    if outcome.made is None:
        outcome = along_sides(job, edge, sides, outcome, _work_alone)
    if outcome.made is None:
        return _counted_alone(job, edge, outcome)
    if outcome.made.count(lambda cell: cell.sort == ARCH):
        outcome = replace(outcome, edge=replace(outcome.edge, strip=with_covered(outcome.made)))
    made = outcome.made
    if made is None:
        return replace(outcome, why="an arch over more stitches than there are")
    if made.count(lambda cell: cell.sort == SPUR):
        return _with_spurs(job, outcome)
    if edge.untested and not any(agrees(made, item, job.size) for item in job.stated):
        turns = 0 if any(map(is_new_piece, job.steps)) else edge.turns
        return replace(outcome, edge=replace(outcome.edge, untested=True, turns=turns))
    return outcome


def _with_spurs(job: RowJob, outcome: Outcome) -> Outcome:
    """A row from which stitches stand out: whether its count takes them in is open, and a wrong one is not told."""
    if not _comes_out(outcome, job):
        return Outcome(
            Edge(None, flat=job.flat, fresh=False), why="stitches that stand out from the row", base=outcome.base
        )
    agreed = any(agrees(outcome.edge.strip, item, job.size) for item in job.stated) if outcome.edge.strip else False
    return replace(outcome, edge=replace(outcome.edge, untested=not agreed))


def _counted_alone(job: RowJob, edge: Edge, unknown: Outcome) -> Outcome:
    untold = untold_edge(job, edge) if not unknown.faults and unknown.why != ELSEWHERE else None
    if untold is None:
        return unknown
    told = replace(job, turns=0)
    alone = shared_out(told, lambda one: _work_alone(one, untold))
    decided = decided_by_count(told, lambda one: _work_alone(one, untold)) if alone.made is None else None
    if decided is not None:
        alone = decided
    turns = job.turns if alone.made is None else 0
    if turns:
        alone = _work_alone(with_lengths(job), untold)
    if alone.made is None or not _comes_out(alone, job):
        return unknown
    why = unknown.why or (OPEN_TURNS if turns else "")
    return replace(alone, base=None, why=why, edge=replace(alone.edge, untested=True, turns=turns))


def _work_several(job: RowJob, edge: Edge, rows: tuple[tuple[Step, ...], ...]) -> Outcome:
    """Several rows of one line, each on what the one before made. Where one does not come out, the line may be meant
    otherwise: it is unknown and not wrong.
    """
    outcome = Outcome(edge)
    for index, steps in enumerate(rows):
        last = index == len(rows) - 1
        one = replace(job, steps=steps, stated=job.stated if last else (), leaves=index > 0 and counts_all(steps))
        outcome = _work_anyhow(one, outcome.edge)
        if outcome.faults or (last and not _comes_out(outcome, job)) or (index and _is_short(steps, outcome)):
            turned = any(isinstance(step, Turn) for step in steps)
            why = "the work is turned in the middle of the row" if turned else "several rounds in one row"
            return Outcome(Edge(None, flat=job.flat, fresh=False), why=why, base=outcome.base, reading=outcome.reading)
        if outcome.edge.strip is None:
            return outcome
    return outcome


def _is_short(steps: tuple[Step, ...], outcome: Outcome) -> bool:
    """Whether a row between turns works only a part of the row below: what becomes of the rest is not told."""
    worked = any(isinstance(step, Work | Group | Decrease) for step in flat_steps(steps))
    return (
        worked
        and outcome.base is not None
        and outcome.made is not None
        and outcome.made.length * 2 < outcome.base.length
    )


def _work_alone(job: RowJob, edge: Edge) -> Outcome:
    options = with_led(readings(job, edge), job)
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
    begun = with_begun_group(slips_told(in_one_pass(in_their_places(job.steps))), job.definitions, flat=job.flat)
    steps = with_named_bodies(gathered(into_ring_called_loop(begun)), job.definitions)
    steps = with_arches(without_knobs(with_meshes_beside(steps)))
    return job if steps is job.steps else replace(job, steps=steps)


def _comes_out(outcome: Outcome, job: RowJob) -> bool:
    if outcome.faults:
        return False
    made = outcome.made
    if made is None:
        return True
    return all(agrees(made, item, job.size) is not False for item in job.stated)


def _base(edge: Edge, job: RowJob, parts: RowParts) -> Strip:
    """The cells of the last row in the order in which this row meets them."""
    strip = edge.strip
    assert strip is not None
    if edge.fresh or edge.foundation or edge.ring:
        return strip
    turned = edge.turned or parts.turned_first or (job.flat and edge.flat is True and not is_back(strip))
    if not turned:
        return strip
    if job.flat or not edge.joined:
        return strip.reversed()
    return strip.reversed().from_position(strip.length - 1)


def _work_in(job: RowJob, edge: Edge, reading: Reading) -> Outcome:
    """The row in one reading. Words beside a place describe the next stitch where the row so comes out; so does a round
    that ends in the very stitch where the yarn was joined, with nothing worked there before.
    """
    outcome = _work_as(job, edge, reading)
    if outcome.faults and not job.flat and any(isinstance(step, Begin) for step in job.steps):
        comes_back = _work_as(job, edge, reading, wrapped=True)
        outcome = comes_back if _comes_out(comes_back, job) else outcome
    if outcome.faults and names_stretch(job.steps, job.definitions.stretches):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why=TOLD_IN_WORDS, base=outcome.base, reading=reading)
    if outcome.why != TOLD_IN_WORDS or not counts_all(job.steps):
        return outcome
    other = _work_as(job, edge, reading, described=True)
    return other if other.made is not None and _comes_out(other, job) else outcome


def _work_as(job: RowJob, edge: Edge, reading: Reading, *, described: bool = False, wrapped: bool = False) -> Outcome:
    if edge.strip is None and not any(begins_anew(s) for s in job.steps):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why="", reading=reading)
    parts = take_apart(job, edge)
    legs = legs_of(_told(parts)) if job.sides is not None else ()
    worker = _worker_for(job, edge, parts, legs)
    base = worker.base
    worker.described = described
    worker.comes_back = wrapped and worker.passes_on
    body = in_next(parts.body) if reading.onward else parts.body
    body = otherwise(body) if reading.fewer else body
    picked_up = on_hook(body)
    body = without_first(body) if picked_up is not None else body
    body = with_begun_spaces(body, base, flat=job.flat) if names_begun_space(job.steps) else body
    if changes_yarn(body):
        worker.out.colour = parts.colour
    try:
        do_steps(worker, parts.lead)
        if parts.chain is not None:
            _begin_with(worker, parts.chain, reading, edge, body)
        elif edge.foundation:
            _count_skipped(worker, reading, body)
        elif picked_up is not None and worker.base.length:
            worker.last, worker.position = 0, 1
            worker.make(picked_up)
        work_legs(worker, legs or (Leg(TOP, list(body)),), do_steps)
    except Unknown as stop:
        why = str(stop.facts.get("why", ""))
        unknown = Edge(None, flat=job.flat, fresh=False)
        return Outcome(unknown, tuple(worker.faults), (), base, reading, why=why, unread=why in REPORTED_ELSEWHERE)
    except RowStops as stop:
        why = ELSEWHERE if worker.others else UNTOLD if edge.counted and _asks_more(stop) else ""
        why = OTHER_EDGE if (not job.labelled and _lacks_corner(stop)) or begins_in_chain(job.steps) else why
        why = NO_BEGINNING if edge.fresh and ring_unsaid(job) else why
        why = OTHER_EDGE if _goes_around_chain(worker, job, stop) else why
        if why:
            return Outcome(Edge(None, flat=job.flat, fresh=False), why=why, base=base, reading=reading)
        code = "out-of-stitches" if isinstance(stop, RanOut) else "place-not-found"
        fault = Fault(code, stop.span, stop.facts)
        return Outcome(
            Edge(None, flat=job.flat, fresh=False), (*worker.faults, fault), tuple(worker.repeats), base, reading
        )
    nothing = worker.base.length == 0 and not worker.out.made and not worker.in_ring
    if nothing and demands_places(parts.body):
        return Outcome(Edge(None, flat=job.flat, fresh=False), why=NO_BEGINNING, base=base, reading=reading)
    idle = not (worker.out.made or worker.pending or worker.position or worker.in_ring or parts.pending)
    if idle and job.labelled and base.count(is_workable) and any(isinstance(s, Chain | Turn) for s in job.steps):
        fault = Fault("stitches-left-over", facts={"left": base.count(is_workable), "what": "stitches"})
        return Outcome(Edge(None, flat=job.flat, fresh=False), (fault,), (), base, reading)
    if idle and edge.strip is not None and worker.base == base:
        return Outcome(replace(edge, turned=edge.turned or parts.turned_last), base=base, reading=reading)
    return finished(worker, job, parts, reading)


def _worker_for(job: RowJob, edge: Edge, parts: RowParts, legs: tuple[Leg, ...]) -> Worker:
    """The state in which a row begins, on the edge or on the first of those that it goes along."""
    base = _base(edge, job, parts) if edge.strip is not None else Strip()
    if job.sides is not None and legs:
        base = edge_of(legs[0], job.sides)
    base = with_halves(with_blocks(base, job.steps, flat=job.flat), job.steps)
    worker = Worker(base, job.definitions, job.flat, in_ring=edge.ring)
    worker.kind = _prevailing(job.steps, base)
    worker.closing = edge.closing
    worker.sides, worker.shares = job.sides, job.shares
    worker.untold = edge.untested and edge.strip is not None and not base.length
    worker.others, worker.completes = other_pieces(job.steps), job.completes
    worker.turns, worker.around_below = job.turns, edge.flat is False and edge.joined
    joined = any(isinstance(step, Begin) and step.start is Start.EDGE for step in parts.lead)
    worker.flap = job.flat and (edge.on_round or (joined and edge.flat is False))
    worker.folds = only_closes(job.steps)
    worker.closes_to = number_for(job.stated[0].number, job.size) or 0 if worker.folds and job.stated else 0
    worker.travels = slips_travel(job.steps)
    worker.passes_on = parts.chain is None and not works_at_start(parts.body)
    return worker


def _told(parts: RowParts) -> tuple[Step, ...]:
    """The work of a row, with what was said in front of its beginning chain of the edge that it goes along."""
    along = tuple(step for step in parts.lead if isinstance(step, Begin) and step.start is not Start.EDGE)
    return (*along, *parts.body) if along else parts.body


def _lacks_corner(stop: RowStops) -> bool:
    """Whether a corner is missing: that of the whole piece, where a line without a label finishes it ("for a hanging
    loop, ch 12 and sl st into the corner").
    """
    place = stop.facts.get("place")
    return isinstance(stop, NotFound) and isinstance(place, Place) and place.what is What.CORNER


def _goes_around_chain(worker: Worker, job: RowJob, stop: RowStops) -> bool:
    """Whether a round on a chain of its own comes to the end of it: it goes on along the other side, though only its
    number of stitches says so.
    """
    told = any(isinstance(step, Begin) and step.start is Start.OTHER_SIDE for step in flat_steps(job.steps))
    chains = worker.base.count(lambda cell: cell.sort == CHAIN)
    return isinstance(stop, RanOut) and not job.flat and not told and chains == worker.base.length > 0


def _asks_more(stop: RowStops) -> bool:
    """Whether the row asks for more than how many stitches the last one has: for a corner, a space, a group."""
    place = stop.facts.get("place")
    if not isinstance(stop, NotFound) or not isinstance(place, Place):
        return False
    entry = stitches().get(place.of or "")
    return place.what in (What.CORNER, What.SPACE, What.GROUP) or (entry is not None and entry.unit)


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


def _begin_with(worker: Worker, chain: Chain, reading: Reading, edge: Edge, body: tuple[Step, ...]) -> None:
    """The beginning chain: a foundation at the very start, otherwise what the reading says it counts as."""
    number = worker.number(chain.number, chain.span)
    if edge.fresh and not worker.in_ring and not worker.base.length:
        worker.base = foundation_of(number)
        _count_skipped(worker, reading, body)
        return
    if extends(body, number, edge):
        worker.base = Strip.of((*foundation_of(number).loops, *worker.base.loops))
        worker.extended = True
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
    stood = worker.stand() or stands_where_led(worker) or reading.led
    if not stood and worker.base.length and (not worker.in_ring or works_chains(body)):
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
    elif reading.counts is not None and reading.counts.chains:
        worker.pending = reading.counts.chains


def _stitch_of(counts: Counts, chains: int) -> str:
    if counts.stitch == "st" or counts.stitch is None:
        return stood_for(chains) or "sc"
    return counts.stitch
