"""Tells a stitch by how often the yarn goes round the hook before it goes in: "1 tall treble (wool over 4 times)".

Two loops are drawn off at a time, so that each wrap makes the stitch one chain higher. Common practice, no source.
"""

from __future__ import annotations

import re
from functools import cache

from convert.document.records import Special
from convert.document.slugs import slug
from convert.document.steps import Work
from convert.instructions.words.cursor import Context
from convert.source import Passage
from convert.trade.patterns import listed, number_words, said
from convert.trade.stitches import of_height
from convert.trade.words import words

_WITHOUT = 2
"""Height in chains beyond the wraps of a stitch that has any."""


def wraps_told(text: str) -> int:
    """How often words tell the yarn to go round the hook, if they say nothing else; else 0.

    >>> wraps_told("throw the cotton twice round the hook"), wraps_told("over 3 times"), wraps_told("3 times")
    (2, 3, 0)
    """
    said_words = text.lower().split()
    if listed("wrapping").isdisjoint(said_words):
        return 0
    counted = [word for word in said_words if word not in _around()]
    times = next((int(form) for form in _TIMES if counted and counted[0] in words()[_TIMES[form]].forms), 0)
    if not counted:
        return 0
    if times:
        return times if len(counted) == 1 else 0
    if len(counted) == 2 and counted[1] in words()["times"].forms:
        return int(counted[0]) if counted[0].isdigit() else number_words().get(counted[0], 0)
    return 0


_TIMES = {"2": "twice", "3": "thrice"}


@cache
def _around() -> frozenset[str]:
    """The words of such a telling that are no number."""
    return listed("wrapping") | listed("yarn") | {form for id in ("the", "hook") for form in words()[id].forms}


def by_wraps(body: Passage, context: Context) -> tuple[Special, ...]:
    """The stitches of no settled height that the row explains by their wraps, in a bracket behind their name."""
    if "(" not in body.text:
        return ()
    known = {special.id for special in context.specials}
    found: dict[str, Special] = {}
    for match in _named().finditer(body.text):
        name = " ".join(match["name"].lower().split())
        wraps = wraps_told(match["told"])
        stitch = of_height(wraps + _WITHOUT) if wraps else None
        if stitch is not None and slug(name) not in known:
            span = body.span(match.start("name"), match.end("name"))
            found.setdefault(slug(name), Special(slug(name), name, name, steps=(Work(stitch),), span=span))
    return tuple(found.values())


@cache
def _named() -> re.Pattern[str]:
    return re.compile(rf"\b(?P<name>{said('unsure-stitch')})\s\((?P<told>[^()]{{4,60}})\)", re.IGNORECASE)
