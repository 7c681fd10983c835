"""Tells whether the edit that a finding proposes is the one that takes a planted mistake back."""

from __future__ import annotations

import re

from convert.document.numbers import number_for
from convert.document.records import Document, Row
from convert.document.resolving import Values, drops_out, resolved, resolved_counts
from convert.findings import Finding
from convert.grader.values import values_and_findings
from convert.instructions.writing.wording import Wording
from convert.instructions.writing.writer import write_steps
from convert.pipeline import Checked
from tests.planted.mistakes import Planted

_INSTEAD = re.compile(r"“(.*?)” instead of “(.*?)”")
_OUT = re.compile(r"Leaving out one of the two “(.*?)”")
_SWAPPED = re.compile(r"seem to have changed places")
_COUNT = re.compile(r"the count should be (.*?)\.")


def proposes(finding: Finding) -> bool:
    """Whether the hint names an edit."""
    return any(pattern.search(finding.hint) for pattern in (_INSTEAD, _OUT, _COUNT, _SWAPPED))


def is_right(finding: Finding, planted: Planted, right: Checked, wrong: Checked) -> bool:
    """Whether one of the edits that the hint names gives the correct pattern back."""
    if _SWAPPED.search(finding.hint):
        return planted.kind == "rows swapped"
    was, now = _row_at(right, planted.line), _row_at(wrong, planted.line)
    if was is None or now is None or wrong.written is None:
        return False
    size = next((i for i, s in enumerate(wrong.written.sizes) if finding.sizes and s.id == finding.sizes[0]), 0)
    correct, mistaken = _written(right, was, size), _written(wrong, now, size)
    instead = _INSTEAD.search(finding.hint)
    if instead and correct in _replaced(mistaken, instead[2], instead[1]):
        return True
    out = _OUT.search(finding.hint)
    if out and correct.casefold() in map(str.casefold, _replaced(mistaken, f", {out[1]}", "")):
        return True
    counted = _COUNT.search(finding.hint)
    said = [int(number) for number in re.findall(r"(?<![\w-])\d+(?= )", counted[1])] if counted else []
    numbers = {number_for(item.number, size) for item in resolved_counts(was.stated, size, _values(right))}
    return bool(said) and correct == mistaken and numbers.issuperset(said)


def _replaced(text: str, old: str, new: str) -> list[str]:
    """The text with one occurrence replaced, for every occurrence."""
    places = [match.start() for match in re.finditer(re.escape(old), text, re.IGNORECASE)]
    return [_even(text[:at] + new + text[at + len(old) :]) for at in places]


def _even(text: str) -> str:
    return text.casefold()


def _row_at(done: Checked, line: int) -> Row | None:
    document: Document | None = done.written
    assert document is not None
    return next((row for part in document.parts for row in part.rows if row.span.line == line), None)


def _written(done: Checked, row: Row, size: int) -> str:
    document = done.written
    assert document is not None
    steps = resolved(drops_out(row.steps, size), size, _values(done))
    return _even(write_steps(steps, Wording(document.written, document.specials)))


def _values(done: Checked) -> Values:
    assert done.written is not None and done.grading is not None
    return values_and_findings(done.written, done.grading)[0]
