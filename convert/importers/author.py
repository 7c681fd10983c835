"""What the reading of one author's text knows and gathers: terms, own stitches, findings, how much was understood."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.located import Located
from convert.document.prose import Prose
from convert.document.records import Row, Special, TermSystem
from convert.document.resolving import with_all_sizes
from convert.document.steps import Step
from convert.findings import Finding, Severity
from convert.importers.schema_words import nearest
from convert.instructions.reader import Context, RowRead, read_row, read_steps, with_specials
from convert.source import Passage, Span
from convert.terms.prose import read_prose
from convert.trade.stitches import stitches

_BLANKS = " \t\r\n"
_EMPTY_LINES = re.compile(r"\n[ \t]*\n\s*")


class Author(Struct):
    """The state of one reading. Everything that is read of the text goes through it, so that nothing is read twice."""

    context: Context
    findings: list[Finding] = field(default_factory=list)
    clauses: int = 0
    verbatim_clauses: int = 0

    @property
    def system(self) -> TermSystem:
        """The term system that the text is read in."""
        return self.context.system

    @property
    def specials(self) -> tuple[Special, ...]:
        """The author's own stitches."""
        return self.context.specials

    def error(self, code: str, message: str, span: Span, hint: str = "", found: str = "") -> None:
        """Notes something wrong."""
        self.findings.append(Finding(code, Severity.ERROR, message, span, found=found, hint=hint))

    def row(self, passage: Passage, sizes: tuple[str, ...] = ()) -> Row:
        """A line of instructions with its label, for these sizes or those that it names itself."""
        read = self._kept(read_row(passage, self.context))
        return with_all_sizes(replace(read, sizes=sizes or read.sizes), [id for id, _ in self.context.sizes])

    def steps(self, passage: Passage) -> tuple[Step, ...]:
        """Instructions without a label."""
        return self._kept(read_steps(passage, self.context)).steps

    def _kept(self, read: RowRead) -> Row:
        self.findings.extend(read.findings)
        self.clauses += read.clauses
        self.verbatim_clauses += read.verbatim_clauses
        if read.specials:
            self.context = with_specials(self.context, read.specials)
        return read.row

    def prose(self, text: str) -> Prose:
        """A text with its terms; line ends are spaces."""
        return read_prose(re.sub(r"\s*\n\s*", " ", text.strip(_BLANKS)), self.system, self.specials)

    def paragraphs(self, data: Located | None) -> tuple[Prose, ...]:
        """A text whose paragraphs are parted by empty lines, or a list of texts."""
        if data is None:
            return ()
        texts = data.items if isinstance(data.value, tuple) else (data,)
        return tuple(self.prose(part) for text in texts for part in paragraphs_of(text.words))

    def stitch(self, text: str, span: Span) -> str | None:
        """The id of a stitch by any of its names; a name that nobody knows is reported."""
        wanted = text.strip().casefold()
        for special in self.specials:
            if wanted in {
                name.casefold() for name in (special.id, special.name, special.abbreviation, special.plural) if name
            }:
                return special.id
        known = stitch_names(self.system)
        if wanted in known:
            return known[wanted]
        hint = nearest(wanted, list(known)) or "Use the abbreviation that the rows use."
        self.error(
            "unknown-abbreviation", f'No stitch is called "{text}" in {self.system.upper()} terms.', span, hint, text
        )
        return None


def stitch_names(system: TermSystem) -> dict[str, str]:
    """Every name of every stitch in one system, in small letters, with the stitch's id."""
    found: dict[str, str] = {}
    for stitch in stitches().values():
        names = stitch.names(system)
        for name in (names.abbreviation, names.name, names.plural, *names.variants):
            found.setdefault(name.casefold(), stitch.id)
    return found


def paragraphs_of(text: str) -> Iterator[str]:
    """The paragraphs of a text, without white space around them.

    >>> list(paragraphs_of("One\\ntwo.\\n\\nThree.\\n"))
    ['One\\ntwo.', 'Three.']
    """
    for part in _EMPTY_LINES.split(text):
        if part.strip(_BLANKS):
            yield part.strip(_BLANKS)
