"""Stitches that go through more than the last row: pieces pressed flat and closed through both layers, pieces crocheted
in with the row. Common practice of toy makers, no source.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from msgspec.structs import replace

from convert.document.steps import Decrease, Group, Place, Slip, Step, Verbatim, What, Which, Work
from convert.fabric.faults import OTHER_EDGE, Unknown
from convert.fabric.rows.readings import flat_steps
from convert.fabric.steps.worker import Worker
from convert.source import Span
from convert.trade.patterns import said, signs

ODD = "an odd number of stitches, folded in two"


@cache
def _both() -> re.Pattern[str]:
    return re.compile(rf"{said('layers')}\b", re.IGNORECASE)


@cache
def _joint() -> re.Pattern[str]:
    return re.compile(rf"(?:{signs('through')}|{said('together')}\s{said('with')})\s", re.IGNORECASE)


@cache
def _of_limb() -> re.Pattern[str]:
    return re.compile(rf"{said('of')}\s(?:[^\s]+\s){{0,4}}{signs('limbs')}\b", re.IGNORECASE)


def goes_through(place: Place) -> bool:
    """Whether the words beside a place say that the hook goes through another piece, or another layer, as well."""
    plain = place.what is What.STITCH and bool(place.words)
    return plain and bool(_both().match(place.words) or _joint().match(place.words))


def into_layers(worker: Worker, place: Place, span: Span) -> int | None:
    """Goes through the last row and what lies behind it; None (and nothing done) where that takes one stitch for each.

    A row that only closes the work pressed flat takes two stitches of a round for each of its own. A piece of rows lies
    against another edge, as wide as its own. Among other stitches a piece is crocheted in, one for each.
    """
    if worker.untold or not (worker.folds and _both().match(place.words)):
        return None
    left = worker.remaining()
    every = place.which is Which.EACH
    if every and worker.closes_to == left:
        return None  # the count says that another piece lies behind, as large as this one
    if worker.flat and not _is_folded(worker, place, span):
        if every or place.number == left:
            return None
        raise Unknown(span, why=OTHER_EDGE)
    if every and left % 2:
        raise Unknown(span, why=ODD)
    many = left // 2 if every else worker.number(place.number, span)
    worker.runs_of(replace(place, words="", which=Which.NEXT), 2 * many, span)
    if worker.remaining() == 1:
        worker.position = worker.base.length  # the stitch at the fold
    return many


def _is_folded(worker: Worker, place: Place, span: Span) -> bool:
    """Whether a row of a flat piece is folded in two: its count, or what it says of itself, is half of the row."""
    many = worker.closes_to if place.which is Which.EACH else worker.number(place.number, span)
    return bool(many) and 2 * many == worker.remaining()


def only_closes(steps: Iterable[Step]) -> bool:
    """Whether the row is one clause through both layers, and nothing else is worked in it."""
    worked = [step for step in flat_steps(tuple(steps)) if isinstance(step, Work | Group | Decrease | Slip)]
    place = worked[0].place if len(worked) == 1 and isinstance(worked[0], Work | Slip) else None
    return place is not None and goes_through(place)


def lies_on_another(steps: Iterable[Step]) -> bool:
    """Whether the row joins pieces that lie on one another: "with wrong sides together", "through back loops of both
    squares". How much of their edges it takes, it tells alone.
    """
    told = (step.words for step in flat_steps(tuple(steps)) if isinstance(step, Verbatim) and step.inert)
    return any(isinstance(words[0], str) and _laid().search(words[0]) is not None for words in told if words)


def slips_together(steps: tuple[Step, ...]) -> bool:
    """Whether slip stitches alone join such pieces: they lead nowhere."""
    return lies_on_another(steps) and any(isinstance(step, Slip) for step in flat_steps(steps))


@cache
def _laid() -> re.Pattern[str]:
    both = rf"{said('both')}\s{said('piece')}"
    return re.compile(rf"\b(?:{signs('laid_together')}|{said('layers')}|{both})\b", re.IGNORECASE)


def names_pieces(steps: Iterable[Step]) -> bool:
    """Whether a step goes into stitches of another piece of the work: "sc in next 12 sts of the first leg"."""
    places = (getattr(step, "place", None) for step in flat_steps(tuple(steps)))
    return any(place is not None and _of_limb().match(place.words) for place in places if place and place.words)
