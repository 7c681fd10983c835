"""Gathers the units of a text as typed into sections: the front, the headed sections of the table, and the parts."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

from convert.importers.typed_headings import Heading, heading_at
from convert.importers.typed_units import Kind, Unit, kind_of, label_length
from convert.source import NOWHERE, Passage, Span

PART = "part"
FRONT = "front"
OTHER = "other"
TITLE = "title"
INSTRUCTIONS = "instructions"
_WORKED = frozenset({PART, INSTRUCTIONS, "finishing"})
"""Sections whose rows are kept where they stand."""
_LINES = frozenset({TITLE, "designer", "copyright", "date", "version", "skill", "terms", "sizes", "to-fit", "gauge", "measurements"})
"""Sections of a line or a block: a new paragraph after them goes back to the front."""
_LISTS = frozenset({"materials", "yarn", "hook", "notions", "abbreviations"})
_NESTED = 3
"""The most headings in front of one text ("FINISHING: EARS: Sew ...")."""
_LONG = 14
"""Words from which a paragraph below a list is no item of it."""
_SENTENCE = 4
_SUPPLY = re.compile(r"\b(?:yarns?|cotton|wool|threads?|balls?|skeins?|hooks?|needles?|grams?|yds?|yards?|mm|markers?|stuffing)\b|\d\s?(?:g|m)\b", re.I)
_STITCHES = re.compile(r"\b(?:ch|chains?|st|sts|stitch|stitches|sc|dc|tr|htr|hdc|doubles?|trebles?|singles?|long|inc|turn|repeat|ring|hook)\b", re.I)
_OPENING = re.compile(r"\b(?:make|work|commenc|beg[iu]n|start)\w*\b.{0,60}\bchain\b|\bch(?:ain)?\s?\d|\b\d+\s?ch\b|\bring\b", re.I | re.S)
_FOUNDATION = re.compile(r"\b(?:ch|chains?|ring|loops?)\b", re.I)
_FIRST = re.compile(r"\D*(\d{1,5})")

ReadsAsSteps = Callable[[Passage], bool]


@dataclass(slots=True)
class Section:
    """A section while it is gathered. `headed` is its heading as typed; None for the front and for rows without a heading."""

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


def gather(units: Sequence[Unit], reads_as_steps: ReadsAsSteps, opens: ReadsAsSteps) -> list[Section]:
    """The sections in the order of the text; the first is the front, which may be empty.

    `reads_as_steps` tells whether a passage is mostly instructions, `opens` whether it begins a piece of work.
    """
    gatherer = _Gatherer(list(units), reads_as_steps, opens)
    for index, unit in enumerate(units):
        gatherer.take(unit, index)
    return gatherer.sections


class _Gatherer:
    def __init__(self, units: list[Unit], reads_as_steps: ReadsAsSteps, opens: ReadsAsSteps) -> None:
        self.units = units
        self.reads_as_steps = reads_as_steps
        self.opens = opens
        self.sections = [Section(FRONT)]
        self.titled = False

    @property
    def current(self) -> Section:
        return self.sections[-1]

    def take(self, unit: Unit, index: int) -> None:
        """Puts a unit where it belongs, opening the sections that it begins."""
        rest = unit
        for _ in range(_NESTED):
            heading = heading_at(rest, self.units[index + 1 :], self.current.id, self.reads_as_steps, self.opens)
            if heading is None:
                break
            behind = self._open(heading, rest)
            if behind is None:
                return
            rest = behind
        self._put(rest, index)

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
            self._add_row(unit)
        else:
            self._add_text(unit)

    def _add_row(self, unit: Unit) -> None:
        if first_number(unit) == 2 and self.current.id in _WORKED:
            self._open_row()
        if self.current.id in _WORKED or (self.current.id == "special-stitches" and not unit.fresh):
            self.current.units.append(unit)
            return
        worked = [section for section in self.sections if section.id in (PART, INSTRUCTIONS)]
        if worked and _goes_on(worked[-1], unit):
            again = Section(PART, None, worked[-1].units, worked[-1].befores)
            worked[-1].units = []
            again.headed, again.id = worked[-1].headed, worked[-1].id
            self.sections.remove(worked[-1])
            self.sections.append(again)
        else:
            self.sections.append(Section(PART))
        self.current.units.append(unit)

    def _open_row(self) -> None:
        """What stands before a row 2, where there is no row 1, is the first row, however little of it can be read."""
        units = self.current.units
        if units and units[-1].kind is Kind.TEXT and not any(u.kind is Kind.ROW for u in units) and _STITCHES.search(units[-1].passage.text):
            units[-1] = replace(units[-1], kind=Kind.ROW)

    def _is_numbered_row(self, unit: Unit, index: int) -> bool:
        """Whether "1. ..." is a row: in a part, where its numbers follow on, or where a run of such rows begins."""
        if self.current.id in (PART, INSTRUCTIONS):
            begun = any(u.kind is Kind.NUMBERED for u in self.current.units)
            return begun or self.reads_as_steps(unit.passage) or self._begins_run(index)
        return self.current.id in (FRONT, *_LISTS, *_LINES) and self._begins_run(index)

    def _begins_run(self, index: int) -> bool:
        """Whether paragraphs numbered 1, 2, 3 begin here that speak of stitches."""
        run = [unit for unit in self.units[index : index + 12] if unit.kind is Kind.NUMBERED and unit.fresh]
        first = [unit.passage.text for unit in run[:3]]
        return [text[:1] for text in first] == ["1", "2", "3"] and sum(bool(_STITCHES.search(text)) for text in first) >= 2

    def _may_be_title(self, unit: Unit, index: int) -> bool:
        if self.current.id == FRONT and not self.current.units:
            return not self.reads_as_steps(unit.passage)
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
        if not unit.at_line or unit.bullet or self.current.id == "special-stitches" or " count" in unit.passage.text:
            return False
        if not (unit.fresh or self.current.id in _LINES):
            return False
        following = self.units[index + 1] if index + 1 < len(self.units) else None
        if following is not None and following.kind is Kind.ROW:
            return self.reads_as_steps(unit.passage) or bool(_OPENING.search(unit.passage.text))
        if following is not None and following.kind is Kind.NUMBERED and self._begins_run(index + 1):
            return bool(_FOUNDATION.search(unit.passage.text))
        return self.opens(unit.passage)

    def _add_text(self, unit: Unit) -> None:
        here = self.current.id
        done = bool(self.current.units) or self.current.headed is None
        if here in _LINES and done and unit.fresh:
            self.sections.append(Section(FRONT))
        elif here in _LISTS and unit.fresh and not unit.bullet and done and _is_paragraph(unit.passage.text, here):
            self.sections.append(Section(FRONT))
        self.current.units.append(unit)


def _is_paragraph(text: str, section: str) -> bool:
    """Whether a paragraph below a list is a sentence and no further item of it."""
    words = len(text.split())
    if words < _SENTENCE or not text.rstrip().endswith((".", "!", "”")):
        return False
    return words >= _LONG if section == "abbreviations" else words >= 2 * _LONG or not _SUPPLY.search(text)


def first_number(unit: Unit) -> int | None:
    """The first number in the label of a row."""
    length = label_length(unit.passage.text)
    match = _FIRST.match(unit.passage.text[:length]) if length else None
    return int(match.group(1)) if match else None


def last_number(section: Section) -> int | None:
    """The last number in the label of the last row of a section."""
    for unit in reversed(section.units):
        numbers = re.findall(r"\d+", unit.passage.text[: label_length(unit.passage.text)])
        if numbers:
            return int(numbers[-1])
    return None


def _goes_on(section: Section, unit: Unit) -> bool:
    """Whether a row follows on the numbers of a part that something stood between."""
    first, last = first_number(unit), last_number(section)
    return first is not None and last is not None and first == last + 1
