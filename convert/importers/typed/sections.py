"""Gathers the units of a text as typed into sections: the front, the headed sections of the table, and the parts."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from msgspec import Struct, field
from msgspec.structs import replace

from convert.importers.typed.conventions import sentences, tells_of_chain
from convert.importers.typed.headings import Heading, heading_at, means_every_size, names_piece
from convert.importers.typed.legend import Legend
from convert.importers.typed.order import (
    NEARBY,
    begins_counted,
    begins_lines,
    begins_run,
    first_number,
    goes_on,
    is_sentence,
    label_numbers,
    number_in_front,
)
from convert.importers.typed.signs import begins_with_chain, speaks_of_stitches, tells_rows
from convert.importers.typed.stitches import explains_beginning
from convert.importers.typed.units import Kind, Unit, heading_prefix, kind_of, label_length, numbered_length
from convert.instructions.rows.foundations import name_length
from convert.source import NOWHERE, Passage, Span
from convert.trade.headings import section_of
from convert.trade.patterns import said

PART = "part"
_HEADING_WORDS = 6
"""The most words of a numbered heading, without its number."""
FRONT = "front"
OTHER = "other"
ABBREVIATIONS = "abbreviations"
TITLE = "title"
INSTRUCTIONS = "instructions"
_WORKED = frozenset({PART, INSTRUCTIONS, "finishing"})
"""Sections whose rows are kept where they stand."""
_LINES = frozenset(
    {TITLE, "designer", "copyright", "date", "version", "skill", "terms", "sizes", "to-fit", "gauge", "measurements"}
)
"""Sections of a line or a block: a new paragraph after them goes back to the front."""
_LISTS = frozenset({"materials", "yarn", "hook", "notions", "abbreviations"})
_BEFORE_LIST = frozenset({FRONT, "notes", "materials", "yarn", "hook", "notions", OTHER}) | _LINES
"""Sections behind which a list of abbreviations may begin without a heading."""
_SINGLE = frozenset({"designer", "date", "version", "skill", "terms"})
"""Sections of one line: the next line goes back to the front."""
_NESTED = 3
"""The most headings in front of one text ("FINISHING: EARS: Sew ...")."""
_BEFORE_WORK = frozenset({FRONT, TITLE, PART, INSTRUCTIONS}) | _LISTS | _LINES
"""Sections in whose paragraphs a piece of work may begin behind a sentence of another kind."""
ReadsAsSteps = Callable[[Passage], bool]


class Section(Struct):
    """A section while it is gathered. `headed` is its heading as typed; None for the front and rows without one."""

    id: str
    headed: Passage | None = None
    units: list[Unit] = field(default_factory=list)
    befores: dict[int, Passage] = field(default_factory=dict)
    """Headings within a part, by the index of the unit that they stand before."""

    @property
    def span(self) -> Span:
        """Where the section begins."""
        if self.headed is not None:
            return self.headed.whole
        return self.units[0].passage.whole if self.units else NOWHERE

    @property
    def has_rows(self) -> bool:
        """Whether a labelled row stands in it."""
        return any(unit.kind is Kind.ROW for unit in self.units)


def gather(units: Sequence[Unit], reads_as_steps: ReadsAsSteps, opens: ReadsAsSteps, legend: Legend) -> list[Section]:
    """The sections in the order of the text; the first is the front, which may be empty.

    `reads_as_steps` tells whether a passage is mostly instructions, `opens` whether it begins a piece of work, `legend`
    whether lines are entries of a list of abbreviations.
    """
    gatherer = _Gatherer(list(units), reads_as_steps, opens, legend)
    for index, unit in enumerate(units):
        gatherer.take(unit, index)
    return gatherer.sections


_PLACED = re.compile(rf"\d|\b{said('in', 'each', 'around', 'across', 'next', 'repeat')}\b|[*\[]", re.IGNORECASE)
"""Signs of instructions in a first line; without them a stitch there ("Bobble Blanket") is the pattern's name."""


def _cut(unit: Unit, start: int, end: int) -> Unit:
    """A stretch of a unit, as a paragraph of its own."""
    breaks = tuple(offset - start for offset in unit.breaks if start < offset < end)
    return Unit(Kind.TEXT, unit.passage.cut(start, end), fresh=unit.fresh, at_line=True, breaks=breaks)


def _name_in_front(passage: Passage) -> Passage | None:
    """The word for a piece in front of its foundation, set off by a full stop: "Thumb. Rejoin yarn to ..."."""
    name = passage.text.rstrip(" .:")
    return passage.cut(0, len(name)) if len(name.split()) == 1 and names_piece([name]) and name[0].isupper() else None


