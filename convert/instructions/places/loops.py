"""Reads which loops a clause or a whole row is worked in, where that is said in front of it or behind it."""

from __future__ import annotations

from msgspec.structs import replace

from convert.document.steps import Loops, Slip, Step, Verbatim, Work
from convert.instructions.places.laid import takes_both
from convert.instructions.places.on_pieces import through
from convert.instructions.places.place_chains import read_loops
from convert.instructions.stitches.work import read_work
from convert.instructions.words.cursor import Cursor
from convert.source import Span


def read_working_in(cur: Cursor) -> list[Step] | None:
    """ "in BLO, sc in each st around", "(BLO) sc around": the loops hold for the clause behind the comma."""
    start = cur.at
    if "layers" in cur.holds and cur.take_words("layers"):
        return _through_layers(cur, start)
    bracketed = cur.take_mark("(", "[")
    whole_row = cur.take_words("work", "throughout") > 0
    taken = cur.take_words("take-up") > 0
    ahead = cur.is_word("back-loop", "front-loop", "third-loop") and not whole_row  # "BLO sc around"
    if not (cur.take_words("in") or taken or ahead):
        cur.at = start
        return None
    cur.take_words("the")
    loops = read_loops(cur)
    cur.take_words("of", "the", "each", "stitch", "only", "throughout")
    both = loops is not None and whole_row and takes_both(cur)
    if bracketed and not cur.take_mark(")", "]"):
        cur.at = start
        return None
    behind_work = taken and start > 0 and cur.words[start - 1].id == ","
    if behind_work and cur.take_words("in", "of"):
        cur.take_words("the", "last", "previous", "row", "round")
    if behind_work and loops is not None and cur.is_mark(","):
        return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]  # how the stitch in front of it was made
    all_along = whole_row and cur.take_words("across", "around") > 0
    ends = cur.done or cur.is_mark(".", ";", ")") or cur.is_word("to") or (all_along and cur.is_mark(",", ":"))
    if loops is not None and (whole_row or taken) and ends:
        return [Verbatim((cur.text(start, cur.at),), True, cur.span(start))]
    if loops is None or not _may_follow(cur):
        cur.at = start
        return None
    behind = cur.at
    steps = None if both else read_work(cur)
    if steps is None and (whole_row or taken or cur.is_mark("(", "[", "{", "*")):
        cur.at = behind  # the loops hold for the whole row; they change no count
        return [Verbatim((cur.text(start, behind).rstrip(" ,:"),), True, cur.span(start, behind))]
    if steps is None:
        cur.at = start
        return None
    said = cur.span(start, behind)
    return [_in_loops(step, loops, said.to(step.span) if step is steps[0] else step.span) for step in steps]


def _in_loops(step: Step, loops: Loops, span: Span) -> Step:
    if not isinstance(step, Work | Slip) or step.place is None:
        return step
    return replace(step, place=replace(step.place, loops=loops), span=span)


def _through_layers(cur: Cursor, start: int) -> list[Step] | None:
    """ "Working through both layers, sc 15 across": one stitch through each two that lie on one another."""
    said = cur.text(start, cur.at)
    cur.take_words("at-once", "together")
    steps = read_work(cur) if cur.take_mark(",", ":") or cur.peek().kind in ("num", "stitch") else None
    if steps is None:
        cur.at = start
        return None
    return through(steps, said, cur.span(start))


def _may_follow(cur: Cursor) -> bool:
    """Whether a clause may begin here, behind "working in back loop only"."""
    if cur.is_mark("-") and cur.peek(1).kind == "stitch":
        cur.at += 1  # "blo-sc"
    follows = bool(cur.take_mark(",", ":")) or cur.is_word("work", "skip") or cur.peek().kind in ("num", "stitch")
    return follows or cur.is_mark("(", "[", "{", "*")
