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
    needs = [[size.yarn[at] for size in measured.sizes] for at in range(len(document.materials.yarns))]
    found = [_estimated(yarn, needed) for yarn, needed in zip(document.materials.yarns, needs, strict=True)]
    told = [_basis(needed[0]) if done else "" for (_, done), needed in zip(found, needs, strict=True)]
    yarns = tuple(
        _with_note(yarn, basis, told) if basis and basis not in told[at + 1 :] else yarn
        for at, ((yarn, _), basis) in enumerate(zip(found, told, strict=True))
    )
    return replace(document, materials=replace(document.materials, yarns=yarns))


def _estimated(yarn: Yarn, needs: list[Need]) -> tuple[Yarn, bool]:
    """The yarn with an amount, and whether that is one of ours."""
    if yarn.amount != Amount() or not all(need.rests_on and need.units for need in needs):
        return yarn, False
    balls = tuple(Decimal(need.balls) for need in needs if need.balls is not None)
    metres = tuple(_upper(need.metres, need.margin) for need in needs if need.metres is not None)
    grams = tuple(_upper(need.grams, need.margin) for need in needs if need.grams is not None and not metres)
    return replace(yarn, amount=Amount(balls=balls, metres=metres, grams=grams)), True


def _upper(value: float, margin: float) -> Decimal:
    most = Decimal(str(round(value * (1 + margin), 6)))
    step = 10 if most >= _COARSE else 1
    return (most / step).to_integral_value(ROUND_CEILING) * step


def _basis(need: Need) -> str:
    """What the amount rests on."""
    return phrase(f"yarn-by-{need.rests_on}", TermSystem.US, share=f"{need.margin:.0%}")


def _with_note(yarn: Yarn, basis: str, told: list[str]) -> Yarn:
    """The yarn with what its amount rests on, and those of the yarns before it that rest on the same."""
    one = "yarn-amount" if told.count(basis) == 1 else "yarn-amounts"
    return replace(yarn, note=_note(phrase(one, TermSystem.US, basis=basis), yarn.note))


def _note(said: str, note: Prose) -> Prose:
    """What the amount rests on, behind what the author says of the yarn."""
    told = read_prose(f" {said}" if note else said, TermSystem.US)
    if note and told and isinstance(note[-1], str) and isinstance(told[0], str):
        return (*note[:-1], note[-1] + told[0], *told[1:])
    return (*note, *told)
