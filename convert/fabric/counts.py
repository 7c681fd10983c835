"""Counts what a row made, and compares it with what the text states."""

from __future__ import annotations

from itertools import pairwise

from convert.document.numbers import number_for
from convert.document.records import CORNER, CountItem, CountKind
from convert.fabric.cells import CHAIN, PETAL, PICOT, SLIP, SPACE, SPUR, STITCH, Cell, Strip
from convert.fabric.places.place import base_kind
from convert.fabric.results import Tally
from convert.trade.patterns import listed
from convert.trade.stitches import drawn_together, stitches


def tallies(strip: Strip) -> tuple[Tally, ...]:
    """How many of each thing a row made: stitches by kind, spaces by length, groups by name; chains of a foundation."""
    counts: dict[str, int] = {}
    for loop in strip.loops:
        for cell, number in loop.runs:
            for name in _names(cell):
                counts[name] = counts.get(name, 0) + number * loop.times
    return tuple(Tally(kind, number) for kind, number in counts.items())


def _names(cell: Cell) -> tuple[str, ...]:
    unit = (cell.unit,) if cell.unit and cell.part == 0 and cell.unit not in ("group", cell.kind) else ()
    group = ("group",) if cell.unit == "group" and cell.part == 0 else ()
    if cell.sort == SPACE:
        return (f"ch-{cell.chains} sp", *unit, *group)
    if cell.sort == CHAIN:
        return ("ch",)
    if cell.sort == SLIP:
        return ("sl-st",)
    if cell.sort == STITCH:
        return (cell.kind, *unit, *group)
    return (cell.kind,)


def total(strip: Strip) -> int:
    """Stitches of all kinds; slip stitches that only travel, chains and spaces are not among them."""
    return strip.count(lambda cell: cell.sort in (STITCH, CHAIN))


def agrees(strip: Strip, item: CountItem, size: int) -> bool | None:
    """Whether one figure of a stated count is right; None where it counts something the fabric does not know."""
    wanted = number_for(item.number, size)
    if item.kind is CountKind.GROUP and not strip.count(lambda c: bool(c.unit)):
        return _pairs_agree(strip, wanted)
    if item.kind is CountKind.OTHER and item.of is not None and item.of.lower() in listed("groups"):
        return True if wanted == strip.count(lambda c: c.size >= PETAL and c.part == 0) else None
    if wanted is None or item.kind in (CountKind.OTHER, CountKind.ROWS) or _is_shaping(item):
        return None
    if item.kind is CountKind.STITCH and item.of is not None and _is_group_name(item.of):
        groups = strip.count(lambda c: bool(c.unit) and c.part == 0)
        if not groups and not strip.count(lambda c: c.kind == item.of or c.kind.endswith("tog")):
            return None
        made = _of_kind(strip, item.of)
        return wanted in (made if made != {0} else {groups, groups - _halves(strip)})
    if item.kind is CountKind.SPACE and item.of == CORNER:
        return _corners_agree(strip, item, wanted)
    figures = _figures(strip, item)
    if item.of == "sl-st" and figures == {0}:
        return None  # slip stitches that close or bind off are no places of their own
    if figures == {0} and item.of is not None and item.of not in stitches() and _has_groups(strip):
        return None  # a stitch of the author's own is not told from others where several stand in one place
    return wanted in figures


def _has_groups(strip: Strip) -> bool:
    return strip.count(lambda c: c.unit == "group" and c.part == 0) > 0


def _is_shaping(item: CountItem) -> bool:
    """Whether increases or decreases are counted ("6 inc, 18 sts"): once made, they are stitches like others."""
    entry = stitches().get(item.of) if item.of is not None else None
    return entry is not None and entry.prevailing


