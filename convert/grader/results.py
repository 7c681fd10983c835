"""What grading yields."""

from __future__ import annotations

from msgspec import Struct

from convert.document.lengths import Length
from convert.document.sizing import Fit, Measure, NamedNumber
from convert.findings import Finding


class Chosen(Struct, frozen=True):
    """The number that the grader chose for a fit, and what the piece measures with it.

    `off_cm` is positive where the piece comes out larger than the target.
    """

    fit: Fit
    value: int
    target: Length
    measures: Length
    off_cm: float
    others: tuple[int, ...] = ()
    """The next best numbers."""


class SizeGrading(Struct, frozen=True):
    """One size: every named number, how the fits came out, and what it will measure.

    `size` is the size's id, empty for a pattern without sizes.
    """

    size: str
    numbers: tuple[NamedNumber, ...]
    chosen: tuple[Chosen, ...]
    measures: tuple[Measure, ...]

    def number(self, name: str) -> int | None:
        """The value of a named number."""
        return next((n.value for n in self.numbers if n.name == name), None)


class Grading(Struct, frozen=True):
    """All sizes, in the order of the document (one entry for a pattern without sizes), and what was found."""

    sizes: tuple[SizeGrading, ...]
    findings: tuple[Finding, ...] = ()

    def values(self, name: str) -> tuple[int | None, ...]:
        """A named number in every size."""
        return tuple(size.number(name) for size in self.sizes)
