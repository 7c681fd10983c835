"""Tells what a planted mistake changed in the fabric, and whether the check reports it where it stands."""

from __future__ import annotations

from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from pathlib import Path

from msgspec import Struct

from convert.document.read import ReadOptions
from convert.document.records import Row
from convert.errors import PatternError
from convert.findings import Severity
from convert.importers import ENDINGS
from convert.pipeline import Checked, check_source
from convert.source import Source
from tests.planted.mistakes import Planted, plant_all
from tests.planted.proposals import is_right, proposes

FIXTURES = Path(__file__).parents[2] / "fixtures"
PATTERNS = tuple(
    sorted(path for folder in ("demo", "correct") for path in (FIXTURES / folder).iterdir() if path.suffix in ENDINGS)
)


class Verdict(StrEnum):
    """What became of a planted mistake."""

    REPORTED = "reported"
    MISPLACED = "misplaced"
    """Reported, but first at a row before the mistake."""
    WARNED = "warned"
    """No error, but a warning or a note at the mistake or after it: what the rows make is unknown or doubtful."""
    MISSED = "missed"
    """A count of the fabric, a fault or a stated count is another, and nothing is reported."""
    COUNTS_ALIKE = "counts alike"
    """Read as another row, but every row makes as many of everything as before: no count can tell the two apart."""
    SAME = "same pattern"
    """The text still says the same."""


class Judged(Struct, frozen=True):
    """A mistake with its verdict, and the first finding that reports it."""

    file: str
    planted: Planted
    verdict: Verdict
    finding: str = ""
    proposal: bool | None = None
    """Whether the edit that the finding proposes takes the mistake back; None where it proposes none."""

    @property
    def alters(self) -> bool:
        """Whether it alters what the rows make, or a stated count."""
        return self.verdict not in (Verdict.COUNTS_ALIKE, Verdict.SAME)


@cache
def checked(path: Path) -> Checked:
    """The correct pattern of a file."""
    return _check(path, path.read_text("utf-8"))


def mistakes_in(path: Path) -> Iterator[Planted]:
    """Every mistake that can be planted in the pattern of a file."""
    document = checked(path).document
    assert document is not None
    rows: tuple[Row, ...] = tuple(row for part in document.parts for row in part.rows)
    yield from plant_all(path.read_text("utf-8"), rows)


def judge(path: Path, planted: Planted) -> Judged:
    """Checks the text with the mistake, and compares with the correct one."""
    try:
        found = _check(path, planted.text)
    except PatternError as error:
        return Judged(path.name, planted, Verdict.REPORTED, error.message)
    right = checked(path)
    errors = [finding for finding in found.findings if finding.severity is Severity.ERROR]
    reports = errors or list(found.findings)
    alike = not errors and _counts(found) == _counts(right)
    if not reports or alike:
        return Judged(path.name, planted, _unreported(right, found))
    good_enough = bool(errors) or planted.kind == "count off by one"
    verdict = Verdict.REPORTED if good_enough else Verdict.WARNED
    if reports[0].span.line < planted.line:
        verdict = Verdict.MISPLACED
    proposal = is_right(reports[0], planted, right, found) if proposes(reports[0]) else None
    return Judged(path.name, planted, verdict, f"{reports[0].code}, line {reports[0].span.line + 1}", proposal)


def _unreported(right: Checked, wrong: Checked) -> Verdict:
    if wrong.document == right.document:
        return Verdict.SAME
    return Verdict.COUNTS_ALIKE if _counts(wrong) == _counts(right) else Verdict.MISSED


def _counts(done: Checked) -> list[object]:
    """What each row makes and states in each size, and how often it is worked."""
    assert done.proof is not None
    return [
        (size.size, size.worked, size.made and sorted((t.kind, t.number) for t in size.made), size.stated)
        for row in done.proof.rows
        for size in row.sizes
    ]


def _check(path: Path, text: str) -> Checked:
    return check_source(Source(path.name, text), ENDINGS[path.suffix], ReadOptions())
