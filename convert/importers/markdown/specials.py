"""The author's own stitches, as list items of a Markdown text: "- **shell (sh; plural shells):** 5 dc in next st"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from convert.document.located import Located
from convert.importers.markdown.blocks import Block
from convert.importers.markdown.sections import Chapter
from convert.importers.markdown.text import plain_words
from convert.importers.typed.signs import speaks_of_stitches
from convert.importers.typed.stitches import equates
from convert.source import Passage

_HEAD = re.compile(
    r"(?P<name>[^():;=]{1,80}?)\s*(?:\((?P<short>[^();:]{1,40})(?:;\s*plural\s+(?P<plural>[^();:]{1,80}))?\))?\s*[:=]\s*(?P<make>.*)\Z",
    re.DOTALL,
)


def with_definitions_apart(found: Sequence[Chapter]) -> list[Chapter]:
    """The chapters, with what a paragraph of an introduction or a note defines ("**Fan** = 7 dc in same st") among the
    special stitches.
    """
    texts = [chapter for chapter in found if chapter.id in ("summary", "notes")]
    defined = [block for chapter in texts for block in chapter.blocks if _defines(block)]
    if not defined:
        return list(found)
    kept = [
        Chapter(chapter.id, chapter.heading, [block for block in chapter.blocks if block not in defined])
        if chapter in texts
        else chapter
        for chapter in found
    ]
    return [chapter for chapter in kept if chapter.blocks or chapter not in texts] + [
        Chapter("special-stitches", defined[0].raw()[0].cut(0, 0), defined)
    ]


def _defines(block: Block) -> bool:
    texts = [plain_words(raw).text for raw in block.raw()]
    return len(texts) == 1 and equates(texts[0]) and speaks_of_stitches(texts[0]) and _HEAD.match(texts[0]) is not None


def specials_of(found: Sequence[Chapter]) -> tuple[tuple[Located, ...], tuple[Passage, ...]]:
    """Every definition under these headings, in the shape that the data have, and the texts that define nothing.

    What stands behind a stitch's name is its `definition`: instructions if they can be read, otherwise an explanation.
    """
    entries = [entry for chapter in found for entry in _entries(chapter)]
    defined = tuple(entry for entry in entries if isinstance(entry, Located))
    return defined, tuple(entry for entry in entries if isinstance(entry, Passage))


def _entries(chapter: Chapter) -> Iterator[Located | Passage]:
    for block in chapter.blocks:
        first, *rest = block.raw()
        line = plain_words(first)
        head = _HEAD.match(line.text)
        if head is None:
            yield from (plain_words(raw, prose=True) for raw in block.raw())
            continue
        fields = {"name": "name", "short": "abbreviation", "plural": "plural", "make": "definition"}
        entry = {
            key: _located(line.cut(head.start(group), head.end(group)))
            for group, key in fields.items()
            if head[group] and head[group].strip()
        }
        said = [plain_words(raw, prose=True) for raw in rest]
        if said:
            entry["words"] = Located(" ".join(p.text for p in said), said[0].whole)
        yield Located(entry, line.whole)


def _located(passage: Passage) -> Located:
    return Located(passage.text, passage.whole, passage=passage)
