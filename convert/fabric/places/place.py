"""Which cells a place means: tests on cells, and words for what a row has."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import cache, lru_cache

from convert.document.records import Special, TermSystem
from convert.document.steps import Place, What, Which
from convert.fabric.cells import CHAIN, PAIR, PICOT, ROW_END, SPACE, STITCH, Cell, Strip
from convert.terms.naming import kind_name
from convert.trade.patterns import signs
from convert.trade.stitches import drawn_together, stitches

Test = Callable[[Cell], bool]
"""More stitches than a pair are a group whose middle can be named."""


@lru_cache(4096)
def base_kind(kind: str) -> str:
    """The stitch that a decrease or post stitch is made of.

    >>> base_kind("dc3tog"), base_kind("FPdc"), base_kind("dc")
    ('dc', 'dc', 'dc')
    """
    if kind.endswith("tog"):
        return kind.removesuffix("tog").rstrip("0123456789")
    entry = stitches().get(kind)
    return entry.of if entry is not None and entry.of else kind


def is_workable(cell: Cell) -> bool:
    """Whether "each st" and "next st" mean this cell."""
    return cell.sort in (STITCH, CHAIN)


def test_for(place: Place) -> Test:
    """The test that the cells meant by a place pass."""
    if place.what in (What.SPACE, What.CORNER) and not (place.what is What.CORNER and place.of):
        return _space_test(place)
    if place.what is What.ROW_END:
        return lambda cell: cell.sort == ROW_END and place.of in (None, cell.kind)
    if place.what is What.CHAIN:
        return lambda cell: cell.sort == CHAIN or cell.kind == "ch"
    if place.what is What.GROUP:
        if place.of is None:
            return lambda cell: bool(cell.unit) and cell.part == 0
        return lambda cell: _begins_group(cell) and base_kind(cell.kind) == place.of
    if place.what is What.BEGINNING_CHAIN:
        return lambda cell: cell.sort == STITCH and cell.chains > 0
    if place.of is None:
        return is_workable
    return kind_test(place.of)


def _begins_group(cell: Cell) -> bool:
    return cell.part == 0 and (bool(cell.unit) or cell.kind.endswith("tog") or drawn_together(cell.kind))


def kind_test(of: str) -> Test:
    """Cells of one kind of stitch, or the first cell of a group of that name."""
    entry = stitches().get(of)
    if entry is not None and entry.decoration:
        return lambda cell: cell.sort == PICOT
    if entry is None or entry.unit:
        return lambda cell: (cell.unit == of and cell.part == 0) or (_stands_alone(cell, of) and _like(cell, of))
    return lambda cell: cell.sort == STITCH and of in (cell.kind, base_kind(cell.kind))


def _stands_alone(cell: Cell, of: str) -> bool:
    """Whether the cell may be called by its own name: one in no group may, and a cluster in a group without a name."""
    return not cell.unit or is_cluster_in_group(cell, of)


def is_cluster_in_group(cell: Cell, of: str) -> bool:
    """Whether "cluster" means one stitch of a group that has no name of its own."""
    return drawn_together(of) and cell.unit == "group" and cell.kind.endswith("tog")


def with_written_out(test: Test, of: str, strip: Strip) -> Test:
    """The test for the groups of a name, which some of the row's groups bear and others, written out in stitches, do
    not: those as large as the named ones, and of stitches as tall, are meant too.
    """
    entry = stitches().get(of)
    if entry is None or not entry.unit or entry.decoration:
        return test
    found = strip.find(lambda cell: cell.unit == of and cell.part == 0 and cell.size > PAIR, 0)
    if found is None:
        return test
    named = strip.at(found)[0]
    size, height = named.size, _height(named)
    return lambda cell: (
        test(cell) or (cell.unit == "group" and cell.part == 0 and cell.size == size and _height(cell) >= height)
    )


def _height(cell: Cell) -> int:
    entry = stitches().get(base_kind(cell.kind))
    return (entry.height or 0) if entry is not None else 0


def _like(cell: Cell, of: str) -> bool:
    return cell.kind == of or (drawn_together(of) and cell.kind.endswith("tog"))


def _space_test(place: Place) -> Test:
    if place.chains is None:
        if place.what is What.CORNER:
            return lambda cell: cell.sort == SPACE and bool(cell.unit)
        return lambda cell: cell.sort == SPACE
    length = place.chains
    return lambda cell: cell.sort == SPACE and cell.chains == length


_CORNERS = 8
"""The most corners that a motif has: an octagon's. More spaces of the greatest length are the spaces of a net."""


def corner_test(place: Place, strip: Strip) -> Test:
    """Corners: spaces inside a group; where no group has a space, the few longest spaces, or the middle stitches of
    groups.
    """
    if place.of is None and strip.find(lambda c: c.sort == SPACE and bool(c.unit), 0) is not None:
        return _space_test(place)
    if place.of is None and place.chains is not None:
        return _space_test(place)
    longest = max((c.chains for loop in strip.loops for c, _ in loop.runs if c.sort == SPACE), default=0)
    if place.of is None and 0 < strip.count(lambda c: c.sort == SPACE and c.chains == longest) <= _CORNERS:
        return lambda cell: cell.sort == SPACE and cell.chains == longest
    return lambda cell: cell.size >= 3 and cell.size % 2 == 1 and cell.part == cell.size // 2


@cache
def _between_groups() -> re.Pattern[str]:
    behind_work = rf"(?: in {signs('back')} of (?:the )?work)?"
    return re.compile(rf"(?:the )?(?:next )?(?:2 |two )?{signs('groups')}{behind_work}", re.IGNORECASE)


def is_between_groups(place: Place) -> bool:
    """Whether groups of the row below are called by their look: "between next 2 petals", before or behind the work."""
    return place.what is What.GAP and place.which is Which.NEXT and _between_groups().fullmatch(place.words) is not None


def describe(place: Place, system: TermSystem = TermSystem.US, specials: tuple[Special, ...] = ()) -> str:
    """The place in words for a message, in the terms of the pattern."""
    noun = {
        What.SPACE: "chain space",
        What.CORNER: "corner",
        What.CHAIN: "chain",
        What.GROUP: "group",
        What.RING: "ring",
        What.MARKER: "marked stitch",
        What.BEGINNING_CHAIN: "beginning chain that counts as a stitch",
    }.get(place.what, "stitch")
    if place.chains is not None and place.what in (What.SPACE, What.CORNER):
        noun = f"ch-{place.chains} sp"
    elif place.of is not None:
        noun = kind_name(place.of, system, specials)
    return noun


def describe_strip(strip: Strip, system: TermSystem = TermSystem.US, specials: tuple[Special, ...] = ()) -> str:
    """What a row has, in words: "24 dc, 6 ch-2 sps"."""
    counts: dict[str, int] = {}
    for loop in strip.loops:
        for cell, number in loop.runs:
            name = f"ch-{cell.chains} sp" if cell.sort == SPACE else "ch" if cell.sort == CHAIN else cell.kind
            counts[name] = counts.get(name, 0) + number * loop.times
    names = [
        f"{n} {kind_name(name, system, specials)}{'s' if name.endswith('sp') and n > 1 else ''}"
        for name, n in counts.items()
    ]
    return ", ".join(names) if names else "no stitches"
