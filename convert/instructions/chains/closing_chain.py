"""Reads the chain that a round ends with where the join tells of it: "..., join last 2 chain to the first treble"."""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.steps import Chain, Group, Join, Step, Verbatim, Work
from convert.instructions.words.cursor import Cursor
from convert.instructions.words.items import Ends, Item, RepeatFrom


def with_last_chain(cur: Cursor, items: Sequence[Item], steps: list[Step], start: int) -> list[Step]:
    """The join with the chain in front of it that is joined, unless the work told before ends with that chain."""
    if len(steps) != 1 or not isinstance(steps[0], Join):
        return steps
    said = cur.words[start : cur.at]
    named = zip(said, said[1:], said[2:], strict=False)
    number = next((n.value for last, n, ch in named if (last.id, n.kind, ch.id) == ("last", "num", "ch")), 0)
    quiet = (Ends, RepeatFrom)
    before = next((i for i in reversed(items) if not isinstance(i, quiet) and not _is_inert(i)), None)
    return [Chain(number, span=steps[0].span), *steps] if number and isinstance(before, Work | Group) else steps


def _is_inert(item: Item) -> bool:
    return isinstance(item, Verbatim) and item.inert
