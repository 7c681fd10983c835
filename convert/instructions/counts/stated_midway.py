"""Counts in the middle of a row, where one of the same kind stands at its end: "... across (32 sc). Work along the
other side, ... (64 sc)". The first says how far the row has come, and is no count of the row.
"""

from __future__ import annotations

from collections.abc import Sequence

from convert.document.records import CountItem
from convert.document.steps import Repeat, Step, Verbatim, Work
from convert.instructions.words.cursor import Cursor
from convert.source import Span
from convert.terms.prose import read_prose


def with_midway(steps: tuple[Step, ...], stated: Sequence[CountItem], cur: Cursor) -> tuple[Step, ...]:
    """The steps with such counts as words where they stand; they are taken out of what the row is said to make."""
    early = [item for item in stated if _is_midway(item, steps, stated)]
    last = [item for item in stated if all(item is not other for other in early)]  # equal ones differ by their place
    if early and len(last) == 1 and _goes_on_behind(last[0], steps, early[-1]):
        early += last  # "sc down the side (20), 3 sc in corner, sc along the top (12), 3 sc in corner"
    for item in early:
        cur.stated[:] = [other for other in cur.stated if other is not item]
        told = Verbatim(read_prose(f"({_text(item, cur)})", cur.context.system, cur.context.specials), True, item.span)
        at = next((index for index, step in enumerate(steps) if step.span > item.span), len(steps))
        steps = (*steps[:at], told, *steps[at:])
    return steps


def _is_midway(item: CountItem, steps: tuple[Step, ...], stated: Sequence[CountItem]) -> bool:
    """Whether work stands in front of a count and behind it, and another count of what it counts behind that."""
    later = [other for other in stated if other.span > item.span and (other.kind, other.of) == (item.kind, item.of)]
    works = [step.span for step in steps if isinstance(step, Work | Repeat)]
    before, behind = any(span < item.span for span in works), [span for span in works if span > item.span]
    return before and any(span < other.span for other in later for span in behind)


def _goes_on_behind(item: CountItem, steps: tuple[Step, ...], other: CountItem) -> bool:
    """Whether more work stands behind the last of several counts of one kind: it is of a part of the row like them."""
    alike = (item.kind, item.of) == (other.kind, other.of)
    return alike and any(step.span > item.span for step in steps if isinstance(step, Work | Repeat))


def _text(item: CountItem, cur: Cursor) -> str:
    words = [word for word in cur.words if _inside(cur.passage.span(word.start, word.end), item.span)]
    return " ".join(cur.passage.text[words[0].start : words[-1].end].split()) if words else str(item.number)


def _inside(inner: Span, outer: Span) -> bool:
    begins = (outer.line, outer.column) <= (inner.line, inner.column)
    return begins and (inner.end_line, inner.end_column) <= (outer.end_line, outer.end_column)
