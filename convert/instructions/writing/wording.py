"""How instructions are worded in an edition: term system, size, and the values of computed numbers."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType

from msgspec import Struct, field

from convert.document.lengths import CENTIMETRES, tidy
from convert.document.records import Document, Special, TermSystem

Values = Mapping[str, tuple[int | None, ...]]
"""The value of each formula (by its text) in every size."""


class Wording(Struct, frozen=True):
    """What a writer of instructions needs to know.

    `size` is the index of the one size whose numbers are written; None writes all sizes as "48 (56, 64)".
    `values` are the values of formulas; a formula without a value is written as `{text}`. `formulas` asks for the
    formula behind its values, so that the text can be read back into the same document.
    """

    system: TermSystem
    specials: tuple[Special, ...] = ()
    size: int | None = None
    size_names: tuple[str, ...] = ()
    size_ids: tuple[str, ...] = ()
    values: Values = field(default_factory=lambda: MappingProxyType({}))
    formulas: bool = False
    targets: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))
    """The lengths of the sizes' targets in words, by name; a target that is not here is written as `{name}`."""


def wording_for(
    document: Document,
    system: TermSystem,
    *,
    size: int | None = None,
    values: Values | None = None,
    formulas: bool = False,
) -> Wording:
    """The wording of one edition of a document."""
    return Wording(
        system,
        document.specials,
        size,
        tuple(s.name for s in document.sizes),
        tuple(s.id for s in document.sizes),
        values or MappingProxyType({}),
        formulas,
        MappingProxyType({}) if formulas else _targets(document, system, size),
    )


def _targets(document: Document, system: TermSystem, size: int | None) -> Mapping[str, str]:
    """Every target that all sizes have, in words: the reader's own unit first."""
    names = dict.fromkeys(m.name for s in document.sizes for m in s.target)
    found: dict[str, str] = {}
    for name in names:
        lengths = [next((m.length for m in s.target if m.name == name), None) for s in document.sizes]
        known = [length.cm for length in lengths if length is not None]
        if len(known) == len(lengths):
            found[name] = _both_units(known if size is None else known[size : size + 1], system)
    return MappingProxyType(found)


def _both_units(cm: list[Decimal], system: TermSystem) -> str:
    metric = f"{_several([tidy(c, 1) for c in cm])} cm"
    imperial = f"{_several([_halves(c / CENTIMETRES['in']) for c in cm])} in"
    first, second = (imperial, metric) if system is TermSystem.US else (metric, imperial)
    return f"{first} / {second}"


def _halves(inches: Decimal) -> str:
    """Inches to the nearest half, as the trade rounds lengths."""
    doubled = int((inches * 2).to_integral_value(rounding=ROUND_HALF_UP))
    return f"{doubled // 2 or ''}½" if doubled % 2 else str(doubled // 2)


def _several(texts: list[str]) -> str:
    return texts[0] if len(set(texts)) == 1 else f"{texts[0]} ({', '.join(texts[1:])})"
