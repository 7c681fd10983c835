"""The view that templates are filled from: text in order, already worded for one edition, without any markup."""

from __future__ import annotations

from collections.abc import Sequence
from enum import StrEnum

from msgspec import Struct

from convert.exporters.photos import Photo


class Mark(StrEnum):
    """What a piece of text is, as far as the type face cares."""

    PLAIN = "plain"
    TERM = "term"
    """An abbreviation of the trade; `Piece.title` says what it stands for."""
    REPEAT = "repeat"
    """An asterisk or a square bracket: where a repeat begins or ends."""
    SIZE = "size"
    """The number of one size in a list such as "48 (56, 64)"; `Piece.size` says which."""
    LIST = "list"
    """The brackets, commas and blanks of such a list, which go where one size is shown alone."""


class Piece(Struct, frozen=True):
    """Some characters of one kind."""

    text: str
    mark: Mark = Mark.PLAIN
    title: str = ""
    size: int = -1
    first: bool = False
    """The abbreviation stands here for the first time in its part: a keyboard finds it."""


Clump = tuple[Piece, ...]
"""Pieces that stay on one line: "3 dc", "ch-2 sp"."""

Flow = tuple[Clump, ...]
"""Running text: clumps with a space between them, where a line may break."""


def continues_list(word: Sequence[Piece]) -> bool:
    """Whether the clump goes on with a list of the sizes' numbers: the blank before it is a part of the list."""
    if word[0].mark is not Mark.SIZE and word[0].mark is not Mark.LIST:
        return False
    first = next((piece for piece in word if piece.mark is Mark.SIZE), None)
    return first is not None and first.size > 0


class Table(Struct, frozen=True):
    """A table with a heading for every column; the first cell of each line is the line's own heading."""

    caption: str
    heads: tuple[str, ...]
    lines: tuple[tuple[str, ...], ...]

    @property
    def measured(self) -> bool:
        """Whether anything is told of the lines but their names."""
        return len(self.heads) > 1

    def crowded(self, *, large: bool) -> bool:
        """Whether there are so many columns that each figure in the other unit stands under the one in the own."""
        return len(self.heads) > MOST_BESIDE["large" if large else "usual"]


MOST_BESIDE = {"usual": 6, "large": 3}
"""Columns of a table in which both units stand side by side, by the print."""


class Fact(Struct, frozen=True):
    """A heading and what belongs under it: "Hook", "5 mm (US H-8)"."""

    label: str
    lines: tuple[Flow, ...]
    tool: bool = False
    """It is worked with, not used up."""


class Abbreviation(Struct, frozen=True):
    """A short form, its meaning, and what the other system writes for it (empty where that is the same)."""

    short: str
    meaning: str
    other: str = ""


class Definition(Struct, frozen=True):
    """A special stitch: its name, its short form, and how it is made."""

    name: str
    short: str
    how: tuple[Flow, ...]


LONGEST_BESIDE = 44
"""Characters of a count that stand beside the text of a row; with more, in its narrow column, it would be a tower."""


LONGEST_ITEM = 25
"""Characters of one figure of a count ("96 (106, 114) dc") that stand beside the text without a break."""


def _length(flow: Flow) -> int:
    return sum(len(piece.text) for clump in flow for piece in clump) + len(flow) - 1


def items_of(count: Flow) -> tuple[Flow, ...]:
    """The figures of a count: "84 (98, 102) dc", "2 ch-6 sps". None of them is broken where there is room.

    >>> [len(item) for item in items_of(((Piece("8 (9,"),), (Piece("10) dc,"),), (Piece("2 sps"),)))]
    [2, 1]
    """
    items: list[list[Clump]] = [[]]
    depth = 0
    for clump in count:
        items[-1].append(clump)
        text = "".join(piece.text for piece in clump)
        depth += text.count("(") - text.count(")")
        if depth <= 0 and text.endswith((",", ";")):
            items.append([])
    return tuple(tuple(item) for item in items if item)


LONGEST_LINE = {"narrow": 54, "middle": 46, "wide": 36, "below": 0}
"""Characters that the text of a row has room for in one line, by the room that its count takes beside it."""


