"""The neutral pattern document: what every reader yields and every writer takes.

No term system, no unit system and no size is written into its texts: stitches are ids, lengths are metric with
the author's unit beside them, and a number that differs by size holds one value for each.
"""

from __future__ import annotations

from decimal import Decimal
from enum import StrEnum

from msgspec import Struct, field
from msgspec.structs import replace

from convert.document.extra import Extra
from convert.document.materials import Materials
from convert.document.numbers import Number, number_for
from convert.document.placed import Placed
from convert.document.prose import Prose
from convert.document.shaping import Block, Shaping
from convert.document.sizing import BodyTarget, Demand, Fit, Gauge, Size
from convert.document.steps import Counts, Step
from convert.source import NOWHERE, Span

Json = None | bool | int | str | tuple["Json", ...] | Decimal | tuple[tuple[str, "Json"], ...]
FORMAT = "1"
"""The version of the document that this program writes."""


class TermSystem(StrEnum):
    """The two systems of stitch names. "dc" is one stitch in the one and another in the other."""

    US = "us"
    UK = "uk"


class BeginningChain(Struct, frozen=True):
    """What a beginning chain of this length stands for, said once for the whole pattern."""

    chains: int
    counts: Counts


class Special(Placed, frozen=True, eq=False):
    """A stitch that the author defines.

    `steps` say what it takes and makes, worked at the place where the row uses it; empty where the definition is in
    words only. `words` is the explanation that readers see, if it says more than the steps.
    """

    id: str
    name: str
    abbreviation: str
    plural: str = ""
    steps: tuple[Step, ...] = ()
    words: Prose = ()
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE


class CountKind(StrEnum):
    """What a stated count counts."""

    TOTAL = "total"
    """Stitches of all kinds."""
    STITCH = "stitch"
    SPACE = "space"
    """Chain spaces, of one length or of any."""
    CHAIN = "chain"
    GROUP = "group"
    ROWS = "rows"
    OTHER = "other"
    """A thing the author has a word for, kept and not checked."""


CORNER = "corner"
"""What `CountItem.of` says of spaces that are counted at the corners alone: "4 corner ch-2 sps"."""


class CountItem(Placed, frozen=True, eq=False):
    """One figure of a stated count: "36 dc", "4 ch-3 sps", "48 (56, 64) sts"."""

    number: Number
    kind: CountKind = CountKind.TOTAL
    of: str | None = None
    """Stitch or special-stitch id, or the author's own word."""
    chains: int | None = None
    early: bool = False
    """It stands in front of what the line has worked after it, where it goes on to rows worked again: "Sc in each st
    (36). Repeat Row 2 twice."
    """
    span: Span = NOWHERE


class RowKind(StrEnum):
    """What a line of instructions is called."""

    ROW = "row"
    ROUND = "round"
    NEXT_ROW = "next-row"
    NEXT_ROUND = "next-round"
    SETUP_ROW = "setup-row"
    SETUP_ROUND = "setup-round"
    FOUNDATION_ROW = "foundation-row"
    FOUNDATION_ROUND = "foundation-round"
    LAST_ROW = "last-row"
    LAST_ROUND = "last-round"
    INCREASE_ROW = "increase-row"
    INCREASE_ROUND = "increase-round"
    DECREASE_ROW = "decrease-row"
    DECREASE_ROUND = "decrease-round"
    UNLABELLED = "unlabelled"

    @property
    def is_round(self) -> bool | None:
        """True for rounds, False for rows, None where the label does not say."""
        if self is RowKind.UNLABELLED:
            return None
        return "round" in self.value


class Side(StrEnum):
    """Which side of the work faces the maker."""

    RIGHT = "right"
    WRONG = "wrong"


class Label(Placed, frozen=True, eq=False):
    """The label of a row: its kind and its numbers ("Rnds 6-9" is 6, 7, 8, 9).

    `number` of a "Next 4 rows" is the number of rows.
    """

    kind: RowKind = RowKind.UNLABELLED
    first: int | None = None
    last: int | None = None
    rest: tuple[int, ...] = ()
    """Further numbers after `last` that do not follow on ("Rows 2, 4 and 6")."""
    repeat: Number = 1
    """How many rows a "Next 4 (5, 7) rows" stands for."""
    side: Side | None = None
    continued: bool = False
    every: int = 0
    """The line holds for every so many-th row that follows too, as the rows between come up ("Row 2 and every even
    row" is 2); 0 for its own numbers alone.
    """
    starts: Number | None = None
    """The first number in each size, where they differ ("Row 49 (55, 61)"); `first` is that of the first size."""
    ends: Number | None = None
    """The last number in each size, where they differ ("Rows 3-48 (54, 60)"); `last` is that of the first size."""
    span: Span = NOWHERE

    @property
    def numbers(self) -> tuple[int, ...]:
        """Every row number that the label names, in the first size."""
        if self.first is None:
            return ()
        last = self.first if self.last is None else self.last
        return (*range(self.first, last + 1), *self.rest)

    def in_size(self, size: int) -> Label:
        """The label as the size with this index reads it; without numbers where the size has no such row.

        >>> from convert.document.numbers import PerSize
        >>> Label(RowKind.ROW, 3, 48, ends=PerSize((48, 54))).in_size(1).numbers[-1]
        54
        """
        if self.starts is None and self.ends is None:
            return self
        first = self.first if self.starts is None else number_for(self.starts, size)
        last = self.last if self.ends is None else number_for(self.ends, size)
        ends = first if last is None else last
        if first is None or ends is None or ends < first or (self.ends is not None and last is None):
            first = last = None
        return replace(self, first=first, last=last, starts=None, ends=None)


