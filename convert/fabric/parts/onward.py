"""Where a part has no beginning of its own: whether it may go on from the edge that the part before it left.

Common practice, no source: a heading ("Ruffle", "Edging") inside one piece of work begins a part and no new piece.
"""

from __future__ import annotations

from msgspec import Struct

from convert.document.records import Remark, Row, RowKind
from convert.document.steps import (
    Again,
    Begin,
    ChangeColour,
    Decrease,
    FastenOff,
    Group,
    Join,
    Place,
    Slip,
    Start,
    Step,
    Verbatim,
    What,
    Which,
    Work,
)
from convert.fabric.cells import Strip
from convert.fabric.places.place import corner_test, is_between_groups, test_for
from convert.fabric.places.worded import is_by_look, names_groups
from convert.fabric.remembered import remembered
from convert.fabric.rows.jobs import Edge
from convert.fabric.rows.layers import goes_through
from convert.fabric.rows.readings import flat_steps
from convert.fabric.rows.sides import Sides

_OF_THE_BEGINNING = (What.RING, What.CHAIN, What.BEGINNING_CHAIN)


def begins_on_edge(row: Row) -> bool:
    """Whether the first row of a part works on an edge that must have been there before."""
    if any(isinstance(step, Begin) and step.start not in (Start.EDGE, Start.ALONG) for step in row.steps):
        return False
    first = next((step for step in row.steps if not isinstance(step, Verbatim)), None)
    if isinstance(first, Again) and first.even:
        return True
    place = _first_place(row.steps)
    return place is not None and place.what not in _OF_THE_BEGINNING and place.origin is None


def joined_anew(row: Row, before: Row) -> bool:
    """Whether a line without a label has yarn joined where that of the row before was cut: a loop, a flap, an edge.
    Where on the piece that is, and how far it goes, nobody tells.
    """
    joined = any(isinstance(step, Begin) and step.start is Start.EDGE for step in row.steps[:2])
    return joined and row.label.kind is RowKind.UNLABELLED and any(isinstance(s, FastenOff) for s in before.steps)


def begins_on_free(steps: tuple[Step, ...]) -> bool:
    """Whether yarn is joined where an earlier row left stitches: "attach yarn in first free st"."""
    first = next((step for step in steps if isinstance(step, Begin)), None)
    place = first.place if first is not None and first.start is Start.EDGE else None
    return place is not None and place.what is What.STITCH and place.words == FREE


def _first_place(steps: tuple[Step, ...]) -> Place | None:
    """The first place that the row names."""
    for step in flat_steps(steps):
        if isinstance(step, Work | Group) or getattr(step, "place", None) is not None:
            return getattr(step, "place", None)
        places = getattr(step, "places", ())
        if places:
            return places[0]  # type: ignore[no-any-return]  # the places of a decrease
    return None


def rows_untold(items: tuple[Row | Remark, ...]) -> frozenset[int]:
    """The rows (by identity) before which others were worked that only a remark tells of: their numbers are missing, or
    the part begins with a higher one than 1. A line of work without a label is the row that its number is missing of.
    """
    found = set()
    last = 0
    unlabelled = 0
    remarked = True
    for item in items:
        if isinstance(item, Remark):
            remarked = True
            continue
        first = item.label.first
        if first is not None and first > last + unlabelled + 1 and remarked and not item.label.continued:
            found.add(id(item))
        last = max(item.label.numbers, default=last)
        unlabelled = unlabelled + _holds_work(item) if first is None else 0
        remarked = False
    return frozenset(found)


def rows_once_more(items: tuple[Row | Remark, ...]) -> frozenset[int]:
    """The rows (by identity) whose number stands once more, behind cut yarn and words of their own: "Joining round",
    "Last round for the other square". They are worked in place of the one of that number.
    """
    found = set()
    last, cut, remarked = 0, False, False
    for item in items:
        if isinstance(item, Remark):
            remarked = True
            continue
        first = item.label.first
        if cut and first is None and _joins_yarn(item):
            remarked = True  # "2nd leg: join yarn in first skipped st"
            continue
        if first is not None and 1 < first <= last and cut and (remarked or item.before):
            found.add(id(item))
        last = max(item.label.numbers, default=last)
        cut, remarked = any(isinstance(step, FastenOff) for step in item.steps), False
    return frozenset(found)