class Line(Struct, frozen=True):
    """One line of instructions, or a remark between them (`label` and `count` empty, `remark` true)."""

    text: Flow
    label: str = ""
    heading: Flow = ()
    """The label, set for its narrow column."""
    side: str = ""
    sizes: str = ""
    """The sizes that work the line, if not all do."""
    worked_by: tuple[int, ...] = ()
    """The same as indexes of sizes; empty for all."""
    before: Flow = ()
    count: Flow = ()
    remark: bool = False
    gap: bool = False
    """A remark of ours where the sizes in `worked_by` pass over rows."""
    colour: str = ""
    """The yarn or yarns that the line is worked with, by the names that the rows call them; empty if there is one."""

    @property
    def room(self) -> str:
        """How much room the count needs: "narrow", "middle" or "wide" beside the text, or a line "below" it."""
        lengths = [_length(item) for item in items_of(self.count)]
        whole, longest = sum(lengths) + len(lengths), max(lengths, default=0)
        if whole > LONGEST_BESIDE or longest > LONGEST_ITEM:
            return "below"
        return "narrow" if whole <= 10 else "middle" if whole <= 18 or longest <= 16 else "wide"

    @property
    def level(self) -> bool:
        """Whether the count stands in the first line: where the text is so short that it has no other.

        The column of labels may have a second line, for the yarn or the side.
        """
        return bool(self.colour or self.side) and _length(self.text) <= LONGEST_LINE[self.room]

    @property
    def run_in(self) -> bool:
        """Whether the label is too long for its column, and opens the text of the row instead."""
        return len(self.heading) > 1


class Plate(Struct, frozen=True):
    """A picture of the author's with what is said of it. `alt` is for those who do not see it."""

    photo: Photo
    alt: str
    caption: Flow = ()
    credit: str = ""


class Chapter(Struct, frozen=True):
    """A headed piece of the page: paragraphs, or lines of instructions. `anchor` is made by us, never by the author."""

    anchor: str
    heading: str
    aside: str = ""
    """A few words beside the heading ("Make 2")."""
    paragraphs: tuple[Flow, ...] = ()
    lines: tuple[Line, ...] = ()
    plates: tuple[Plate, ...] = ()
    """Pictures at its head."""


class Page(Struct, frozen=True):
    """A whole pattern, ready to be set."""

    lang: str
    mark: str
    """Begins every anchor, so that two editions can stand on one page; empty for a page of one."""
    terms: str
    """The edition's terms in two words ("US terms")."""
    title: str
    designer: str
    brand: str
    logo: Plate | None
    """The designer's sign, in place of `brand`."""
    cover: Plate | None
    """The picture under the title."""
    summary: tuple[Flow, ...]
    byline: tuple[str, ...]
    """Short facts under the title: skill, size, terms."""
    notice: Flow
    """Which terms the pattern is written in."""
    sizes: Table | None
    size_facts: tuple[Fact, ...]
    """The same as facts of every size, where the table has no room; else empty."""
    size_names: tuple[str, ...]
    """Every size among whose numbers a reader can have the own ones marked; empty where there is nothing to choose."""
    sizes_note: str
    measured: tuple[Chapter, ...]
    """What the author says in words of the finished piece."""
    materials: tuple[Fact, ...]
    gauge: tuple[Flow, ...]
    abbreviations: tuple[Abbreviation, ...]
    definitions: tuple[Definition, ...]
    notes: Chapter | None
    cautions: Chapter | None
    parts: tuple[Chapter, ...]
    after: tuple[Chapter, ...]
    """Finishing, care and the author's own sections."""
    closing: tuple[str, ...]
    """Copyright, version and date."""
    created: str
    """ISO date for the file's own records, or empty."""
    kept: str
    """What a reader's ticks are remembered under: the pattern and its version."""

    @property
    def yarns(self) -> tuple[Fact, ...]:
        """The materials that are used up."""
        return tuple(fact for fact in self.materials if not fact.tool)

    @property
    def hooks(self) -> tuple[Fact, ...]:
        """The materials that remain."""
        return tuple(fact for fact in self.materials if fact.tool)

    @property
    def chapters(self) -> tuple[Chapter, ...]:
        """Every chapter behind the facts, in order."""
        return tuple(filter(None, (self.notes, self.cautions, *self.parts, *self.after)))
