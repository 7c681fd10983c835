"""Goes to the place that a step names."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from convert.document.steps import Loops, Place, What, Which
from convert.fabric.cells import CHAIN, SPACE
from convert.fabric.faults import OTHER_EDGE, TOLD_IN_WORDS, Unknown
from convert.fabric.places.by_size import told_by_size
from convert.fabric.places.into_chains import into_beginning_chain, into_chain, into_ring
from convert.fabric.places.into_gaps import into_gap, into_gap_of_groups
from convert.fabric.places.into_stitches import into_stitches
from convert.fabric.places.place import is_between_groups
from convert.fabric.places.spaces_between import spaces_are_gaps
from convert.fabric.places.worded import between_groups, in_group_by_look, loop_by_look, names_other_side, next_by_look
from convert.fabric.rows.layers import goes_through, into_layers
from convert.fabric.rows.legs import names_bottom
from convert.fabric.rows.untold import goes_beyond, into_anywhere, is_anywhere
from convert.fabric.steps.blocks import single_between
from convert.fabric.steps.markers import into_marked
from convert.fabric.steps.stretches import into_stretch, is_of_stretch
from convert.fabric.steps.worker import Worker
from convert.source import Span


def into(worker: Worker, place: Place | None, span: Span) -> int:
    """Goes to the place of one stitch or group and returns how many times it is worked (once for each place
    named).
    """
    if place is None:
        return 1
    worker.tick(span)
    if _is_corner_of_sides(worker, place) or (place.words and single_between(worker, place, span)):
        return 1
    if is_anywhere(worker, place):
        return into_anywhere(worker, place, span)
    if is_of_stretch(place, worker.definitions.stretches):
        return into_stretch(worker, place, span)
    place = told_by_size(worker, place, span) if place.words or place.within is not None else place
    if place.words and goes_through(place):
        folded = into_layers(worker, place, span)
        if folded is not None:
            return folded
        place = replace(place, words="")
    if place.words and is_between_groups(place):
        return into_gap_of_groups(worker, place, span)
    if place.words:
        looks = (between_groups, next_by_look, in_group_by_look, loop_by_look)
        place = next((told for look in looks if (told := look(worker, place)) is not None), place)
    if place.words and names_other_side(place) and place.number != 1:
        worker.on_other_side = True
        return worker.number(place.number, span)
    if place.words and not _is_plain_in_words(worker, place):
        raise Unknown(span, why=TOLD_IN_WORDS)
    place = _meant(worker, place)
    before = worker.position
    many = _GO.get(place.what, into_stitches)(worker, place, span)
    if place.what is not What.CHAIN and worker.position != before:
        worker.chain_inside = 0
    return many


def _is_corner_of_sides(worker: Worker, place: Place) -> bool:
    """Whether a corner lies between two edges that the row goes along, and is no stitch of either."""
    return worker.sides is not None and place.what is What.CORNER and place.number == 1


def _meant(worker: Worker, place: Place) -> Place:
    """The place as the base has it: its "loops" may be stitches of a chain, its "chain" the one a round began with."""
    if worker.is_loop_of_chain(place):
        return replace(place, what=What.CHAIN)
    if _is_closing_stitch(worker, place):
        return Place(which=Which.SAME, span=place.span)
    begins = worker.in_ring or not worker.base.length
    if begins and _is_ring(place) and worker.base.find(lambda c: c.sort == SPACE, 0) is None:
        return Place(What.RING, which=Which.NEXT, span=place.span)
    if spaces_are_gaps(worker.base, place):
        return replace(place, what=What.GAP)
    outer = place.within
    inside = outer is not None and outer.what is What.CHAIN and place.what not in _GO and not place.below
    if inside and place.which is not Which.SAME and worker.base.find(lambda c: c.sort == CHAIN, 0) is None:
        return Place(What.BEGINNING_CHAIN, nth=place.nth)
    return place


def _is_closing_stitch(worker: Worker, place: Place) -> bool:
    """ "Sc around post of hdc": the stitch that closed the last round, in whose loop the work stands."""
    post = place.loops in (Loops.FRONT_POST, Loops.BACK_POST) and place.which is Which.NEXT and place.number == 1
    return post and bool(worker.closing) and place.of == worker.closing and worker.last is None and not worker.flat


def _is_ring(place: Place) -> bool:
    """ "6 sc into loop", where the work begins with a ring: the loop is the ring."""
    one = place.what is What.SPACE and place.which in (Which.NEXT, Which.SAME) and place.number == 1
    return one and place.chains is None and place.within is None


def _is_plain_in_words(worker: Worker, place: Place) -> bool:
    """Whether the place is known, whatever its words say besides."""
    if place.what is What.CHAIN and names_bottom(place.words):
        return worker.base.find(lambda c: c.sort == CHAIN, 0) is not None
    if place.words == "free" or place.what is What.PIECE or _is_own(worker, place):
        return True
    return worker.described and _is_right_here(worker, place)


def _is_own(worker: Worker, place: Place) -> bool:
    """Whether the words tell the piece in work from another one, to which the row is joined on its way."""
    return bool(worker.others) and place.words not in worker.others


def _is_right_here(worker: Worker, place: Place) -> bool:
    """Whether the very next stitch is of the kind that the place names."""
    plain = place.what is What.STITCH and place.which is Which.NEXT and place.nth is None and place.below == 0
    return plain and worker.base.find(worker.test(place), worker.position) == worker.position


def _marker(worker: Worker, place: Place, span: Span) -> int:
    into_marked(worker, place, span)
    return into_stitches(worker, Place(), span)


def _into_row_ends(worker: Worker, place: Place, span: Span) -> int:
    """Ends of rows along this side; those of one kind each, of as many kinds as the row tells."""
    if place.which is not Which.EACH or place.of is None or place.every != 1:
        return into_stitches(worker, place, span)
    many = worker.base.count(worker.test(place))
    worker.ends_met += many
    if not many:
        raise Unknown(span, why=OTHER_EDGE)
    if worker.ends_met >= worker.base.length:
        worker.position, worker.last = worker.base.length, worker.base.length - 1
    return many


def _elsewhere(worker: Worker, place: Place, span: Span) -> int:
    if worker.sides is not None and place.what is What.ROW_END:
        return _into_row_ends(worker, place, span)
    if place.which is Which.NEXT and place.number != 1 and goes_beyond(worker):
        return into_anywhere(worker, place, span)
    raise Unknown(span, why=OTHER_EDGE)


_GO: dict[What, Callable[[Worker, Place, Span], int]] = {
    What.RING: into_ring,
    What.CHAIN: into_chain,
    What.GAP: into_gap,
    What.BEGINNING_CHAIN: into_beginning_chain,
    What.MARKER: _marker,
    What.ROW_END: _elsewhere,
    What.PIECE: _elsewhere,
}
