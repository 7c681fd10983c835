"""The state of a part in work, and what is kept of each of its rows."""

from __future__ import annotations

from msgspec import Struct, field

from convert.document.records import BeginningChain, CountItem, Document, Part, Row
from convert.document.resolving import Values
from convert.document.steps import Counts, Step
from convert.fabric.cells import Strip
from convert.fabric.parts.reference import rows_of
from convert.fabric.parts.varied_ends import Told
from convert.fabric.rows.jobs import Edge, Outcome
from convert.fabric.rows.sides import Sides
from convert.fabric.steps.definitions import Definitions


class Memo(Struct):
    """What has been worked out once for all sizes: rows on the same edge, and which rows differ by size."""

    outcomes: dict[tuple[object, ...], Outcome] = field(default_factory=dict)
    varying: dict[int, bool] = field(default_factory=dict)
    histories: dict[tuple[str, int], list[tuple[int | None, Row]]] = field(default_factory=dict)
    """The rows of every part and size in the order in which they were worked, with their numbers."""
    edges: dict[tuple[str, int], list[tuple[int, Edge]]] = field(default_factory=dict)
    """What each row of every part and size left, by its number."""
    open_pieces: set[tuple[str, int]] = field(default_factory=set)
    """The parts and sizes of which it is left open how often some rows are worked."""
    parted: dict[int, tuple[Row, Row] | None] = field(default_factory=dict)
    """Lines that tell of rows in several sentences, taken apart."""
    even: dict[tuple[int, tuple[Step, ...]], Row] = field(default_factory=dict)
    """The rows that a line has worked straight on, or with more stitches each time."""
    fits: dict[tuple[int, int], Row] = field(default_factory=dict)
    """A row of the pattern with its repeat worked so often as in the second number."""
    told: dict[int, Told | None] = field(default_factory=dict)
    """Rows told by earlier ones and by how they differ from them."""
    varied: dict[tuple[int, int, int], Row | None] = field(default_factory=dict)
    """The rows that this comes to: by the line that tells so, the earlier row, and how often it was changed."""
    own: dict[int, Row | None] = field(default_factory=dict)
    """The rows of lines that point to further rows elsewhere."""
    meant: dict[int, Row] = field(default_factory=dict)
    """What wrong rows were very likely meant to be."""
    marked: dict[int, tuple[Row, ...]] = field(default_factory=dict)
    """Rows that miss a mark, with it in each place where it may stand."""


class WorkedRow(Struct, frozen=True):
    """One row of the document in one size.

    `worked` is how many rows or rounds it stands for; `outcome` that of the last of them. `quiet` rows follow
    from an error already reported.
    """

    row: Row
    outcome: Outcome | None
    worked: int
    stated: tuple[CountItem, ...] = ()
    quiet: bool = False
    open_end: bool = False
    unknown_after: bool = False
    """The rows after an open end cannot go on."""
    count: int = 0
    """Rows or rounds of the part up to and with this one."""
    each: tuple[tuple[Row, Outcome], ...] = ()
    """What was worked, row by row, with the line of the document that tells how."""
    meant: Row | None = None
    """What a wrong row was very likely meant to be, as which it was worked."""


class Run(Struct):
    """The state of a part in work."""

    document: Document
    part: Part
    size: int
    values: Values
    definitions: Definitions
    conventions: tuple[BeginningChain, ...]
    memo: Memo
    spoilt: frozenset[int] = frozenset()
    edge: Edge = field(default_factory=Edge)
    other: Edge | None = None
    """What the last row would have left if its stated count were right, where it is not."""
    history: list[tuple[int | None, Row]] = field(default_factory=list)
    open_period: tuple[int, int] = (0, 0)
    """How many rows had been worked when it was left open how often the last ones are, and how many those are."""
    patterns: list[Row] = field(default_factory=list)
    """The rows that were repeated by themselves, so that each is a pattern of one row."""
    sides_before: Sides | None = None
    """The sides of the piece that the part before made."""
    free: Strip | None = None
    """The stitches that a row left free, until yarn is joined there."""
    turns: int = 0
    """How often a repeat goes around an edge that nobody tells, to stand for any number."""
    sent: bool = False
    """Of the rows told by another part, the one in work stands on some that are told elsewhere."""
    on_free: bool = False
    """The work stands on stitches that an earlier row left, and no row has been worked there yet."""
    free_untold: bool = False
    """A row left stitches of an edge that nobody tells: yarn joined behind some of them is joined anywhere."""
    beside: tuple[int, Edge] | None = None
    """The number of the last round and what it left, where a line without a number was worked on an earlier one."""
    attached: tuple[Step, ...] = ()
    """Where a line by itself joined the yarn, with which the next row begins."""
    tainted: bool = False
    held: dict[tuple[int, str], Counts] = field(default_factory=dict)
    """What beginning chains stood for so far, by their length and the stitch behind them."""
    spaces: frozenset[int] = frozenset()
    """The lengths of the beginning chains of low stitches that are spaces, where a later row works into them."""
    all_told: bool = False
    """Whether repeats "6 times" were six in all so far, where a count told."""
    results: list[WorkedRow] = field(default_factory=list)
    rows_done: int = 0
    chains: int = 0
    """The length on which rows are worked that leave that of their foundation open; 0 for no such rows."""
    trusted: bool = False
    """Nobody tells what such a length is a multiple of: rows that do not fit on it are unknown, and not wrong."""


def rows_of_piece(run: Run, part: Part, first: int, last: int) -> list[tuple[int | None, Row]]:
    """Rows `first` to `last` of an earlier part as it was worked. Where it has not all of these numbers, those of the
    one part behind it that does: headings inside a piece ("second flower") begin parts of it.
    """
    parts = run.document.parts
    begin, end = parts.index(part), next((i for i, one in enumerate(parts) if one is run.part), len(parts))
    own = run.memo.histories.get((part.id, run.size)) or []
    found = rows_of(own, first, last)
    if found or begin >= end:
        return found
    histories = (run.memo.histories.get((one.id, run.size)) or [] for one in parts[begin + 1 : end])
    further = [rows for history in histories if (rows := rows_of(history, first, last))]
    return further[0] if len(further) == 1 else []


def rows_numbered_on(run: Run, first: int, last: int) -> list[tuple[int | None, Row]]:
    """Rows `first` to `last` of the part before, where the numbers of this one go on from there: a heading in the
    middle of a piece ("Divide:") does not begin them anew.
    """
    at = next((index for index, part in enumerate(run.document.parts) if part.id == run.part.id), 0)
    before = run.memo.histories.get((run.document.parts[at - 1].id, run.size), []) if at else []
    own = next((number for number, _ in run.history if number is not None), 0)
    ended = max((number for number, _ in before if number is not None), default=0)
    goes_on = 0 < own - ended <= _UNNUMBERED + 1 and 0 < first <= last < own
    return rows_of(before, first, last) if goes_on else []


_UNNUMBERED = 2
"""So many rows without a number may stand between: "Divide: ...", and one more."""
