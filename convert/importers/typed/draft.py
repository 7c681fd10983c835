"""The fields of a document while the sections of a text as typed are read into them."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.materials import Materials
from convert.document.prose import Prose
from convert.document.records import BeginningChain, Part, Section, Special
from convert.document.sizing import Gauge, Size
from convert.findings import Finding
from convert.importers.typed.words import spaced
from convert.instructions.reader import Context
from convert.source import Passage, Span
from convert.terms.prose import read_prose


class Draft(Struct):
    """The fields of the document while they are gathered. `context` grows with the sizes, colours and stitches."""

    context: Context
    title: str = ""
    designer: str = ""
    copyright: str = ""
    date: str = ""
    version: str = ""
    skill: str = ""
    gauge: Gauge | None = None
    materials: Materials = field(default_factory=Materials)
    sizes: tuple[Size, ...] = ()
    summary: list[Prose] = field(default_factory=list)
    notes: list[Prose] = field(default_factory=list)
    finishing: list[Prose] = field(default_factory=list)
    care: list[Prose] = field(default_factory=list)
    sections: list[Section] = field(default_factory=list)
    chains: list[BeginningChain] = field(default_factory=list)
    parts: list[Part] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    spans: dict[str, Span] = field(default_factory=dict)
    known_abbreviations: list[Passage] = field(default_factory=list)
    spiral: bool = False
    clauses: int = 0
    verbatim_clauses: int = 0

    def prose(self, text: str) -> Prose:
        """A text with its stitch terms."""
        return read_prose(spaced(text), self.context.system, self.context.specials)

    def define(self, specials: Iterable[Special]) -> None:
        """Takes up stitches that the author defines, so that rows and further definitions may use them."""
        self.context = replace(self.context, specials=(*self.context.specials, *specials))

    def add_section(self, heading: str, passages: Iterable[Passage], span: Span) -> None:
        """A headed text that has no place of its own in the document."""
        paragraphs = tuple(self.prose(passage.text) for passage in passages)
        if paragraphs:
            self.sections.append(Section(spaced(heading).rstrip(":.… "), paragraphs, span))