def _corners_agree(strip: Strip, item: CountItem, wanted: int) -> bool | None:
    """Whether the spaces at the corners are as many as stated; None where those of the sides may be as long."""
    spaces = strip.count(lambda c: c.sort == SPACE and item.chains in (None, c.chains))
    grouped = strip.count(lambda c: c.sort == SPACE and item.chains in (None, c.chains) and bool(c.unit))
    if wanted in (spaces, grouped):
        return True
    return False if grouped or wanted > spaces else None


def _pairs_agree(strip: Strip, wanted: int | None) -> bool | None:
    """Whether two stitches in one place are the groups of a count; None where other stitches may be among them."""
    pairs = strip.count(lambda c: c.size == 2 and c.part == 0)
    if pairs and pairs == wanted:
        return True
    return False if pairs and wanted is not None and 2 * pairs == total(strip) else None


def _is_group_name(of: str) -> bool:
    """Whether the trade knows the word as the name of a group: what a row calls a shell may be written out in it."""
    entry = stitches().get(of)
    return entry is not None and entry.unit


def _figures(strip: Strip, item: CountItem) -> frozenset[int]:
    """The numbers that the trade's ways of counting give: groups as one, chains counted or not."""
    spurs = strip.count(lambda c: c.sort == SPUR and (item.of is None or base_kind(c.kind) == item.of))
    if spurs and item.kind in (CountKind.TOTAL, CountKind.STITCH):
        plain = _totals(strip) if item.kind is CountKind.TOTAL else _of_kind(strip, item.of or "")
        return plain | {figure + spurs for figure in plain}
    if item.kind is CountKind.TOTAL:
        return _totals(strip)
    if item.kind is CountKind.SPACE:
        length = item.chains
        spaces = strip.count(lambda c: c.sort == SPACE and (length is None or c.chains == length))
        return frozenset({spaces})
    if item.kind is CountKind.CHAIN:
        return frozenset({_chains(strip), strip.count(lambda c: c.sort == CHAIN)})
    if item.kind is CountKind.GROUP:
        groups = strip.count(lambda c: bool(c.unit) and c.part == 0)
        parted = strip.count(lambda c: bool(c.unit) and c.sort == SPACE)  # by the spaces inside them, as corners are
        return frozenset({groups, groups + parted, _between_spaces(strip)})
    assert item.of is not None
    return _of_kind(strip, item.of)


def _between_spaces(strip: Strip) -> int:
    """Groups as the eye counts them: "(3 dc, ch 2, 3 dc)" in a corner are two, parted by the space. All around there
    are as many as spaces, where every stitch stands in a group; 0 where some do not.
    """
    first = strip.find(lambda c: c.sort == SPACE, 0)
    begun = first if first and strip.at(0)[0].chains and strip.at(0)[0].sort == STITCH else 0  # "ch 3, 2 dc" is a group
    alone = strip.count(lambda c: c.sort == STITCH and not c.unit and not c.chains, begun)
    return 0 if alone else strip.count(lambda c: c.sort == SPACE)


def _halves(strip: Strip) -> int:
    """How many groups at the two ends of a row are half ones, smaller than all between: "9 fans and 2 half fans"."""
    sizes = [c.size for loop in strip.loops for c, _ in loop.runs if c.unit and c.part == 0]
    whole = max(sizes, default=0)
    ends = sum(size < whole for size in (sizes[:1] + sizes[-1:]))
    smaller = strip.count(lambda c: bool(c.unit) and c.part == 0 and c.size < whole)
    return ends if ends == smaller else 0


def _chains(strip: Strip) -> int:
    return sum(c.chains * n * loop.times for loop in strip.loops for c, n in loop.runs if c.sort == SPACE)


def _totals(strip: Strip) -> frozenset[int]:
    stitches = total(strip)
    chains = _chains(strip)
    slips = strip.count(lambda c: c.sort == STITCH and c.kind == "sl-st")
    figures = {stitches, stitches + chains, stitches - slips, stitches + strip.count(lambda c: c.sort == SLIP)}
    units = strip.count(lambda c: bool(c.unit) and c.part == 0 and c.unit != "group")
    if units:
        outside = strip.count(lambda c: c.sort == STITCH and (not c.unit or c.unit == "group"))
        figures |= {units + outside, units}
    return frozenset(figures)


