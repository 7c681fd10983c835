"""Row numbers that are missing, stand twice, or go backwards."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import SIZES, Check, Facts, label_of, sizes_together
from convert.checks.telling import size_ids
from convert.document.records import Document, Part, Row, works
from convert.document.steps import Again, Begin, ChangeColour, FastenOff, Verbatim
from convert.fabric.parts.onward import rows_once_more
from convert.fabric.parts.order import Line, in_order
from convert.findings import Finding, Severity

CHECK = Check(
    "row-numbers",
    Severity.ERROR,
    "the numbers of rows or rounds do not follow on",
    """
In each part the rows are numbered on from the first, in every size that works them. A number that is missing may
be a row that was lost, one that stands twice may be a row that was copied. A part that begins anew at 1 is taken
as a new piece of work; so is one that goes on at 2 behind a line without a number that begins it. Behind cut yarn and words of
its own ("Joining round"), a number may stand once more.
""",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 3: 2 sc in each st around. (12 sc)",
    "Rnd 1: 6 sc in adjustable ring. (6 sc)\nRnd 2: 2 sc in each st around. (12 sc)",
)


def misnumbered(facts: Facts, part: Part) -> bool:
    """Whether the rows of the part do not follow on in some size."""
    return any(True for size in range(facts.document.size_count) for _ in _in_part(facts, part, size))


@sizes_together
def find(facts: Facts) -> Iterator[Finding]:
    """Numbers that do not follow on, size by size."""
    for part in facts.document.parts:
        for size in range(facts.document.size_count):
            yield from _in_part(facts, part, size)


def _numbered(part: Part, document: Document, size: int) -> list[Line]:
    """The numbered lines in the order in which they are worked."""
    lines = in_order([row for row in part.rows if works(row, document, size)], size)
    return [line for line in lines if line.numbers and not line.row.label.continued]


def _in_part(facts: Facts, part: Part, size: int) -> Iterator[Finding]:
    last = 0
    expected_any = True
    other_rows = _open_rows(part)
    once_more = rows_once_more(part.items)
    numbered = {number for row in part.rows if row.sizes for number in row.label.in_size(size).numbers}
    for row, numbers, _again in _numbered(part, facts.document, size):
        first = numbers[0]
        if (
            first == 1
            or expected_any
            or id(row) in once_more
            or row.label.rest
            or (first == 2 and _begins_anew(part, row))
        ):
            last, expected_any = numbers[-1], False
            continue
        others = all(number in numbered for number in range(last + 1, first)) and first > last
        if first != last + 1 and not others and not (first > last and other_rows):
            yield _finding(facts, row, first, last, size)
        last = max(last, numbers[-1])


def _begins_anew(part: Part, row: Row) -> bool:
    """Whether a line without a number that begins a piece of work, or may do so in words that were not read, stands
    directly before the row, as its row 1.
    """
    at = next((i for i, other in enumerate(part.rows) if other is row), 0)
    before = part.rows[at - 1] if at else None
    if before is None or before.label.numbers:
        return False
    first = next((s for s in before.steps if not isinstance(s, ChangeColour)), None)
    return (isinstance(first, Verbatim) and not first.inert) or any(isinstance(s, Begin) for s in before.steps)


def _open_rows(part: Part) -> bool:
    """Whether lines without numbers may stand for rows that are counted on ("Rep Rnds 4 and 5 ...")."""
    return any(any(isinstance(s, Again) for s in row.steps) or _may_be_rows(row) for row in part.rows[1:])


def _may_be_rows(row: Row) -> bool:
    """Whether a line without a number may be of rows; one that only fastens off is of none."""
    ends = all(isinstance(s, FastenOff) or (isinstance(s, Verbatim) and s.inert) for s in row.steps)
    return not row.label.numbers and not ends


def _finding(facts: Facts, row: Row, first: int, last: int, size: int) -> Finding:
    noun = "Rnd" if row.label.kind.is_round else "Row"
    if first <= last:
        message = f"{label_of(row)} comes after {noun} {last}{SIZES}."
        hint = f"Number it {noun} {last + 1}, or take it out if it is a copy."
    else:
        missing = f"{noun} {last + 1}" if first == last + 2 else f"{noun}s {last + 1}-{first - 1}"
        message = f"{missing} {'is' if first == last + 2 else 'are'} missing before {label_of(row)}{SIZES}."
        hint = "Add what is missing, or number the rows on."
    span = row.label.span
    return Finding(
        CHECK.code, CHECK.severity, message, span, size_ids(facts, size), f"{noun} {last + 1}", label_of(row), hint=hint
    )
