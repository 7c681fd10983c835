"""One edition of a pattern: the document, what was computed from it, and the choices of term system and size."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypeVar

from msgspec import Struct

from convert.document.numbers import Formula, Number, number_for
from convert.document.prose import Prose
from convert.document.records import Document, TermSystem
from convert.errors import OutputRefused
from convert.exporters.page.full_words import spelled
from convert.exporters.page.measures import per_size
from convert.exporters.page.phrases import phrase
from convert.exporters.page.records import Flow
from convert.exporters.page.typeset import flow_of
from convert.exporters.photos import EMPTY, Album
from convert.fabric.results import Proof
from convert.grader.results import Grading
from convert.instructions.writing.wording import Values, Wording, wording_for

T = TypeVar("T")


class Manner(Struct, frozen=True):
    """How an edition is presented, beside its terms and its size."""

    choose: bool = False
    """Numbers of the sizes are kept apart, so that a reader can have the own ones alone."""
    full_words: bool = False
    """Abbreviations are written in full."""
    large: bool = False
    """The print is so large that a table of many columns has no room."""
    mark: str = ""
    """Begins every anchor, so that two editions can stand on one page."""
    album: Album = EMPTY
    """The author's pictures, as far as they are to be had."""


USUAL = Manner()
"""All sizes with their abbreviations, alone on its page."""


class Edition(Struct, frozen=True):
    """What every part of the page is worded from. `size` is the index of the one size shown; None shows all."""

    document: Document
    grading: Grading | None
    proof: Proof | None
    system: TermSystem
    size: int | None
    wording: Wording
    values: Values
    manner: Manner = USUAL

    @property
    def other(self) -> TermSystem:
        """The system that this edition is not written in."""
        return TermSystem.UK if self.system is TermSystem.US else TermSystem.US

    @property
    def listed(self) -> int:
        """How many numbers a list has from which a reader can choose the own; 0 where there is nothing to choose."""
        count = len(self.document.sizes)
        return count if self.manner.choose and self.size is None and count > 1 else 0

    @property
    def shown(self) -> tuple[int, ...]:
        """Indexes of the sizes that the edition shows, in order."""
        return tuple(range(self.document.size_count)) if self.size is None else (self.size,)

    def flow(self, prose: Prose, *, marks: bool = False) -> Flow:
        """A text of the document, worded for the edition."""
        said = spelled(prose, self.system) if self.manner.full_words else prose
        return flow_of(said, self.system, self.document.specials, marks=marks, sizes=self.listed)

    def flows(self, paragraphs: Sequence[Prose]) -> tuple[Flow, ...]:
        """Several paragraphs."""
        return tuple(self.flow(paragraph) for paragraph in paragraphs)

    def say(self, id: str, **filled: str) -> str:
        """A phrase of the page's own."""
        return phrase(id, self.system, **filled)

    def pick(self, values: Sequence[T]) -> tuple[T, ...]:
        """Of values given per size, those of the sizes shown; a single value stands for all.

        A list that is shorter than the sizes is left as the author gave it.
        """
        if self.size is None or len(values) <= self.size or len(values) == 1:
            return tuple(values)
        return (values[self.size],)

    def number(self, number: Number) -> str:
        """A count as the edition writes it: "2", "2 (3, 4)"."""
        return per_size([None if n is None else str(n) for n in self.numbers(number)])

    def numbers(self, number: Number) -> tuple[int | None, ...]:
        """A count for each size shown; None where there is none."""
        if isinstance(number, Formula):
            values = self.values.get(number.text, ())
            return tuple(values[index] if index < len(values) else None for index in self.shown)
        return tuple(number_for(number, index) for index in self.shown)


def edition_of(
    document: Document,
    grading: Grading | None,
    proof: Proof | None,
    *,
    system: TermSystem | None,
    size: str | None,
    manner: Manner = USUAL,
    values: Mapping[str, tuple[int | None, ...]],
) -> Edition:
    """The edition in a term system (None: the author's own) and a size (None: all).

    Raises OutputRefused where the pattern has no such size.
    """
    chosen = system or document.written
    index = None if size is None else document.size_index(size)
    if size is not None and index is None:
        known = ", ".join(s.id for s in document.sizes) or "none: it has no sizes"
        raise OutputRefused(f"The pattern has no size {size!r}.", hint=f"Its sizes are {known}.")
    wording = wording_for(document, chosen, size=index, values=values)
    return Edition(document, grading, proof, chosen, index, wording, values, manner)
