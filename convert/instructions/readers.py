"""The readers of clauses, and which of them are asked at a position. A new notation is a reader more in `READERS`."""

from __future__ import annotations

from functools import cache

from convert.document.steps import (
    Step,
)
from convert.instructions.chains.chain import (
    read_chain,
    read_commence,
    read_edge,
    read_foundation_stitches,
    read_ring,
    read_standing,
)
from convert.instructions.chains.from_chain import read_from_chain
from convert.instructions.chains.open_chain import read_open_chain
from convert.instructions.incidental import read_rotate
from convert.instructions.moves import (
    read_colour,
    read_do_not,
    read_fasten_off,
    read_join,
    read_marker,
    read_skip,
    read_slip,
    read_turn,
    read_yarn_left,
)
from convert.instructions.places.edges import read_along, read_edging
from convert.instructions.places.in_front import read_in_front
from convert.instructions.places.loops import read_working_in
from convert.instructions.places.loops_across import read_loops_across
from convert.instructions.places.loops_of_round import read_loops_of_round
from convert.instructions.places.on_pieces import read_from_piece, read_joined_with
from convert.instructions.places.other_side import read_other_side
from convert.instructions.rows.again import read_again, read_elsewhere
from convert.instructions.rows.as_part import read_as_part
from convert.instructions.rows.even import read_even
from convert.instructions.rows.growing import read_growing
from convert.instructions.rows.one_at_a_time import read_one_at_a_time
from convert.instructions.rows.stripes import read_stripes
from convert.instructions.shaping.meshes import read_meshes_more
from convert.instructions.shaping.shaped_ends import read_shaped_ends
from convert.instructions.shaping.shaping_words import read_shaping_in_words
from convert.instructions.shaping.spread import read_spread
from convert.instructions.shaping.spread_over import read_spread_over
from convert.instructions.stitches.charted import read_charted
from convert.instructions.stitches.drawn_through import read_drawn_through
from convert.instructions.stitches.groups import (
    GROUP_READERS,
    Reader,
    first_that_reads,
    read_open_group,
    read_place_first,
)
from convert.instructions.stitches.handwork import read_handwork
from convert.instructions.stitches.hook_told import read_wrapped_work
from convert.instructions.stitches.motions import read_motions
from convert.instructions.stitches.names import read_renaming, read_same_manner
from convert.instructions.stitches.old_singles import read_old_single
from convert.instructions.stitches.plain import read_plain
from convert.instructions.stitches.stitch_named import read_stitch_change
from convert.instructions.stitches.work import read_held_back, read_work
from convert.instructions.words.asides import read_aside
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.yarns import read_facing, read_tool
from convert.trade.stitches import stitches


def read_first(cur: Cursor, grouped: bool) -> list[Step] | None:
    """What the reader of the clause at the position makes of it; inside a group, only what can stand there."""
    if grouped:
        return first_that_reads(cur, GROUP_READERS)
    first = cur.peek()
    if first.kind not in ("num", "stitch", "tog"):
        return first_that_reads(cur, READERS)
    stitch = cur.peek(1) if first.kind == "num" else first
    return first_that_reads(cur, _STITCHED if stitch.kind == "stitch" and stitch.id in _worked() else _COUNTED)


@cache
def _worked() -> frozenset[str]:
    """The stitches that no foundation is made of."""
    return frozenset(id for id, stitch in stitches().items() if id != "ch" and not stitch.foundation)


READERS: tuple[Reader, ...] = (
    read_from_chain,
    read_handwork,
    read_other_side,
    read_turn,
    read_rotate,
    read_renaming,
    read_same_manner,
    read_drawn_through,
    read_wrapped_work,
    read_motions,
    read_do_not,
    read_foundation_stitches,
    read_open_chain,
    read_chain,
    read_commence,
    read_even,
    read_stripes,
    read_one_at_a_time,
    read_growing,
    read_spread,
    read_spread_over,
    read_meshes_more,
    read_shaped_ends,
    read_loops_of_round,
    read_stitch_change,
    read_in_front,
    read_working_in,
    read_place_first,
    read_open_group,
    read_ring,
    read_skip,
    read_as_part,
    read_again,
    read_standing,
    read_joined_with,
    read_from_piece,
    read_edge,
    read_join,
    read_fasten_off,
    read_yarn_left,
    read_facing,
    read_tool,
    read_colour,
    read_marker,
    read_held_back,
    read_loops_across,
    read_along,
    read_edging,
    read_old_single,
    read_slip,
    read_charted,
    read_work,
    read_plain,
    read_shaping_in_words,
    read_elsewhere,
    read_aside,
)
"""The readers of clauses, in the order in which they are tried."""

_WORDED = frozenset(
    {
        read_handwork,
        read_turn,
        read_from_chain,
        read_rotate,
        read_drawn_through,
        read_wrapped_work,
        read_motions,
        read_do_not,
        read_commence,
        read_other_side,
        read_even,
        read_stripes,
        read_one_at_a_time,
        read_growing,
        read_spread,
        read_loops_of_round,
        read_stitch_change,
        read_in_front,
        read_working_in,
        read_place_first,
        read_ring,
        read_skip,
        read_as_part,
        read_again,
        read_standing,
        read_joined_with,
        read_from_piece,
        read_edge,
        read_join,
        read_fasten_off,
        read_yarn_left,
        read_colour,
        read_facing,
        read_tool,
        read_marker,
        read_held_back,
        read_along,
        read_slip,
    }
)
"""Readers of clauses that begin with a word, so that they are not asked about a number or a stitch."""
_COUNTED: tuple[Reader, ...] = tuple(reader for reader in READERS if reader not in _WORDED)
_CHAINED = frozenset({read_chain, read_open_chain, read_foundation_stitches})
_STITCHED: tuple[Reader, ...] = tuple(reader for reader in _COUNTED if reader not in _CHAINED)
