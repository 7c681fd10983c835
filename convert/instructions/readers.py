"""The readers of clauses, and which of them are asked at a position. A new notation is a reader more in `READERS`."""

from __future__ import annotations

from functools import cache

from convert.document.steps import Step
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
from convert.instructions.places.laid import read_laid
from convert.instructions.places.loops import read_working_in
from convert.instructions.places.loops_across import read_loops_across
from convert.instructions.places.loops_of_round import read_loops_of_round
from convert.instructions.places.on_pieces import read_from_piece, read_joined_with, read_laid_on
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
from convert.instructions.stitches.handwork import read_closed, read_handwork
from convert.instructions.stitches.hook_told import read_wrapped_work
from convert.instructions.stitches.motion_runs import MOTIONS
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

NUMBER, STITCH, CHAIN, TOGETHER = "NUMBER", "STITCH", "CHAIN", "TOGETHER"
"""What a clause begins with besides words: a number that no stitch follows, a stitch with or without a number, a chain
or a stitch that a foundation is made of, a decrease such as "dc2tog"."""

READERS: dict[Reader, str] = {
    read_from_chain: "beginning from",
    read_handwork: "",
    read_other_side: "",
    read_turn: "to turn",
    read_rotate: "rotate",
    read_renaming: "each",
    read_same_manner: "each",
    read_drawn_through: "",
    read_wrapped_work: "yarn-over",
    read_motions: " ".join(MOTIONS),
    read_do_not: "do-not-turn",
    read_foundation_stitches: "work the NUMBER CHAIN",
    read_open_chain: "",
    read_chain: "",
    read_commence: "beginning",
    read_even: "work go-on",
    read_stripes: "",
    read_one_at_a_time: "work",
    read_growing: "go-on work manner repeat increasing decreasing",
    read_spread: "work",
    read_spread_over: "",
    read_meshes_more: "STITCH",
    read_shaped_ends: "work go-on increasing decreasing STITCH",
    read_loops_of_round: "work in",
    read_laid: "",
    read_stitch_change: "change",
    read_in_front: "work",
    read_working_in: "layers ( [ work take-up in back-loop front-loop third-loop",
    read_place_first: "work form-ring in",
    read_open_group: "work then STITCH",
    read_ring: "",
    read_skip: "skip leave",
    read_as_part: "work go-on manner as as-first same",
    read_again: "",
    read_standing: "work join attach with the standing",
    read_joined_with: "join attach",
    read_from_piece: "from in",
    read_laid_on: "",
    read_edge: "",
    read_closed: "join",
    read_join: "join",
    read_fasten_off: "",
    read_yarn_left: "cut",
    read_facing: "with",
    read_tool: "with",
    read_colour: "",
    read_marker: "place-marker move-marker remove-marker",
    read_held_back: "holding-back",
    read_loops_across: "work the then NUMBER STITCH",
    read_along: "to work other-side",
    read_edging: "work the row round NUMBER STITCH CHAIN",
    read_old_single: "",
    read_slip: "slip",
    read_charted: "",
    read_work: "",
    read_plain: "",
    read_shaping_in_words: "",
    read_elsewhere: "",
    read_aside: "",
}
"""The readers of clauses in the order in which they are tried, each with what its clauses begin with: words of
`shared/words.yaml` by their ids, marks, and the four above; nothing where a clause may begin with words of any kind.
"""

_WORDED: tuple[Reader, ...] = (
    read_handwork,
    read_other_side,
    read_drawn_through,
    read_laid,
    read_stripes,
    read_ring,
    read_laid_on,
    read_again,
    read_edge,
    read_fasten_off,
    read_colour,
)
"""Readers whose clauses begin with words of any kind, and never with a number or a stitch."""
_CHAINED: tuple[Reader, ...] = (read_chain, read_open_chain)
"""Readers that are asked about stitches only where a foundation may be made of them."""


def read_first(cur: Cursor, grouped: bool) -> list[Step] | None:
    """What the reader of the clause at the position makes of it; inside a group, only what can stand there."""
    if grouped:
        return first_that_reads(cur, GROUP_READERS)
    return first_that_reads(cur, asked(_begins_with(cur)))


def _begins_with(cur: Cursor) -> str:
    """What the clause at the position begins with, as `READERS` tells it; nothing for what stands there nowhere."""
    first = cur.peek()
    if first.kind in ("word", "mark"):
        return first.id if first.id in _beginnings() else ""
    if first.kind == "tog":
        return TOGETHER
    stitch = cur.peek(1) if first.kind == "num" else first
    if stitch.kind == "stitch" and stitch.id in _worked():
        return STITCH
    return NUMBER if first.kind == "num" else CHAIN if first.kind == "stitch" else ""


@cache
def asked(beginning: str) -> tuple[Reader, ...]:
    """The readers that may know a clause which begins so, in order."""
    numbered = beginning in (NUMBER, STITCH, CHAIN, TOGETHER)
    passed = (*_WORDED, *(_CHAINED if beginning == STITCH else ())) if numbered else ()
    return tuple(
        reader
        for reader, words in READERS.items()
        if reader not in passed and (not words or beginning in words.split())
    )


@cache
def _beginnings() -> frozenset[str]:
    """Every word and mark that a reader is asked for."""
    return frozenset(word for words in READERS.values() for word in words.split())


@cache
def _worked() -> frozenset[str]:
    """The stitches that no foundation is made of."""
    return frozenset(id for id, stitch in stitches().items() if id != "ch" and not stitch.foundation)
