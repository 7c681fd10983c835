"""What beginning chains stood for in the rows before, and what "6 times" meant: a part reads them alike until a count
tells otherwise.

Common practice, no source: a pattern that says once that its three chains are no stitch does not say it in every row.
"""

from __future__ import annotations

from convert.document.steps import Chain, Counts, Extent, Repeat, Step
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge, Outcome, RowJob
from convert.fabric.rows.readings import beginning_chain, first_stitch

ChainKind = tuple[int, str]
"""The length of a beginning chain, and the stitch that the row begins with."""


def chain_kind(steps: tuple[Step, ...], edge: Edge) -> ChainKind | None:
    """Which beginning chain the row has; None if it has none, or one of a length that no figure tells."""
    chain = _chain(steps, edge)
    stitch = first_stitch(steps)[0] if chain is not None and not edge.foundation else None
    return (
        (chain.number, stitch) if chain is not None and stitch is not None and isinstance(chain.number, int) else None
    )


def told(job: RowJob, edge: Edge, outcome: Outcome, *, agreed: bool) -> Counts | None:
    """What the row tells that its chain stands for: in words, or by a stated count (`agreed`) that only one reading
    comes to. Chains that are a space as well tell nothing of others.
    """
    chain = _chain(job.steps, edge)
    counts = chain.counts if chain is not None and chain.counts is not None else None
    if counts is None and agreed and outcome.readings > 1 and not outcome.faults:
        counts = outcome.reading.counts
    return counts if counts is not None and not counts.chains else None


@remembered
def says_times(steps: tuple[Step, ...]) -> bool:
    """Whether a repeat leaves open if it is worked so many times in all, or so many times more."""
    repeats = [step for step in steps if isinstance(step, Repeat)]
    return any(
        (repeat.said_doubtful and repeat.extent is Extent.TIMES) or says_times(repeat.steps) for repeat in repeats
    )


def _chain(steps: tuple[Step, ...], edge: Edge) -> Chain | None:
    return edge.pending or beginning_chain(steps, edge)
