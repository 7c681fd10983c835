"""Reads work without shaping that names no stitch: "12 plain", "plain to last 4 sts"."""

from __future__ import annotations

from convert.document.records import TermSystem
from convert.document.steps import Extent, Place, Repeat, Step, Verbatim, Which, Work
from convert.document.walking import each, unread
from convert.instructions.repeats.repeat import read_how_often
from convert.instructions.shaping.shaping_words import read_in_words
from convert.instructions.stitches.motion_runs import MOTIONS
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.lexicon import lexemes
from convert.trade.stitches import stitches


def read_plain(cur: Cursor) -> list[Step] | None:
    """One stitch in each, of the kind that the row, or the row before it, is worked in. Behind stitches that are told,
    "plain" says no more.
    """
    start = cur.at
    cur.take_words("work")
    number = cur.take_kind("num")
    if not cur.is_listed("plain"):
        cur.at = start
        return None
    cur.at += 1
    span = cur.span(start)
    if not (cur.done or cur.peek().kind == "mark" or cur.is_word("to", "around", "across")):
        cur.at = start
        return None
    if cur.at - start == 1 and start and cur.words[start - 1].kind != "mark":
        return [Verbatim((cur.text(start, cur.at),), True, span)]
    stitch = cur.stitch or cur.context.stitch
    if not stitch:
        cur.at = start
        return read_in_words(cur) if number is None else None
    cur.stitch = stitch
    if number is not None:
        return [Work(stitch, 1, Place(number=number.value), span=span)]
    how = read_how_often(cur, total=True)
    if how is None or how.extent is Extent.END:
        return [Work(stitch, 1, Place(which=Which.EACH), span=span)]
    one = Work(stitch, 1, Place(), span=span)
    return [Repeat((one,), how.extent, how.times, how.place, span=cur.span(start))]


def worked_in(steps: tuple[Step, ...], before: str, system: TermSystem) -> str:
    """The plain stitch that a row ends with, the one of the rows before where it names none; empty where the row tells
    a stitch in motions of the hook that nobody could put together.
    """
    if any(_in_motions(step, system) for step in unread(steps)):
        return ""
    known = stitches()
    named = [known[step.stitch] for step in each(steps, Work) if step.stitch in known]
    plain = [entry.id for entry in named if not (entry.unit or entry.decoration or entry.prevailing)]
    return plain[-1] if plain else before


def _in_motions(step: Verbatim, system: TermSystem) -> bool:
    words = " ".join(part for part in step.words if isinstance(part, str))
    return any(word.kind == "word" and word.id in MOTIONS for word in lexemes(words, system))
