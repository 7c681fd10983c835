"""Chains at the beginning of a row of low stitches that are a space, where nobody says so and a later row works into
it: "sc in 4th ch from hook, *ch 1, skip 1 ch, sc in next ch ...", and at the end of the next row "sc in last ch sp".

The text does not tell it in the row that makes the space, so that only the rows after it do. Common practice of woven
(moss) stitch, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from convert.document.records import CountKind
from convert.document.steps import Counts, Place, What
from convert.fabric.counts import agrees
from convert.fabric.parts.run import Run, WorkedRow
from convert.fabric.rows.jobs import Edge
from convert.fabric.rows.readings import beginning_chain, first_stitch, skipped_chains
from convert.trade.stitches import stitches

_SHORTEST = 2
"""One chain at the beginning of a row lifts the hook, and nobody works into it."""


def with_spaces_begun(worked: Callable[[frozenset[int]], Run]) -> Run:
    """The rows of a part, with its beginning chains as spaces where more of the rows come out so."""
    chains: frozenset[int] = frozenset()
    run = worked(chains)
    while _wanted(run) - chains:
        more = chains | _wanted(run)
        other = worked(more)
        if _first_wrong(other) <= _first_wrong(run):
            break
        run, chains = other, more
    return _noted(run, chains)


def _wanted(run: Run) -> frozenset[int]:
    """The lengths of the chains that may be the space which the first wrong row asks for, if it asks for one."""
    first = _first_wrong(run)
    if first == len(run.results):
        return frozenset()
    asked = _space_asked(run, run.results[first])
    lengths = frozenset(chains for worked in run.results[: first + 1] for chains in _begun(worked))
    return lengths if asked == 0 else lengths & {asked}


def _space_asked(run: Run, worked: WorkedRow) -> int:
    """How many chains the space has that the row misses; 0 for any number, and -1 where it misses no space."""
    assert worked.outcome is not None
    for fault in worked.outcome.faults:
        place = fault.facts.get("place")
        if isinstance(place, Place) and place.what in (What.SPACE, What.BEGINNING_CHAIN):
            return place.chains or 0
    made = worked.outcome.made
    spaces = [item for item in worked.stated if item.kind is CountKind.SPACE]
    if made is None or worked.outcome.faults:
        return -1
    return 0 if any(agrees(made, item, run.size) is False for item in spaces) else -1


def _begun(worked: WorkedRow) -> Iterator[int]:
    """The chains at the beginning of the row, at the hook or at its edge, where its stitches need none so long."""
    steps = worked.row.steps
    entry = stitches().get(first_stitch(steps)[0] or "")
    if entry is None or entry.counts:
        return
    chain = beginning_chain(steps, Edge())
    for number in (skipped_chains(steps), chain.number if chain is not None and chain.counts is None else None):
        if isinstance(number, int) and number >= _SHORTEST:
            yield number


def _is_wrong(run: Run, worked: WorkedRow) -> bool:
    outcome = worked.outcome
    if outcome is None or worked.quiet:
        return False
    made = outcome.made
    miscounted = made is not None and any(agrees(made, item, run.size) is False for item in worked.stated)
    return bool(outcome.faults) or miscounted


def _first_wrong(run: Run) -> int:
    """The index of the first row that does not come out; how many there are where all of them do."""
    return next((at for at, worked in enumerate(run.results) if _is_wrong(run, worked)), len(run.results))


def _noted(run: Run, chains: frozenset[int]) -> Run:
    """The run, with the first row whose chains were taken as a space marked as read otherwise than is usual."""
    for index, worked in enumerate(run.results):
        outcome = worked.outcome
        counts = outcome.reading.counts if outcome is not None else None
        if outcome is not None and isinstance(counts, Counts) and counts.stitch is None and counts.chains in chains:
            run.results[index] = replace(worked, outcome=replace(outcome, unusual=True))
            break
    return run