def _of_kind(strip: Strip, of: str) -> frozenset[int]:
    """Stitches of one kind, decreases counted with them or not, those inside named groups counted or not."""
    entry = stitches().get(of)
    spelled = strip.count(lambda c: c.sort == PICOT) if entry is not None and entry.decoration else 0
    if spelled:
        return frozenset({spelled})
    exact = strip.count(lambda c: c.sort == STITCH and c.kind == of)
    family = strip.count(lambda c: c.sort == STITCH and base_kind(c.kind) == of)
    outside = strip.count(lambda c: c.sort == STITCH and base_kind(c.kind) == of and (not c.unit or c.unit == "group"))
    units = strip.count(lambda c: c.unit == of and c.part == 0)
    if units:
        begun = strip.count(lambda c: c.part == 0 and _begins_round(c.unit, of))
        return frozenset({units + _made_alike(strip, of), units + begun})
    clusters = strip.count(lambda c: c.kind.endswith("tog")) if drawn_together(of) else 0
    if clusters:
        return frozenset({clusters})
    if not (exact or family):
        return frozenset({0})
    # A beginning chain that counts as a stitch of no kind is called by that of the row's others.
    begun = strip.count(lambda c: c.sort == STITCH and c.chains > 0 and base_kind(c.kind) != of)
    climbs = _climbs(strip, (entry.height or 0) if entry is not None else 0)
    figures = {exact, family, outside, exact + begun, family + begun}
    if strip.count(lambda c: c.unit == "group"):  # "(8 3-dc groups, 4 dc)": those that stand by themselves
        figures.add(strip.count(lambda c: c.sort == STITCH and c.kind == of and not c.unit))
    if climbs:
        alone = strip.count(lambda c: c.sort == STITCH and c.kind == of and not c.unit)
        figures |= {figure + climbs for figure in (exact, outside, alone)}
    return frozenset(figures)


def _climbs(strip: Strip, height: int) -> int:
    """Chains of a stitch's height behind a slip stitch: "sl st in next dc, ch 3, dc in next dc" has the work climb
    anew, and the chain stands for the first of the stitches behind it. A group in front of it is then counted as one.
    """
    runs = [(cell, loop.times) for loop in strip.loops for cell, _ in loop.runs]
    found = 0
    for (one, _), (other, times) in pairwise(runs):
        found += times if one.kind == "sl-st" and other.sort == SPACE and other.chains == height > 1 else 0
    return found


def _begins_round(unit: str, of: str) -> bool:
    """Whether a group is the one that the author begins rounds with: the "beginning cluster" beside clusters."""
    return unit.endswith(f"-{of}") and unit.removesuffix(f"-{of}") in listed("beginning")


def _made_alike(strip: Strip, of: str) -> int:
    """Stitches outside a named group that are like what the group consists of, with as many legs or fewer: the first
    cluster, begun with a chain.
    """
    kinds = {base_kind(c.kind) for loop in strip.loops for c, _ in loop.runs if c.unit == of and c.size == 1}
    return strip.count(lambda c: c.kind.endswith("tog") and not c.unit and base_kind(c.kind) in kinds) if kinds else 0


def computed(strip: Strip, item: CountItem) -> int:
    """The figure to show beside a stated one: of those that count the same, the nearest."""
    if item.kind is CountKind.TOTAL:
        return total(strip)
    if item.kind is CountKind.STITCH and item.of is not None:
        wanted = number_for(item.number, 0) or 0
        figures = _of_kind(strip, item.of)
        if any(figures):
            return min(figures, key=lambda figure: (abs(figure - wanted), -figure))
        return strip.count(lambda c: c.sort == STITCH and base_kind(c.kind) == base_kind(item.of or ""))
    return max(_figures(strip, item))
