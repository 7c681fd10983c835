"""The document with what its rows leave open said as it was worked.

A repeat "6 times" that comes out only with six workings in all must not be printed as six more: what readers follow is
what was proved.
"""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from convert.document.records import Document, Remark, Row
from convert.fabric.parts.held import says_times
from convert.fabric.proving import SizeRun
from convert.fabric.rows.readings import otherwise
from convert.fabric.rows.row_parts import body_start
from convert.fabric.rows.same_next import in_next


def as_worked(document: Document, runs: Sequence[SizeRun]) -> Document:
    """The same document where no row was read otherwise than it literally says, or not so in every size."""
    readings: dict[int, set[bool]] = {}
    told: set[bool] = set()
    onward: dict[int, set[bool]] = {}
    for run in runs:
        for worked in run.rows:
            for row, outcome in worked.each or ((worked.row, worked.outcome),):
                if outcome is None:
                    continue
                readings.setdefault(id(row), set()).add(outcome.reading.fewer)
                onward.setdefault(id(row), set()).add(outcome.reading.onward)
                if outcome.made is not None and says_times(row.steps):
                    told.add(outcome.reading.fewer)
    found = {row for row, taken in readings.items() if taken == {True}}
    if told == {True}:  # what no row could show is meant as in all rows that show it
        found |= {id(row) for part in document.parts for row in part.rows if says_times(row.steps)}
    nexts = {row for row, taken in onward.items() if taken == {True}}
    if not found and not nexts:
        return document
    parts = tuple(
        replace(part, items=tuple(_said(item, found, nexts) for item in part.items)) for part in document.parts
    )
    return replace(document, parts=parts)


def _said(item: Row | Remark, found: set[int], nexts: set[int]) -> Row | Remark:
    if not isinstance(item, Row) or id(item) not in found | nexts:
        return item
    at = body_start(item.steps)
    body = in_next(item.steps[at:]) if id(item) in nexts else item.steps[at:]
    body = otherwise(body) if id(item) in found else body
    return replace(item, steps=(*item.steps[:at], *body))
