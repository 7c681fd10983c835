"""The items of a list of materials: one line may hold several, and each tells by its words what it is."""

from __future__ import annotations

import re
from functools import cache
from itertools import pairwise

from convert.source import Passage
from convert.trade.patterns import either
from convert.trade.tables import table

MM = re.compile(r"(?<![\d.,])(\d{1,2}(?:[.,]\d{1,2})?)\s?mm\b", re.IGNORECASE)
"""A size in millimetres."""
US_SIZE = re.compile(r"\b(?:US\s)?(?:size\s)?\(?\b([A-Z](?:[-/ ]?\d{1,2}(?:\.5|½|\s1/2)?)?)(?![\w/])\)?")
"""A hook by its letter."""


def parted(passage: Passage) -> list[Passage]:
    """The items of one line: parted by semicolons, and by commas in front of what goes with a hook."""
    edges = [-1, *(match.start() for match in re.finditer(";", passage.text)), len(passage.text)]
    cut = [part for start, end in pairwise(edges) for part in _hook_apart(passage.cut(start + 1, end))]
    return [part for part in cut if any(char.isalnum() for char in part.text)]


def _hook_apart(part: Passage) -> list[Passage]:
    """ "2 balls of DK cotton, 4.5 mm hook, tapestry needle": what stands beside a hook are items of their own.

    A piece that tells nothing of its kind ("200 m each", "or size needed") belongs to what stands in front of it.
    """
    if not _HOOK.search(part.text):
        return [part]
    edges = [0, *(match.end() for match in re.finditer(r",\s(?![^()]*\))", part.text)), len(part.text)]
    cuts, current = [0], ""
    for start, end in pairwise(edges):
        kind = _told_kind(part.text[start:end])
        if start and kind and current and (kind != current or kind == "notion"):
            cuts.append(start)
        current = kind or current
    items = [part.text[start:end].rstrip(", ") for start, end in pairwise([*cuts, len(part.text)])]
    return [part.cut(start, start + len(item)) for start, item in zip(cuts, items, strict=True)]


def _told_kind(text: str) -> str:
    """What a piece of a line says that it is; empty if it does not."""
    if _HOOK.search(text):
        return "hook"
    return "notion" if _is_notion(text) else "yarn" if _has(text, "yarn") else ""


_HOOK = re.compile(r"\bhooks?\b|\bcrochet needle\b", re.IGNORECASE)


def _is_notion(text: str) -> bool:
    return _has(text, "notions") and not (_HOOK.search(text) or MM.search(without_notions(text)))


def without_notions(text: str) -> str:
    """A text without what has a size of its own, which is none of a hook.

    >>> (
    ...     without_notions("3 mm hook, eyes 8 mm"),
    ...     without_notions("6 mm safety eyes"),
    ...     without_notions("4 mm for the eyes"),
    ... )
    ('3 mm hook,  ', ' ', '4 mm for the eyes')
    """
    return _sized_notion().sub(" ", text)


@cache
def _sized_notion() -> re.Pattern[str]:
    """ "Eyes 6 mm", "beads (4 mm)", "8 mm black safety eyes"."""
    things = rf"\b{either(table('materials')['sized'])}\b"
    besides = either(table("materials")["size_for"])
    words = rf"(?:[\s,-]{{1,2}}(?!{besides}\b)[^\W\d_]+){{0,3}}?"
    return re.compile(rf"{things}[\s:,(–-]{{0,3}}{MM.pattern}|{MM.pattern}{words}[\s-]{things}", re.IGNORECASE)


def says_either(text: str) -> bool:
    """Whether an item only tells that the one below may take the place of the one above: "or"."""
    return text.casefold().strip(" .,:;-–—()") in table("materials")["either"]


def kind_of_item(text: str, section: str) -> str:
    """What an item is: "hook", "yarn" or "notion". `section` is the id of the section that it stands in."""
    said = f" {text.casefold()} "
    if _HOOK.search(said) or (
        section == "hook" and (MM.search(without_notions(text)) or US_SIZE.search(without_notions(text)))
    ):
        return "hook"
    if _has(said, "notions"):
        return "notion"
    return "yarn" if _has(said, "yarn") or (section == "yarn") else "notion"


def _has(said: str, kind: str) -> bool:
    return bool(_words(kind).search(said))


@cache
def _words(kind: str) -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(map(re.escape, map(str, table('materials')[kind])))})\b", re.IGNORECASE)
