"""Rows of stitches that are told motion by motion and counted by a name: "chain 3, draw a loop through ..., work off
all together; repeat until you have made 8 tufts". What the motions come to is that stitch, and their number is told.
"""

from __future__ import annotations

import re
from functools import cache

from msgspec.structs import replace

from convert.document.records import Special
from convert.document.steps import Again, Chain, Extent, Place, Repeat, Step, Verbatim, What, Work
from convert.instructions.stitches.motion_runs import MOTIONS
from convert.instructions.words.cursor import Cursor
from convert.trade.patterns import said, signs


def with_spelled(steps: tuple[Step, ...], cur: Cursor) -> tuple[Step, ...]:
    """The steps, with the named stitch in place of the motions in front of "until you have made 8 tufts"; the motions
    are kept as its explanation.
    """
    at = next((i for i, step in enumerate(steps) if isinstance(step, Repeat) and _until(step)), None)
    repeat = steps[at] if at is not None else None
    if at is None or not isinstance(repeat, Repeat):
        return steps
    own = next((s for s in cur.defined if _until(repeat) in (s.id, s.plural) and not s.steps and not s.words), None)
    told = (*steps[:at], *repeat.steps)
    words = _explanation(cur, own) if own is not None and all(map(_spells, told)) else ""
    if own is None or not words:
        return steps
    cur.defined = [replace(s, words=(words,)) if s is own else s for s in cur.defined]
    cur.verbatim -= sum(isinstance(step, Verbatim) and not step.inert for step in told)
    place = Place(What.RING if "ring" in cur.holds else What.STITCH)
    made = replace(repeat, steps=(Work(own.id, 1, place, span=repeat.span),))
    return (made, *steps[at + 1 :])


def _spells(step: Step) -> bool:
    """Whether the step may be a part of how the stitch is made: words, chains, "work off as before"."""
    return isinstance(step, Verbatim | Chain) or (isinstance(step, Again) and not step.first and not step.even)


def _until(step: Repeat) -> str:
    """What the repeat goes on until so many are made of; empty where it goes otherwise."""
    place = step.place if step.extent is Extent.TO_PLACE else None
    match = _counted().match(place.words) if place is not None and place.what is What.PIECE else None
    return match[1].lower() if match is not None else ""


@cache
def _counted() -> re.Pattern[str]:
    lead = rf"{signs('until')}\s(?:{signs('until_there_are')}\s)?"
    return re.compile(rf"{lead}\d+\s\{{?([\w-]+)", re.IGNORECASE)


def _explanation(cur: Cursor, own: Special) -> str:
    """The row's words up to "repeat until", if motions of the hook stand among them."""
    counted = (i for i in range(1, len(cur.words)) if cur.words[i].id == own.id and cur.words[i - 1].kind == "num")
    named = next(counted, 0)
    again = next((i for i in range(named - 1, 0, -1) if cur.words[i].id == "repeat"), 0)
    if not again or not any(word.kind == "word" and word.id in MOTIONS for word in cur.words[:again]):
        return ""
    told = " ".join(cur.text(0, again).replace("*", " ").split())
    return re.sub(rf"(?:[\s,;]|\b{said('and', 'then')}$)+$", "", told)
