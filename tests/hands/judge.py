"""Reads a text in a hand, and compares what its rows make with the pattern it was written from."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from enum import StrEnum
from functools import cache
from random import Random

from msgspec import Struct

from convert.document.one_size import one_size
from convert.document.read import ReadOptions
from convert.document.records import Document, Row, RowKind, TermSystem
from convert.document.steps import Again, Begin, Chain, ChangeColour, FastenOff, Verbatim
from convert.fabric.results import Proof, RowProof
from convert.findings import Severity
from convert.grader.values import values_of
from convert.pipeline import Checked, check_document, check_source
from convert.source import Source
from tests.hands.hand import Hand, draw_hand, without
from tests.hands.pieces import draw_piece
from tests.hands.places import Unwritable, Values
from tests.hands.texts import Text, write
from tests.planted.judge import PATTERNS, checked

_TOGETHER = re.compile(r"(\w+?)\d+tog|(inv|inv |)dec")


class Verdict(StrEnum):
    """What became of a text."""

    RIGHT = "right"
    FALSE_ERROR = "false error"
    OTHER_ROWS = "other rows"
    """The text is read as other rows than it has."""
    NOT_EXECUTED = "not executed"
    OTHER_COUNTS = "other counts"
    """A row makes something else than the pattern's, and nobody says so."""
    NOT_REPORTED = "not reported"
    """A stated count was changed by one, and no error stands at its row."""


class Pattern(Struct, frozen=True):
    """A proved pattern with the values of its formulas."""

    name: str
    document: Document
    proof: Proof
    values: Values


class Judged(Struct, frozen=True):
    """A text with its verdict and what bears it out."""

    pattern: Pattern
    hand: dict[str, int]
    text: str
    verdict: Verdict
    why: str = ""


@cache
def proved_patterns() -> tuple[Pattern, ...]:
    """The demos and the correct patterns: each in all its sizes where no row is for some of them alone, and in one."""
    return tuple(_proved_patterns())


def _proved_patterns() -> Iterator[Pattern]:
    for path in PATTERNS:
        found = checked(path)
        assert found.written is not None
        assert found.grading is not None
        assert found.proof is not None
        values = dict(values_of(found.written, found.grading))
        sizes = found.written.sizes
        yield Pattern(path.name, found.written, found.proof, values)
        for size in {0, len(sizes) - 1} if len(sizes) > 1 else ():
            document = one_size(found.written, size, values)
            at = {name: (value[size],) for name, value in values.items()}
            _, proof = check_document(document)
            yield Pattern(f"{path.name} {sizes[size].id}", document, proof, at)


def random_pattern(random: Random) -> Pattern:
    """A pattern that is right by construction."""
    document = draw_piece(random)
    _, proof = check_document(document)
    return Pattern(document.parts[0].name, document, proof, {})


def written_by(pattern: Pattern, hand: Hand, off: tuple[int, int] = (-1, 0)) -> Text | None:
    """The pattern in that hand; None where it holds something that the hands have no words for."""
    try:
        return write(pattern.document, hand, pattern.values, off)
    except Unwritable:
        return None


def judge(pattern: Pattern, hand: Hand) -> Judged | None:
    """What the reader makes of the pattern in that hand."""
    text = written_by(pattern, hand)
    if text is None:
        return None
    found = read(text)
    verdict, why = _compared(pattern, found)
    return Judged(pattern, dict(hand.chosen), text.text, verdict, why)


def read(text: Text) -> Checked:
    """The check of a text."""
    return check_source(Source("hand.txt", text.text), "text", ReadOptions(TermSystem(text.system)))


def _compared(pattern: Pattern, found: Checked) -> tuple[Verdict, str]:
    errors = [finding for finding in found.findings if finding.severity is Severity.ERROR]
    if errors:
        return Verdict.FALSE_ERROR, f"line {errors[0].span.line + 1}: {errors[0].message} [{errors[0].code}]"
    if found.proof is None:
        return Verdict.NOT_EXECUTED, "no pattern"
    expected, actual = _working(pattern.proof), _working(found.proof)
    for row in actual:
        if not all(size.made is not None and size.proved for size in row.sizes if size.worked):
            return Verdict.NOT_EXECUTED, f"{row.label}: {row.row.said}"
    if len(expected) != len(actual):
        return Verdict.OTHER_ROWS, f"{len(actual)} rows in place of {len(expected)}: {[row.label for row in actual]}"
    for wanted, got in zip(expected, actual, strict=True):
        if _made(wanted) != _made(got):
            return Verdict.OTHER_COUNTS, f"{got.label}: {_made(got)} in place of {_made(wanted)}: {got.row.said}"
    return Verdict.RIGHT, ""


def _working(proof: Proof) -> list[RowProof]:
    idle = (FastenOff, Verbatim, ChangeColour, Begin, Chain)
    return [row for row in proof.rows if not all(isinstance(step, idle) for step in row.row.steps)]


def _made(row: RowProof) -> list[tuple[int, list[tuple[str, int]]]]:
    again = any(isinstance(step, Again) for step in row.row.steps)
    return [(0 if again else size.worked, _tally(size.made)) for size in row.sizes]


def _tally(made: object) -> list[tuple[str, int]]:
    counts: Counter[str] = Counter()
    for tally in made or ():  # type: ignore[attr-defined]
        if tally.kind != "group":
            kind = "together" if _TOGETHER.fullmatch(tally.kind) else tally.kind.replace("v-stitch", "v-st")
            counts[kind] += tally.number
    return sorted(counts.items())


def causes(judged: Judged) -> Judged:
    """The same failure in the plainest hand that has it: what is left of its choices caused it."""
    left = judged
    for name in sorted(judged.hand):
        other = judge(judged.pattern, without(Hand(left.hand), name))
        if other is not None and other.verdict is not Verdict.RIGHT:
            left = other
    return left


def judge_changed(pattern: Pattern, hand: Hand, random: Random) -> Judged | None:
    """One stated count of the text is changed by one: whether an error stands at its row."""
    right = written_by(pattern, hand)
    if right is None or _compared(pattern, read(right))[0] is not Verdict.RIGHT:
        return None
    rows = [row for part in pattern.document.parts for row in part.rows]
    able = [line for line in right.lines if line.counted and not _open(line.row)]
    if not able:
        return None
    line = random.choice(able)
    at = next(index for index, row in enumerate(rows) if row is line.row)
    text = written_by(pattern, Hand(hand.chosen), (at, random.choice([-1, 1])))
    if text is None or text.text == right.text:
        return None
    found = read(text)
    errors = [finding for finding in found.findings if finding.severity is Severity.ERROR]
    if any(line.first <= finding.span.line <= line.last for finding in errors):
        return Judged(pattern, dict(hand.chosen), text.text, Verdict.RIGHT)
    why = f"line {line.first + 1}; found: {[(f.code, f.span.line + 1) for f in found.findings]}"
    return Judged(pattern, dict(hand.chosen), text.text, Verdict.NOT_REPORTED, why)


def _open(row: Row) -> bool:
    """Whether a beginning chain of the row may or may not count, so that the count itself may decide it."""
    high = any(isinstance(step, Chain) and step.number != 1 for step in row.steps)
    return high or row.label.kind is RowKind.UNLABELLED


def hands(seed: int) -> Iterator[tuple[Random, Hand]]:
    """Hands without end, each with the chance that drew it."""
    number = seed
    while True:
        random = Random(number)
        yield random, draw_hand(random)
        number += 1
