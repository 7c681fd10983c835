"""How messages tell what happened in a row: what the last row left, what a repeat takes and makes."""

from __future__ import annotations

from decimal import Decimal

from convert.checks.check import Facts
from convert.document.records import CountItem, CountKind, Row
from convert.document.steps import Place
from convert.fabric.cells import CHAIN, Strip
from convert.fabric.places.place import describe, describe_strip
from convert.fabric.rows.jobs import Outcome
from convert.source import NOWHERE, Span
from convert.terms.naming import kind_name


def value_at(values: tuple[Decimal, ...], size: int) -> Decimal | None:
    """The value of a size where there is one for all or one for each; None where the size has none."""
    if len(values) == 1:
        return values[0]
    return values[size] if size < len(values) else None


def size_ids(facts: Facts, size: int) -> tuple[str, ...]:
    """The size's id as a finding holds it."""
    id = facts.size_id(size)
    return (id,) if id else ()


def strip_words(facts: Facts, strip: Strip) -> str:
    """What a row has, in the pattern's own terms."""
    return describe_strip(strip, facts.document.written, facts.document.specials)


def place_words(facts: Facts, place: Place) -> str:
    """A place, in the pattern's own terms."""
    return describe(place, facts.document.written, facts.document.specials)


def below(facts: Facts, outcome: Outcome) -> str:
    """ "The row below has 30 sc." """
    base = outcome.base
    if base is None or base.length == 0:
        return ""
    foundation = all(cell.sort == CHAIN for loop in base.loops for cell, _ in loop.runs)
    return f"The {'foundation chain' if foundation else 'row below'} has {strip_words(facts, base)}."


def repeat_story(outcome: Outcome) -> str:
    """How the row's repeats came out."""
    parts = []
    for fact in outcome.repeats[:3]:
        times = "once" if fact.times == 1 else f"{fact.times} times"
        if fact.takes:
            parts.append(f"The repeat takes {fact.takes}, is worked {times} and makes {fact.makes} each time.")
    return " ".join(dict.fromkeys(parts))


def body_span(row: Row) -> Span:
    """The stretch of the instructions, without label and count."""
    spans = [step.span for step in row.steps if step.span != NOWHERE]
    return spans[0].to(max(spans, key=lambda s: (s.end_line, s.end_column))) if spans else row.span


def noun_of(facts: Facts, item: CountItem) -> str:
    """What the figure counts, in words."""
    if item.kind is CountKind.STITCH and item.of is not None:
        return kind_name(item.of, facts.document.written, facts.document.specials)
    if item.kind is CountKind.SPACE:
        return "spaces" if item.chains is None else f"ch-{item.chains} sps"
    return {CountKind.CHAIN: "chains", CountKind.GROUP: "groups"}.get(item.kind, "sts")