def _is_headed(unit: Unit) -> bool:
    """Whether a heading of the table stands in front of the unit: "Abbreviations (US): ch = chain, ..."."""
    prefix = heading_prefix(unit.passage.text) if unit.kind is Kind.TEXT else None
    return prefix is not None and section_of(prefix[0]) is not None


_FOUNDED = re.compile(r"(?<=[:.])\s+(?=[A-Z])")
"""Where a paragraph may come to a foundation."""


class _Gatherer:
    def __init__(self, units: list[Unit], reads_as_steps: ReadsAsSteps, opens: ReadsAsSteps, legend: Legend) -> None:
        self.units = units
        self.legend = legend
        self.reads_as_steps = reads_as_steps
        self.opens = opens
        self.sections = [Section(FRONT)]
        self.titled = False
        self.listing = False

    @property
    def current(self) -> Section:
        return self.sections[-1]

    def take(self, unit: Unit, index: int) -> None:
        """Puts a unit where it belongs, opening the sections that it begins."""
        if self._is_listed(unit, index) or self._takes_numbered(unit, index):
            return
        if index and means_every_size(self.units[index - 1]):
            unit = replace(unit, fresh=True)  # what stands below "All sizes:" is set apart by it
        if unit.kind is Kind.TEXT and self.titled and explains_beginning(unit.passage.text):
            self._add_text(unit)
            return
        rest = unit
        for _ in range(_NESTED):
            heading = heading_at(
                rest,
                self.units[index + 1 : index + NEARBY],
                self.current.id,
                self.reads_as_steps,
                self.opens,
                titled=self.titled,
            )
            if heading is None:
                break
            if heading.within and self._numbers_begin_anew(index):
                heading = replace(heading, within=False)
            behind = self._open(heading, rest)
            if behind is None:
                return
            rest = behind
        founded = self._founded_behind(rest, index)
        if founded:
            new = bool(self.current.units)  # a heading without any text of its own heads what begins here
            name = _name_in_front(rest.passage.cut(0, founded)) if new else None
            if name is None:
                self._put(_cut(rest, 0, founded), index)
            if new:
                self.sections.append(Section(PART, name))
            self.current.units.append(replace(_cut(rest, founded, len(rest.passage.text)), kind=Kind.ROW))
            return
        begun = self._work_from(rest) if rest.kind is Kind.TEXT and self.current.id in _BEFORE_WORK else 0
        if begun:
            self._put(_cut(rest, 0, begun), index)
            rest = _cut(rest, begun, len(rest.passage.text))
        self._put(rest, index)

    def _numbered_on(self, unit: Unit, index: int) -> bool:
        """Whether a line that stands apart is the heading of a part, with its number: "1. Cuff" above a first row,
        "2. Hand" after "1. Cuff".
        """
        if unit.kind is not Kind.NUMBERED or not unit.fresh:
            return False
        line = unit.passage.cut(0, unit.breaks[0] if unit.breaks else len(unit.passage.text))
        name = line.cut(numbered_length(line.text))
        if not name.text[:1].isupper() or len(name.text.split()) > _HEADING_WORDS or speaks_of_stitches(name.text):
            return False
        behind = self.units[index + 1 : index + NEARBY]
        labelled = next((other for other in behind if other.kind in (Kind.ROW, Kind.NUMBERED)), None)
        above = labelled is not None and labelled.kind is Kind.ROW and first_number(labelled) == 1
        headed = self.current.headed if self.current.id == PART and self.current.has_rows else None
        counted = headed is not None and numbered_length(headed.text) > 0
        after = counted and headed is not None and number_in_front(line.text) == number_in_front(headed.text) + 1
        return (above or after) and not self.reads_as_steps(name)

    def _takes_numbered(self, unit: Unit, index: int) -> bool:
        """Opens the part that a numbered line heads; what stands below the line in the same paragraph goes into it."""
        if not self._numbered_on(unit, index):
            return False
        end = unit.breaks[0] if unit.breaks else len(unit.passage.text)
        self.sections.append(Section(PART, unit.passage.cut(0, end)))
        rest = unit.passage.cut(end)
        if rest.text:
            moved = tuple(offset - end for offset in unit.breaks if offset > end)
            self.take(Unit(kind_of(rest.text), rest, fresh=False, alone=not moved, breaks=moved), index)
        return True

    def _is_listed(self, unit: Unit, index: int) -> bool:
        """Takes up a list of abbreviations without a heading, and its entries one by one."""
        if _is_headed(unit):
            self.listing = False
        elif self.listing and self.current.id == ABBREVIATIONS:
            self.listing = self.legend.goes_on(unit)
        else:
            self.listing = self.current.id in _BEFORE_LIST and self.legend.begins(self.units[index : index + NEARBY])
            if self.listing:
                self.titled = True
                self.sections.append(Section(ABBREVIATIONS))
        if self.listing:
            self.current.units.append(unit)
        return self.listing

    def _founded_behind(self, unit: Unit, index: int) -> int:
        """Where, behind a colon or at its last sentence, a paragraph in a part comes to the foundation of a further
        piece whose row 1 stands below: "Another stitch is as follows: Chain a number of sts divisible by 3, turn."
        """
        following = self.units[index + 1] if index + 1 < len(self.units) else None
        if unit.kind is not Kind.TEXT or self.current.id not in (PART, INSTRUCTIONS) or following is None:
            return 0
        if following.kind is Kind.TEXT or (
            first_number(following) != 1 and number_in_front(following.passage.text) != 1
        ):
            return 0
        text = unit.passage.text
        starts = [match.end() for match in _FOUNDED.finditer(text)]
        return next((at for at in starts if self.opens(unit.passage.cut(at))), 0)

    def _numbers_begin_anew(self, index: int) -> bool:
        """Whether the numbers of the part in work have come past that of the next row: it belongs to another piece."""
        behind = next((unit for unit in self.units[index + 1 : index + NEARBY] if unit.kind is Kind.ROW), None)
        number = first_number(behind) if behind is not None else None
        had = max((number for unit in self.current.units for number in label_numbers(unit)), default=0)
        return number is not None and number <= had

    def _work_from(self, unit: Unit) -> int:
        """Where the sentence begins with which the work starts, behind others that start none; 0 if there is none."""
        at = 0
        for sentence in sentences(unit.passage):
            start = unit.passage.text.index(sentence.text, at)
            if start and begins_with_chain(sentence.text) and self.reads_as_steps(sentence):
                return start
            if self.reads_as_steps(sentence) or label_length(sentence.text):
                return 0
            at = start + len(sentence.text)
        return 0

    def _open(self, heading: Heading, unit: Unit) -> Unit | None:
        """Opens what a heading heads; gives what stands behind the heading in the same unit."""
        rest = unit.passage.cut(heading.length)
        if heading.within:
            self.current.befores[len(self.current.units)] = unit.passage.cut(0, heading.length)
        else:
            self.titled = self.titled or heading.id in (TITLE, PART)
            self.sections.append(Section(heading.id, unit.passage.cut(0, heading.name_length)))
        if not rest.text:
            return None
        moved = len(unit.passage.text) - len(rest.text)
        breaks = tuple(offset - moved for offset in unit.breaks if offset > moved)
        return Unit(kind_of(rest.text), rest, fresh=False, at_line=False, breaks=breaks)

    def _put(self, unit: Unit, index: int) -> None:
        """Puts a unit without a heading into the section that it belongs to."""
        if unit.kind is Kind.ROW or (unit.kind is Kind.NUMBERED and self._is_numbered_row(unit, index)):
            self._add_row(unit)
        elif unit.kind is Kind.NUMBERED:
            self.current.units.append(replace(unit, kind=Kind.TEXT))
        elif not self.titled and unit.fresh and self._may_be_title(unit, index):
            self._add_title(unit, index)
        elif self.current.id not in _WORKED and self._begins_work(unit, index):
            text = unit.passage.text
            chained = begins_with_chain(text) or tells_rows(text)  # a row, however little of it can be read
            self._add_row(replace(unit, kind=Kind.ROW) if chained else unit)
        else:
            self._add_text(unit)

    def _add_row(self, unit: Unit) -> None:
        if self.current.id in _WORKED and first_number(unit) == 2:
            self._tell_first_row()
        if self.current.id not in _WORKED and (self.current.id != "special-stitches" or self._leaves_stitches(unit)):
            self._open_work(unit)
        self.current.units.append(unit)

    def _leaves_stitches(self, unit: Unit) -> bool:
        """Whether a row among the special stitches belongs to none: a blank line stands before it, or it is the first
        one and begins a piece of work.
        """
        begins = first_number(unit) == 1 and self.opens(unit.passage.cut(label_length(unit.passage.text)))
        return unit.fresh or begins or name_length(unit.passage.text) > 0

    def _open_work(self, unit: Unit) -> None:
        """Goes back to the part whose numbers the row follows on, or opens a part without a heading."""
        worked = next((s for s in reversed(self.sections) if s.id in (PART, INSTRUCTIONS)), None)
        waits = worked is not None and worked.headed is not None and not worked.units
        if worked is None or not (waits or goes_on(worked.units, unit)):
            worked = Section(PART)
        self.sections = [*(section for section in self.sections if section is not worked), worked]

    def _tell_first_row(self) -> None:
        """What stands before a row 2, where there is no row 1, is the first row, however little of it can be read."""
        units = self.current.units
        last = units[-1] if units else None
        if last is None or last.kind is not Kind.TEXT or self.current.has_rows:
            return
        if speaks_of_stitches(last.passage.text):
            units[-1] = replace(last, kind=Kind.ROW)

    def _is_numbered_row(self, unit: Unit, index: int) -> bool:
        """Whether "1. ..." is a row: in a part, where its numbers follow on, or where a run of such rows begins."""
        if self.current.id in (PART, INSTRUCTIONS):
            begun = any(u.kind is Kind.NUMBERED for u in self.current.units)
            bare = unit.passage.cut(numbered_length(unit.passage.text))
            return begun or self.reads_as_steps(bare) or begins_run(self.units[index : index + NEARBY])
        ahead = self.units[index : index + NEARBY]
        outside = self.current.id in (FRONT, *_LISTS, *_LINES)
        return outside and (begins_run(ahead) or begins_lines(ahead, self.reads_as_steps, self.opens))

    def _may_be_title(self, unit: Unit, index: int) -> bool:
        if self.current.id == FRONT and not self.current.units:
            first = unit.passage.cut(0, unit.breaks[0]) if unit.breaks else unit.passage
            return not self.reads_as_steps(first) or not _PLACED.search(first.text)
        text = unit.passage.text
        short = unit.alone and len(text.split()) <= 10 and not re.search(r"[.,;:]\Z", text)
        following = self.units[index + 1] if index + 1 < len(self.units) else None
        return short and self.current.id in ("abbreviations", FRONT, "notes") and (following is None or following.fresh)

    def _add_title(self, unit: Unit, index: int) -> None:
        """The first line is the title; lines below it in the same block stand for themselves."""
        self.titled = True
        end = unit.breaks[0] if unit.breaks else len(unit.passage.text)
        self.sections.append(Section(TITLE, None, [replace(unit, passage=unit.passage.cut(0, end), breaks=())]))
        self.sections.append(Section(FRONT))
        rest = unit.passage.cut(end)
        if rest.text:
            moved = tuple(offset - end for offset in unit.breaks if offset > end)
            self.take(Unit(kind_of(rest.text), rest, alone=not moved, breaks=moved), index)

    def _begins_work(self, unit: Unit, index: int) -> bool:
        """Whether a paragraph outside a part begins one: it starts a piece of work, and a row or more work follows."""
        following = self.units[index + 1] if index + 1 < len(self.units) else None
        listed = following is not None and following.kind is Kind.ROW and begins_with_chain(unit.passage.text)
        if (
            not unit.at_line
            or (unit.bullet and not listed)
            or " count" in unit.passage.text
            or tells_of_chain(unit.passage.text)
        ):
            return False
        if name_length(unit.passage.text):
            return True
        if self.current.id == "special-stitches" and not (unit.fresh and begins_with_chain(unit.passage.text)):
            return False
        chained = begins_with_chain(unit.passage.text) and self.reads_as_steps(unit.passage)
        if not (unit.fresh or self.current.id in _LINES or (chained and self.current.id in _BEFORE_WORK)):
            return False
        if following is not None and following.kind is Kind.ROW:
            return self.reads_as_steps(unit.passage) or begins_with_chain(unit.passage.text)
        if (
            following is not None
            and following.kind is Kind.NUMBERED
            and begins_run(self.units[index + 1 : index + 1 + NEARBY])
        ):
            return speaks_of_stitches(unit.passage.text)
        counted = begins_counted(self.units[index : index + NEARBY], self.reads_as_steps)
        return counted or self.opens(unit.passage) or tells_rows(unit.passage.text)

    def _add_text(self, unit: Unit) -> None:
        here = self.current
        text = unit.passage.text
        if (here.units or here.headed is None) and self._is_left(here.id, unit):
            self.sections.append(Section(FRONT))
        begins = here.id in (PART, INSTRUCTIONS) and not here.units and begins_with_chain(text)
        if begins and not tells_of_chain(text):
            unit = replace(unit, kind=Kind.ROW)
        self.current.units.append(unit)

    def _is_left(self, section: str, unit: Unit) -> bool:
        """Whether a paragraph does not belong to the section above it any more."""
        if section in _SINGLE:
            return unit.at_line
        listed = section in _LISTS and not unit.bullet and is_sentence(unit.passage.text, section)
        return unit.fresh and (section in _LINES or listed)
