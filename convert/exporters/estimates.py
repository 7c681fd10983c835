"""The yarn that the rows take, put into a pattern that does not say it, for pages that makers buy yarn by."""

from __future__ import annotations

from decimal import ROUND_CEILING, Decimal

from msgspec.structs import replace

from convert.document.materials import Amount, Yarn
from convert.document.prose import Prose
from convert.document.records import Document, TermSystem
from convert.exporters.page.phrases import phrase
from convert.grader.measuring import Measured
from convert.grader.yarn_needs import Need
from convert.terms.prose import read_prose

_COARSE = 100
"""From so many metres or grams on, whole tens are told."""


def with_estimates(document: Document, measured: Measured | None) -> Document:
    """The document with the upper end of what its rows take, for every yarn without an amount, and what that rests on.

    Yarns stay as they are where nothing is known, or where not every row could be executed.
    """
    if measured is None or not measured.sizes:
        return document
    if any(not part.whole or not part.worked for size in measured.sizes for part in size.parts):
        return document
    yarns = tuple(
        _with_estimate(yarn, [size.yarn[at] for size in measured.sizes])
        for at, yarn in enumerate(document.materials.yarns)
    )
    return replace(document, materials=replace(document.materials, yarns=yarns))


def _with_estimate(yarn: Yarn, needs: list[Need]) -> Yarn:
    if yarn.amount != Amount() or not all(need.rests_on and need.units for need in needs):
        return yarn
    balls = tuple(Decimal(need.balls) for need in needs if need.balls is not None)
    metres = tuple(_upper(need.metres, need.margin) for need in needs if need.metres is not None)
    grams = tuple(_upper(need.grams, need.margin) for need in needs if need.grams is not None and not metres)
    amount = Amount(balls=balls, metres=metres, grams=grams)
    return replace(yarn, amount=amount, note=_note(needs[0], yarn.note))


def _upper(value: float, margin: float) -> Decimal:
    most = Decimal(str(round(value * (1 + margin), 6)))
    step = 10 if most >= _COARSE else 1
    return (most / step).to_integral_value(ROUND_CEILING) * step


def _note(need: Need, note: Prose) -> Prose:
    """What the amount rests on, behind what the author says of the yarn."""
    said = phrase(f"yarn-by-{need.rests_on}", TermSystem.US, share=f"{need.margin:.0%}")
    told = read_prose(f" {said}" if note else said, TermSystem.US)
    if note and told and isinstance(note[-1], str) and isinstance(told[0], str):
        return (*note[:-1], note[-1] + told[0], *told[1:])
    return (*note, *told)
