"""Takes apart a line that has the yarn cut, and then joined anew for further work: "..., cut yarn. Attach yarn at the
top and ch 6." What is worked then is a line of its own, so that the row is executed whatever becomes of the rest.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from msgspec.structs import replace

from convert.importers.typed.conventions import sentences
from convert.importers.typed.units import Kind, Unit, kind_of
from convert.source import Passage
from convert.trade.patterns import said

_CUT = re.compile(rf"\b{said('fasten-off')}\b", re.IGNORECASE)
_JOINED = re.compile(rf"\b{said('attach')}\b", re.IGNORECASE)


def yarn_apart(unit: Unit, works: Callable[[Passage], bool]) -> list[Unit]:
    """The line, cut in front of each sentence in which yarn is joined once it has been cut. `works` tells whether a
    passage is instructions; what is none stays where it stands.
    """
    text = unit.passage.text
    if unit.kind is Kind.NUMBERED or not (_CUT.search(text) and _JOINED.search(text)):
        return [unit]
    edges, at, cut = [0], 0, False
    for sentence in sentences(unit.passage):
        start = text.index(sentence.text, at)
        at = start + len(sentence.text)
        if cut and _JOINED.search(sentence.text) and works(unit.passage.cut(start)):
            edges.append(start)
            cut = False
        cut = cut or _CUT.search(sentence.text) is not None
    return [_piece(unit, start, end) for start, end in zip(edges, [*edges[1:], len(text)], strict=True)]


def _piece(unit: Unit, start: int, end: int) -> Unit:
    passage = unit.passage.cut(start, end)
    return replace(unit, passage=passage, breaks=(), kind=unit.kind if start == 0 else kind_of(passage.text))
