"""How much yarn each row takes, colour by colour, in single crochets (US): read off the cells that it made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from convert.document.records import Row
from convert.document.steps import Begin, Chain, ChangeColour, FastenOff, Join, Marker, Slip, Start, Turn, Verbatim
from convert.fabric.cells import AT_FIRST, CHAIN, PICOT, SPACE, Cell, Strip
from convert.fabric.places.place import base_kind
from convert.fabric.rows.jobs import Outcome
from convert.trade.stitches import stitches
from convert.trade.yarn_use import use_of

_NO_WORK = (Turn, FastenOff, Marker, Verbatim)


def first_colour(row: Row, colour: str) -> str:
    """The yarn that the row begins with: what it changes to before it works, else the one in hand."""
    for step in row.steps:
        if isinstance(step, ChangeColour):
            colour = step.colour
        elif not isinstance(step, _NO_WORK):
            break
    return colour


def last_colour(row: Row, outcome: Outcome, first: str) -> str:
    """The yarn in hand after the row, where it began with `first`."""
    if outcome.coloured is None:
        # A change between the beginning chain and the first stitch leaves the row in one colour.
        return next((step.colour for step in reversed(row.steps) if isinstance(step, ChangeColour)), first)
    return first if outcome.last_colour in ("", AT_FIRST) else outcome.last_colour


def uses(row: Row, outcome: Outcome, first: str, pending: Chain | None) -> Mapping[str, float]:
    """Yarn by colour. `pending` is the turning chain that the row before made for this one.

    Yarn carried along behind or inside the stitches, tails and what a joined seam takes are not in it.
    """
    made = outcome.coloured or outcome.made
    begins = first if outcome.coloured is not None else last_colour(row, outcome, first)
    bare = made is not None and _chains(made) > 0
    found = {first: 0.0 if bare else _beginning(row, outcome, pending)}
    skipped = _founded(outcome) > 0 and not _makes_ring(row)
    for colour, use in _cells(made, skipped=skipped) if made is not None else ():
        own = begins if colour in ("", AT_FIRST) else colour
        found[own] = found.get(own, 0.0) + use
    closing = last_colour(row, outcome, first)
    joins = sum(isinstance(step, Join) for step in row.steps)
    found[closing] = found.get(closing, 0.0) + joins * use_of("sl-st")
    return MappingProxyType(found)


def _chains(strip: Strip | None) -> int:
    """The chains of a foundation; 0 for anything else."""
    if strip is None or any(cell.sort != CHAIN for loop in strip.loops for cell, _ in loop.runs):
        return 0
    return strip.length


def _founded(outcome: Outcome) -> int:
    """The chains of the foundation that the row works into; 0 above it."""
    return _chains(outcome.base)


def _makes_ring(row: Row) -> bool:
    return any(isinstance(step, Begin) and step.start is Start.CHAIN_RING for step in row.steps)


def _beginning(row: Row, outcome: Outcome, pending: Chain | None) -> float:
    """Foundation and beginning chains, as far as no cell of the row stands for them."""
    if any(isinstance(step, Begin) and step.start in (Start.CHAIN, Start.CHAIN_RING) for step in row.steps):
        first = next(step for step in row.steps if isinstance(step, Begin))
        chains = first.number if isinstance(first.number, int) else _founded(outcome)
        return use_of("chain") * (chains + _own_chain(row, outcome, None))
    chain = _leading(row)
    if chain is not None and _founded(outcome):
        return use_of("chain") * (chain.number if isinstance(chain.number, int) else _founded(outcome))
    return use_of("chain") * _own_chain(row, outcome, pending)


def _own_chain(row: Row, outcome: Outcome, pending: Chain | None) -> int:
    """The chains of a beginning chain that counts as nothing."""
    chain = _leading(row) or pending
    if chain is None or not isinstance(chain.number, int):
        return 0
    counts = outcome.reading.counts
    if counts is None:
        return chain.number
    return 0 if counts.stitch is not None else max(0, chain.number - counts.chains)


def _leading(row: Row) -> Chain | None:
    """The chain before the first stitch of the row."""
    for step in row.steps:
        if isinstance(step, Chain):
            return step
        if not isinstance(step, ChangeColour | Join | Begin | Slip | Turn | Marker | Verbatim):
            return None
    return None


def _cells(made: Strip, *, skipped: bool) -> Iterator[tuple[str, float]]:
    for loop in made.loops:
        for cell, number in loop.runs:
            yield cell.colour, _use(cell, skipped=skipped) * number * loop.times


def _use(cell: Cell, *, skipped: bool) -> float:
    """Yarn of one cell. A beginning chain that stands for a stitch takes that of its chains; where these are
    `skipped` chains of the foundation, they are counted there.
    """
    if cell.sort in (SPACE, PICOT):
        return use_of("chain") * cell.chains
    if cell.sort == CHAIN or stitches().get(base_kind(cell.kind)) is None:
        return use_of("chain")
    if cell.chains:
        return 0.0 if skipped else use_of("chain") * cell.chains
    return use_of(cell.kind)
