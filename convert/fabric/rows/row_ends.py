"""Ends a row: what it has made, what it has left, and how it was closed."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import (
    Chain,
    ChangeColour,
    Decrease,
    Extent,
    FastenOff,
    Group,
    Join,
    Marker,
    Repeat,
    Skip,
    Slip,
    Step,
    Turn,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import CHAIN, PICOT, SPACE, STITCH, Cell, Loop, Strip
from convert.fabric.counts import agrees
from convert.fabric.faults import Fault
from convert.fabric.places.place import is_workable
from convert.fabric.rows.around_start import with_group_at_start
from convert.fabric.rows.jobs import Edge, Outcome, Reading, RowJob
from convert.fabric.rows.joined_behind import joins_behind
from convert.fabric.rows.readings import flat_steps
from convert.fabric.rows.row_parts import RowParts
from convert.fabric.steps.slips_along import slipped_past
from convert.fabric.steps.turns import restore, save
from convert.fabric.steps.worker import Worker
from convert.trade.stitches import stitches

ELSEWHERE = "joins to other pieces"


def finished(worker: Worker, job: RowJob, parts: RowParts, reading: Reading) -> Outcome:
    """What a row comes to whose steps have all been worked."""
    if _leaves_as_many(worker, job, parts) or (not job.flat and _passes_as_often(worker)):
        worker.position = worker.base.length
    attached = worker.extended and parts.turned_last and _ends_in_slips(job)
    _leave_last(worker, job, parts)
    short = job.leaves and 0 < worker.remaining() * 2 < worker.base.length
    if not _slips_away(job) and not attached and not short:
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
    closing = _closing_stitch(worker) if worker.closed and not (worker.flat or parts.joined) else ""
    pending = parts.pending
    in_space = bool(worker.pending) and worker.flat and pending is None and _ends_in_space(worker, job)
    if worker.pending and worker.flat and pending is None and not in_space:
        pending = Chain(worker.pending)
        worker.pending = 0
    worker.close_chains()
    strip = worker.out.strip()
    coloured = strip if worker.out.colour else None
    if coloured is not None:
        strip = strip.uncoloured()
    strip = _named_alike(strip, began=bool(worker.began))
    strip = with_group_at_start(strip, job.steps) if worker.closed and parts.joined else strip
    strip = strip.reversed() if parts.rejoined and job.flat else strip  # met again in the order in which it was made
    joined = parts.joined or worker.closed
    edge = Edge(strip, False, False, job.flat, joined, parts.turned_last, pending, closing=closing)
    edge = replace(edge, untested=worker.on_other_side or worker.beyond or worker.spurred or attached or short)
    outcome = Outcome(edge, tuple(worker.faults), tuple(worker.repeats), worker.base, reading)
    if parts.turned_last and 0 < worker.first_ones == worker.position < worker.base.length:
        outcome = replace(outcome, free=Strip.of(worker.base.cut(worker.position, worker.base.length)))
    elif worker.left and 0 < worker.left_from < worker.base.length:
        outcome = replace(outcome, free=Strip.of(worker.base.cut(worker.left_from, worker.base.length)))
    return replace(outcome, coloured=coloured, last_colour=worker.out.colour) if coloured is not None else outcome


def _ends_in_space(worker: Worker, job: RowJob) -> bool:
    """Whether the chain that ends a row is a space and no turning chain: a stitch is skipped under it, and only so the
    stated count comes out ("*sc in next st, ch 1, sk 1; rep from * across, turn. (7 sc, 7 ch-1 sps)").
    """
    ends = [step for step in flat_steps(job.steps) if not isinstance(step, _AT_END)][-2:]
    if len(ends) < 2 or not (isinstance(ends[0], Chain) and isinstance(ends[1], Skip)) or not job.stated:
        return False
    made = worker.out.strip()
    before = save(worker)
    worker.close_chains()
    closed = worker.out.strip()
    restore(worker, before)
    with_space = all(agrees(closed, item, job.size) for item in job.stated)
    return with_space and not all(agrees(made, item, job.size) for item in job.stated)


_AT_END = (Turn, FastenOff, ChangeColour, Marker, Verbatim)


def passed_by_last_chain(steps: tuple[Step, ...]) -> int:
    """ "*Ch 5, skip next st, sc in next st; rep from * 6 more times, ch 5, join": the last chain passes as many
    stitches as each of the others, whether that is said or not. Common practice, no source.
    """
    work = [step for step in steps if not isinstance(step, FastenOff | ChangeColour | Marker | Verbatim)]
    if len(work) < _LAST_CHAIN or not isinstance(work[-3], Repeat):
        return 0
    chain, body = work[-2], work[-3].steps
    joined = isinstance(work[-1], Join) and body[0] == chain
    closed = _closes_loop(work[-1]) and isinstance(body[0], Chain)  # "ch 2, dc in first sc" for one of five chains
    passed = body[1] if len(body) > 1 and (joined or closed) and isinstance(chain, Chain) else None
    plain = isinstance(passed, Skip) and passed.place.what is What.STITCH and not passed.leave
    number = passed.place.number if plain and isinstance(passed, Skip) else 0
    return number if isinstance(number, int) else 0


def _closes_loop(step: Step) -> bool:
    """Whether a stitch into the first one of the round closes the last loop instead of chains."""
    place = step.place if isinstance(step, Work) else None
    return place is not None and place.what is What.STITCH and place.which is Which.FIRST and place.number == 1


_LAST_CHAIN = 3
"""The steps that tell of a last chain: the repeat, the chain, and the join."""


def _ends_in_slips(job: RowJob) -> bool:
    """Whether a row on a chain of its own is fastened to the piece at its end: a rib along the last row, whose other
    stitches further rows come to.
    """
    worked = [step for step in flat_steps(job.steps) if isinstance(step, Work | Group | Decrease | Slip)]
    return bool(worked) and isinstance(worked[-1], Slip)


def _leaves_as_many(worker: Worker, job: RowJob, parts: RowParts) -> bool:
    """Whether as many stitches are left at the end as were passed at the beginning."""
    left = worker.remaining()
    if job.flat and (parts.turned_last or job.stated) and left in slipped_past(parts.lead):
        return True
    if job.flat:
        return left == joins_behind(job.steps)
    return left == passed_by_last_chain(job.steps) or (left > 0 and left == _passed_by_each_chain(worker, job))


def _passed_by_each_chain(worker: Worker, job: RowJob) -> int:
    """ "Sc in first tr, (ch 6, sc in next tr) 11 times, ch 6, join": how many stitches each chain of the repeat passes
    on its way to the one told, and so the last chain too; 0 where the round does not go so. Common practice, no source.
    """
    work = [step for step in job.steps if not isinstance(step, FastenOff | ChangeColour | Marker | Verbatim)]
    fact = worker.repeats[-1] if worker.repeats else None
    if fact is None or fact.times < _SEVERAL or len(work) < _LAST_CHAIN or not isinstance(work[-1], Join):
        return 0
    chain, repeat = work[-2], work[-3]
    body = repeat.steps if isinstance(repeat, Repeat) and repeat.span == fact.span else ()
    alike = len(body) == _PAIR and body[0] == chain and isinstance(chain, Chain) and isinstance(body[1], Work)
    return fact.takes - 1 if alike else 0


_PAIR = 2


def _passes_as_often(worker: Worker) -> bool:
    """Whether what is left behind the last loop is what each working of the repeat passes on to its first: the round's
    beginning and the workings are parts of equal length, which make up the row below.
    """
    fact = worker.repeats[-1] if worker.repeats else None
    if fact is None or not worker.spaced or fact.times < _SEVERAL:
        return False
    left = worker.base.length - worker.position
    return 0 < left < fact.takes and (fact.times + 1) * fact.takes == worker.base.length


_SEVERAL = 2
"""So many workings tell what each of them takes."""


def _slips_away(job: RowJob) -> bool:
    """Whether the row is only how a spiral ends: "sl st in next st, fasten off"."""
    steps = [step for step in flat_steps(job.steps) if not isinstance(step, ChangeColour | Marker | Verbatim)]
    ends = any(isinstance(step, FastenOff) for step in steps) or _closes_off(job)
    return ends and all(isinstance(step, Slip | FastenOff) for step in steps)


def _closes_off(job: RowJob) -> bool:
    """ "Sl st, leave a tail for sewing", on a line without a label: what is said of the yarn ends the piece."""
    return not job.labelled and any(isinstance(step, Verbatim) and step.inert for step in job.steps)


def _named_alike(strip: Strip, *, began: bool) -> Strip:
    """Where a round begins with a group that is written out, and goes on with one name for groups of that size, the
    first one is called so too.
    """
    first = strip.at(0)[0] if strip.length else None
    if first is None or first.unit != "group" or not began:
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


def _leave_last(worker: Worker, job: RowJob, parts: RowParts) -> None:
    """ "Sc in each st to last 4 sts, turn. (22 sc)": the last stitches are left where nothing more is worked and the
    stated count bears it out. Common practice of shaping, no source. On a round that was joined, a row that turns back
    in front of them leaves them in any case: nothing else would make it a row.
    """
    last = next((step for step in reversed(parts.body) if not isinstance(step, Verbatim | Turn)), None)
    place = last.place if isinstance(last, Repeat) and last.extent is Extent.TO_LAST else None
    left = worker.base.length - worker.position
    if place is None or not parts.turned_last or worker.left:
        return
    if worker.around_below and not parts.joined and worker.remaining(worker.test(place)) == place.number:
        worker.left, worker.left_from, worker.position = True, worker.position, worker.base.length
        return
    if not job.stated or place.number != left:
        return
    if all(agrees(worker.out.strip(), item, job.size) for item in job.stated):
        worker.left, worker.left_from, worker.position = True, worker.position, worker.base.length


def _groups_behind(worker: Worker, last: Cell) -> int:
    """Groups like that of the place worked last which stand behind it. A single one may be passed on the way round."""
    behind = (worker.last or 0) - last.part + last.size
    return worker.base.count(
        lambda c: c.unit == last.unit and c.part == 0 and c.size == last.size, max(worker.position, behind)
    )


_HALF_SHELL = 2
"""Stitches in front of the join that a round into the middles of shells passes, as it does beside every shell."""


def _left_over(worker: Worker, *, turned: bool) -> list[Fault]:
    """Places that the row should have worked and did not."""
    base = worker.base
    if worker.described and worker.position < base.length:
        return [Fault("stitches-left-over", facts={"left": base.length - worker.position, "what": "stitches"})]
    if worker.left and worker.left_beside:
        return [Fault("stitches-left-over", facts={"left": worker.left_beside, "what": "stitches"})]
    if worker.left or not base.length or (worker.in_ring and not worker.position):
        return []
    if worker.flap and worker.out.made:
        return []
    if turned and (worker.in_ring or 0 < worker.first_ones == worker.position):
        return []  # rows on a part of the ring, or on so many of the first stitches
    if worker.position == 0 and worker.out.made == 0:
        return []
    last = base.at(worker.last)[0] if worker.last is not None and worker.last < base.length else None
    if worker.spaced and last is not None and last.sort in (SPACE, PICOT):
        chains = last.chains
        start = worker.position
        if last.size and worker.last is not None:  # the rest of a group in which the work stands is none of those
            start = max(start, worker.last - last.part + last.size)
        grouped = last.size > 0  # the spaces between groups are none of those inside them, however long
        spaces = base.count(lambda c: c.sort == last.sort and c.chains == chains and (c.size > 0) is grouped, start)
        return [Fault("stitches-left-over", facts={"left": spaces, "what": "spaces"})] if spaces else []
    left = base.count(is_workable, worker.position) + worker.passed
    if worker.spaced and worker.last is not None and last is not None and last.unit:
        groups = _groups_behind(worker, last)
        return [Fault("stitches-left-over", facts={"left": groups, "what": "groups"})] if groups > 1 else []
    passes = not worker.flat and worker.spaced and left <= _HALF_SHELL
    if passes or (worker.around and left == 1):
        left = 0
    return [Fault("stitches-left-over", facts={"left": left, "what": "stitches"})] if left else []