class Row(Placed, frozen=True, eq=False):
    """One row or round, or several worked alike."""

    label: Label
    steps: tuple[Step, ...]
    stated: tuple[CountItem, ...] = ()
    sizes: tuple[str, ...] = ()
    """Ids of the sizes that work this row; empty for all."""
    before: Prose = ()
    """A remark printed before the instructions."""
    shaping: Shaping | None = None
    """A schedule in place of steps; it is written out as rows once the sizes are graded."""
    block: Block | None = None
    """A block of shaping in place of steps, likewise."""
    extra: tuple[Extra, ...] = ()
    said: str = ""
    """The author's own text."""
    span: Span = NOWHERE


class Remark(Placed, frozen=True, eq=False):
    """A paragraph between the rows of a part."""

    words: Prose
    sizes: tuple[str, ...] = ()
    span: Span = NOWHERE


class Worked(StrEnum):
    """How a part is worked."""

    ROWS = "rows"
    ROUNDS = "rounds"
    SPIRAL = "spiral"
    UNSAID = "unsaid"


class Part(Placed, frozen=True, eq=False):
    """One piece of the work: its rows in order, with remarks between them."""

    id: str
    name: str
    items: tuple[Row | Remark, ...]
    worked: Worked = Worked.UNSAID
    make: Number = 1
    """How many of this part are made."""
    extra: tuple[Extra, ...] = ()
    span: Span = NOWHERE

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows without the remarks."""
        return tuple(item for item in self.items if isinstance(item, Row))


class Section(Placed, frozen=True, eq=False):
    """A headed piece of text that has no place of its own in the document."""

    heading: str
    paragraphs: tuple[Prose, ...]
    span: Span = NOWHERE


class Colours(Struct, frozen=True):
    """Colours of the designer's own, as `#rrggbb`."""

    accent: str = ""
    """For row labels, marks and links on light pages and on paper."""
    accent_dark: str = ""
    """The same on dark screens."""


class Logo(Struct, frozen=True):
    """The designer's own sign."""

    file: str = ""
    """Its path from the folder of the pattern, parted by "/": JPEG, PNG or WebP. Empty: there is none."""
    alt: str = ""
    """What those who do not see it are told; the designer's `Brand.name` if left out."""


class Brand(Struct, frozen=True):
    """What the designer's pages are known by."""

    name: str = ""
    logo: Logo = Logo()
    colours: Colours = Colours()


class Picture(Placed, frozen=True, eq=False):
    """A photo or a drawing of the author's. The first of a pattern that belongs to no part stands under its title."""

    file: str
    """Its path from the folder of the pattern, parted by "/": JPEG, PNG or WebP."""
    alt: Prose = ()
    """What it shows, for those who do not see it. Pages demand it."""
    caption: Prose = ()
    """A line under it."""
    credit: str = ""
    """Who made it."""
    part: str = ""
    """Id or name of the part at whose head it stands; empty for the whole piece."""
    span: Span = NOWHERE


class Document(Placed, frozen=True, eq=False):
    """A pattern. See `schema/pattern.schema.json` for every field with an example."""

    title: str
    id: str
    written: TermSystem
    """The system that the author's text was written in, for editions that name none."""
    summary: tuple[Prose, ...] = ()
    designer: str = ""
    copyright: str = ""
    date: str = ""
    """ISO date of this version of the pattern."""
    version: str = ""
    skill: str = ""
    """basic, easy, intermediate or complex."""
    brand: Brand = Brand()
    shape: str = ""
    """The outline of the finished piece, for the drawing of its measurements: one of `shared/outlines.yaml`."""
    sizes: tuple[Size, ...] = ()
    fits: tuple[Fit, ...] = ()
    demands: tuple[Demand, ...] = ()
    from_body: tuple[BodyTarget, ...] = ()
    gauge: Gauge | None = None
    materials: Materials = Materials()
    beginning_chains: tuple[BeginningChain, ...] = ()
    specials: tuple[Special, ...] = ()
    notes: tuple[Prose, ...] = ()
    parts: tuple[Part, ...] = ()
    finishing: tuple[Prose, ...] = ()
    care: tuple[Prose, ...] = ()
    errata: tuple[Prose, ...] = ()
    """What was put right since the first version, the newest first."""
    credits: tuple[Prose, ...] = ()
    """Who else worked on the pattern, and at what."""
    cautions: tuple[str, ...] = ()
    """Ids of the cautions in `shared/cautions.yaml` that apply."""
    sections: tuple[Section, ...] = ()
    pictures: tuple[Picture, ...] = ()
    extra: tuple[Extra, ...] = ()
    format: str = FORMAT
    spans: dict[str, Span] = field(default_factory=dict)
    """Where some parts of the document stand in the file, by name, for messages."""

    @property
    def size_count(self) -> int:
        """How many sizes are executed: at least one."""
        return max(1, len(self.sizes))

    def size_index(self, id: str) -> int | None:
        """The position of a size, by its id without regard to case."""
        for index, size in enumerate(self.sizes):
            if size.id.casefold() == id.casefold():
                return index
        return None


def part_named(document: Document, name: str) -> Part | None:
    """The part with this id or this name, without regard to case."""
    wanted = name.casefold()
    by_id = (part for part in document.parts if part.id.casefold() == wanted)
    by_name = (part for part in document.parts if part.name.casefold() == wanted)
    return next(by_id, None) or next(by_name, None)


def works(row: Row | Remark, document: Document, size: int) -> bool:
    """Whether the size with this index works the row."""
    return not row.sizes or (size < len(document.sizes) and document.sizes[size].id in row.sizes)
