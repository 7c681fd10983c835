"""Executes a whole pattern, every row in every size."""

from __future__ import annotations

from msgspec import Struct

from convert.document.records import Document, Part, Row, TermSystem
from convert.document.resolving import Values
from convert.document.steps import Decrease, Step, Work
from convert.document.walking import each
from convert.errors import LimitExceeded
from convert.fabric.parts.onward import Left
from convert.fabric.parts.part import work_part
from convert.fabric.parts.run import Memo, WorkedRow
from convert.fabric.steps.definitions import Definitions
from convert.fabric.steps.stretches import stretches_named
from convert.instructions.reader import Context, read_steps
from convert.source import Passage
from convert.trade.stitches import stitches


class SizeRun(Struct, frozen=True):
    """A part worked in one size. `limit` is set where the work had to stop because it grew past all bounds."""

    part: Part
    size: int
    rows: tuple[WorkedRow, ...]
    limit: LimitExceeded | None = None
    chains: int = 0
    """The length of the foundation on which the rows were worked, where the pattern leaves it open: their counts are
    those on this length.
    """

    def of(self, row: Row) -> WorkedRow | None:
        """What became of one row."""
        return next((w for w in self.rows if w.row is row), None)


def stitch_ids(steps: tuple[Step, ...]) -> frozenset[str]:
    """Every stitch and group name that the steps use."""
    return frozenset({step.stitch for step in each(steps, Work)} | {step.stitch for step in each(steps, Decrease)})


def definitions_for(document: Document) -> Definitions:
    """The author's definitions, and the trade's usual ones for group names that the author leaves undefined."""
    own = {special.id: special for special in document.specials if not _uses_itself(special.id, document)}
    used = frozenset().union(*(stitch_ids(row.steps) for part in document.parts for row in part.rows))
    defaults: dict[str, tuple[Step, ...]] = {}
    for id in used:
        entry = stitches().get(id)
        if entry is not None and entry.default and id not in own:
            passage = Passage.at(entry.default, 0, 0)
            defaults[id] = read_steps(passage, Context(TermSystem.US)).row.steps
    named = (stretches_named(row.steps) for part in document.parts for row in part.rows)
    return Definitions(own, defaults, frozenset().union(*named))


def _uses_itself(id: str, document: Document) -> bool:
    """Whether a definition leads back to itself, directly or through others."""
    steps = {special.id: special.steps for special in document.specials}
    seen: set[str] = set()
    waiting = [id]
    while waiting:
        for used in stitch_ids(steps.get(waiting.pop(), ())):
            if used == id:
                return True
            if used in steps and used not in seen:
                seen.add(used)
                waiting.append(used)
    return False


def self_defined(document: Document) -> tuple[str, ...]:
    """Ids of the author's stitches whose definition leads back to themselves."""
    return tuple(special.id for special in document.specials if _uses_itself(special.id, document))


def work_document(document: Document, values: Values, spoilt: frozenset[int] = frozenset()) -> tuple[SizeRun, ...]:
    """Every part in every size. Rows that sizes share are executed once."""
    definitions = definitions_for(document)
    memo = Memo()
    runs: list[SizeRun] = []
    left: dict[int, Left | None] = {}
    for part in document.parts:
        for size in range(document.size_count):
            try:
                worked = work_part(document, part, size, values, definitions, memo, spoilt, before=left.get(size))
                left[size] = worked.left
                runs.append(SizeRun(part, size, worked.rows, chains=worked.chains))
            except LimitExceeded as stop:
                left[size] = None
                runs.append(SizeRun(part, size, (), stop))
    return tuple(runs)