def _joins_yarn(row: Row) -> bool:
    """Whether a line joins yarn, and no stitch is worked in it."""
    return any(isinstance(s, Begin) and s.start is Start.EDGE for s in row.steps) and not _holds_work(row)


def _holds_work(row: Row) -> bool:
    """Whether stitches are worked in the line, and not a foundation alone."""
    return any(isinstance(step, Work | Group | Decrease) for step in flat_steps(row.steps))


def other_pieces(steps: tuple[Step, ...]) -> frozenset[str]:
    """The words by which slip stitches and joins in the row's course call other pieces: "sl st in next loop of first
    motif". The row is fastened there and goes on, and none of its own places are used.
    """
    places = (step.place for step in flat_steps(steps) if isinstance(step, Slip | Join))
    told = (place for place in places if place is not None)
    ours = (names_groups, is_between_groups, is_by_look, goes_through)
    others = (place for place in told if not any(tells(place) for tells in ours))
    return frozenset(place.words for place in others if place.words not in ("", FREE))


@remembered
def only_attaches(row: Row) -> bool:
    """Whether a line joins the yarn somewhere on the edge, and nothing is worked: "Attach yarn in any loop."."""
    steps = [step for step in row.steps if not isinstance(step, ChangeColour | Verbatim)]
    inert = all(step.inert for step in row.steps if isinstance(step, Verbatim))
    return inert and len(steps) == 1 and isinstance(steps[0], Begin) and steps[0].start is Start.EDGE and not row.stated


def joined_for_next(row: Row, edge: Edge) -> tuple[Step, ...]:
    """How the next row begins, where a line without a label does no more than join the yarn for it in a stitch or space
    of the last round ("Fasten off. Join green in any corner sp."); nothing for any other line.
    """
    quiet = (ChangeColour, FastenOff, Verbatim)
    steps = [step for step in row.steps if not isinstance(step, quiet)]
    begin = steps[0] if len(steps) == 1 and row.label.kind is RowKind.UNLABELLED and not row.stated else None
    place = begin.place if isinstance(begin, Begin) and begin.start is Start.EDGE else None
    inert = all(step.inert for step in row.steps if isinstance(step, Verbatim))
    there = inert and place is not None and _is_on_round(place) and _has(edge, place)
    return tuple(steps) if there else ()


def _has(edge: Edge, place: Place) -> bool:
    """Whether a round was worked that has such a place: the "corner of the opening" is another one."""
    strip = edge.strip
    if strip is None or edge.flat is not False:
        return False
    test = corner_test(place, strip) if place.what is What.CORNER else test_for(place)
    return place.what is What.GAP or strip.find(test, 0) is not None


def _is_on_round(place: Place) -> bool:
    """Whether a place is a plain stitch or space of the last round."""
    plain = place.which in (Which.ANY, Which.NEXT, Which.FIRST) and not (place.words or place.below)
    return plain and place.what in (What.STITCH, What.SPACE, What.CORNER, What.GAP)


FREE = "free"
"""The word of a place that says only that nothing was worked there yet."""


class Left(Struct, frozen=True):
    """The edge that a part left, and its last row."""

    edge: Edge
    last: Row
    sides: Sides | None = None
    """The sides of the piece that it made, where no other was made before."""
    free: Strip | None = None
    """Stitches that a row left on purpose, until yarn is joined there."""

    def goes_on_in(self, first: Row) -> bool:
        """Whether the first row of the next part may be tried on the edge.

        Where the yarn was cut or is joined anew, that is only so of a round: a piece worked flat has other edges.
        """
        if self.edge.strip is None:
            return False
        return self.edge.flat is False if any(isinstance(step, Begin) for step in first.steps) else not self.cut

    @property
    def cut(self) -> bool:
        """Whether the yarn was cut."""
        return any(isinstance(step, FastenOff) for step in self.last.steps)
