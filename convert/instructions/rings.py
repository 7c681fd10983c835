"""Tells rings that the words do not call so: a ring named only where it is worked into, a chain joined at once."""

from __future__ import annotations

from convert.document.steps import Begin, Chain, Join, Place, Start, Step, What
from convert.document.walking import each
from convert.instructions.cursor import Cursor


def with_ring(steps: tuple[Step, ...], cur: Cursor) -> tuple[Step, ...]:
    """ "6 sc in adjustable ring" begins the ring and works into it; "Ch 5, join; 9 dc in ring" makes one of chains."""
    if any(isinstance(step, Begin) for step in steps):
        return steps
    ring = next((i for i, word in enumerate(cur.words) if word.id == "adjustable-ring" and word.kind == "word"), None)
    if ring is not None:
        return (Begin(Start.ADJUSTABLE_RING, span=cur.span(ring, ring + 1)), *steps)
    joined = joined_chain(steps)
    return joined if joined is not steps and works_into_ring(steps) else steps


def works_into_ring(steps: tuple[Step, ...]) -> bool:
    """Whether something is worked into a ring."""
    return any(place.what is What.RING for place in each(steps, Place))


def joined_chain(steps: tuple[Step, ...]) -> tuple[Step, ...]:
    """The steps with the chain at their beginning, joined without a word where, as a ring."""
    first, second = steps[:2] if len(steps) > 1 else (None, None)
    if not isinstance(first, Chain) or first.counts is not None or not isinstance(second, Join) or second.place:
        return steps
    return (Begin(Start.CHAIN_RING, first.number, span=first.span.to(second.span)), *steps[2:])
