"""How instructions are worded in an edition: term system, size, and the values of computed numbers."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from convert.document.records import Document, Special, TermSystem

Values = Mapping[str, tuple[int | None, ...]]
"""The value of each formula (by its text) in every size."""


@dataclass(frozen=True, slots=True)
class Wording:
    """What a writer of instructions needs to know.

    `size` is the index of the one size whose numbers are written; None writes all sizes as "48 (56, 64)". `values` are the values
    of formulas; a formula without a value is written as `{text}`. `formulas` asks for the formula behind its values, so that
    the text can be read back into the same document.
    """

    system: TermSystem
    specials: tuple[Special, ...] = ()
    size: int | None = None
    size_names: tuple[str, ...] = ()
    size_ids: tuple[str, ...] = ()
    values: Values = field(default_factory=lambda: MappingProxyType({}))
    formulas: bool = False


def wording_for(
    document: Document, system: TermSystem, *, size: int | None = None, values: Values | None = None, formulas: bool = False
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
    )
