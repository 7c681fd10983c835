"""A label of one row, behind which several rows are worked again."""

from __future__ import annotations

from collections.abc import Iterator

from convert.checks.check import Check, Facts, label_of
from convert.document.records import Row
from convert.document.steps import Again, Verbatim
from convert.findings import Finding, Severity

CHECK = Check(
    "rows-of-label",
    Severity.ERROR,
    "one row is to repeat several",
    """
"Rows 6-9: Rep Rows 2-5" works four rows, and its label says so. "Row 6: Rep Rows 2-5" has the label of one row and the
words of four: whoever counts by the label stops too early, and whoever follows the words has three rows that no number
stands for. A row that says how often or how far the rows are repeated is left alone, and so is one after which the
numbers go on as if all of them had been counted. At the end of a piece, where no number follows, this is a warning,
unless the line above has the label of just as many rows and repeats none: then the two have changed places.
""",
    "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn. (8 sc)\n"
    "Row 2: Ch 1, sc in each st across, turn. (8 sc)\n"
    "Row 3: Ch 1, sc in BLO of each st across, turn. (8 sc)\n"
    "Row 4: Rep Rows 2 and 3.\n"
    "Row 5: Ch 1, sc in each st across, turn. (8 sc)",
    "Row 1: Ch 9, sc in 2nd ch from hook and in each ch across, turn. (8 sc)\n"
    "Row 2: Ch 1, sc in each st across, turn. (8 sc)\n"
    "Row 3: Ch 1, sc in BLO of each st across, turn. (8 sc)\n"
    "Rows 4-5: Rep Rows 2 and 3.\n"
    "Row 6: Ch 1, sc in each st across, turn. (8 sc)",
)


def find(facts: Facts) -> Iterator[Finding]:
    """Rows with a label of one that work more again."""
    for part in facts.document.parts:
        rows = part.rows
        for index, row in enumerate(rows):
            again = _several(row)
            if again is None:
                continue
            many = again.last - again.first + 1
            following = next((one.label.numbers[0] for one in rows[index + 1 :] if one.label.numbers), None)
            before = rows[index - 1] if index else row
            changed = len(before.label.numbers) == many and not any(isinstance(s, Again) for s in before.steps)
            if following != row.label.numbers[0] + many:
                yield _finding(row, again, sure=following is not None or changed)


def _several(row: Row) -> Again | None:
    """The rows that a row of one number works again, where nothing tells how often or how far."""
    label = row.label
    sized = label.starts is not None or label.ends is not None
    if len(label.numbers) != 1 or sized or label.every or label.continued or row.before:
        return None
    told = [step for step in row.steps if not (isinstance(step, Verbatim) and step.inert)]
    again = told[0] if len(told) == 1 else None
    if not isinstance(again, Again) or not 0 < again.first < again.last or again.part is not None:
        return None
    open_ended = again.times is not None or again.until is not None or again.reached is not None
    return None if open_ended or again.words or again.more else again


def _finding(row: Row, again: Again, *, sure: bool) -> Finding:
    number, many = row.label.numbers[0], again.last - again.first + 1
    noun = "Rnds" if row.label.kind.is_round else "Rows"
    wanted = f"{noun} {number}-{number + many - 1}"
    return Finding(
        CHECK.code,
        CHECK.severity if sure else Severity.WARNING,
        f"{label_of(row)} is one, and repeats {many}: {noun} {again.first}-{again.last}.",
        row.label.span,
        expected=wanted,
        found=label_of(row),
        hint=f"Label it {wanted}, name the one row that it repeats, or say how often or how far they are repeated.",
    )
