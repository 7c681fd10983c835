"""Whatever a row holds: no exception, no hang, nothing of the text lost."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, given, settings
from msgspec import Struct

from convert.document.read import ReadOptions
from convert.document.records import TermSystem
from convert.document.steps import Group, Repeat, Step, Verbatim
from convert.errors import PatternError
from convert.limits import LIMITS
from convert.pipeline import check_source
from convert.source import NOWHERE, Source, Span
from convert.terms.naming import write_prose
from convert.terms.prose import read_prose
from convert.trade.words import words
from tests.fuzz.rows import OPEN, edited_rows, real_rows, soup
from tests.instructions.reading import read, written

LONG = ["sc in next st, ", "(", "[", "*", "(sc, ", "[sc in next st, ", "*sc, ch 1; rep from * around, ", "3 (4, 5) "]
LONG += ["ch-3 sp ", ". ", "— 12 sc ", "2 dc in next st and in ", "x 2 ", "zz ", "rep from * to ** ", "{", "{2 * ", "1"]
LONG += ["-", "sc "]
_OF_CHAIN = re.compile(
    r"\((?:\d+ )?skipped chs? (?:counts?|do(?:es)? not count) as [^()]*\)|, counting ch [^()]*(?=\))"
    r"|[.,] (?:The |Beg |turning )(?:chain|ch)[ -]?\d? ?(?:counts|does not count) as [^.]*(?=\.)"
)
"""What the chains at the hook or the beginning chain stand for: it is kept with the chain."""


def _verbatim(steps: tuple[Step, ...]) -> Iterator[Verbatim]:
    for step in steps:
        if isinstance(step, Verbatim):
            yield step
        elif isinstance(step, Group | Repeat):
            yield from _verbatim(step.steps)
            if isinstance(step, Repeat) and step.ending is not None:
                yield from _verbatim(step.ending.steps)


def _plain(text: str) -> str:
    """The text without white space, case, and the marks at its ends, which the writer sets as it needs them."""
    return "".join(text.split()).casefold().strip(".,;:")


def _count(words: str) -> str:
    """A figure alone without the brackets that the writer sets around a count in the middle of a row ("— 30 ...")."""
    return words.strip("()") if re.fullmatch(r"\(\d+\)", words) else words


def _evened(text: str, span: Span, system: TermSystem) -> str:
    """What stands there; a spelling that would mean another stitch in the other terms gives way to the standard one."""
    return _plain(write_prose(read_prose(text[span.column : span.end_column], system), system))


def _keeps_its_words(text: str, system: TermSystem) -> None:
    found = read(text, system)
    assert text == found.row.said
    line = _plain(written(found.row, system))
    kept = [(_plain(write_prose(step.words, system)), step.span) for step in _verbatim(found.row.steps)]
    assert [] == [
        words for words, span in kept if _count(words) not in _plain(text) and words not in _evened(text, span, system)
    ]
    assert [] == [words for words, _ in kept if words not in line], text


@pytest.mark.timeout(120)
@pytest.mark.parametrize("system", TermSystem)
def test_a_row_may_end_behind_any_word(system: TermSystem) -> None:
    """What a reader of clauses expects next may not be there."""
    for text in ["Row 2: Work in sc", *real_rows()[::5]]:
        cut = text.split(" ")[:_LONGEST]
        for end in range(1, len(cut)):
            read(" ".join(cut[:end]), system)
        read(" ".join(cut), system)


_LONGEST = 45
"""Words of a row up to which it is cut off."""


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(edited_rows())
def test_an_edited_row_keeps_its_words(text: str) -> None:
    """Said is the whole text; what is kept verbatim comes from it and is printed back."""
    _keeps_its_words(text, TermSystem.US)


@settings(max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(soup())
def test_soup_keeps_its_words(text: str) -> None:
    """The same for words in no order, in UK terms."""
    _keeps_its_words(text, TermSystem.UK)


@pytest.mark.timeout(60)
@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(edited_rows(), soup())
def test_a_pattern_of_such_rows_is_checked_to_the_end(first: str, second: str) -> None:
    """Read, worked and checked: findings, or the one exception that stops a run."""
    rows = ("6 sc in adjustable ring. (6)", first, second, "Sc in each st around.")
    lines = [f"Rnd {number}: {row}" for number, row in enumerate(rows, 1)]
    text = "\n".join(["Windfall", "", "US terms", "", *lines])
    try:
        checked = check_source(Source("windfall.txt", text), "text", ReadOptions())
    except PatternError:
        return
    assert checked.document is not None
    assert checked.findings or checked.proof is not None


@pytest.mark.parametrize("piece", LONG)
def test_a_long_line_is_read_in_bounded_time(piece: str) -> None:
    """As long as a row may be, and longer: read, or refused as too long, with the text kept."""
    for length in (LIMITS.row - 10, LIMITS.row + 10):
        text = (piece * (length // len(piece) + 1))[:length]
        found = read(text)
        assert text == found.row.said
        assert (length > LIMITS.row) == ("row-too-long" in {finding.code for finding in found.findings})


_ENDS = "to ending last rep at with the time only within in for and size sizes m l end making placing"
_COUNTS = " ".join((*words()["total-of"].forms, *words()["count-words"].forms, *words()["with"].forms))
JOINING = frozenset(re.split(r"[\W_]+", f"{_ENDS} {_COUNTS} flo blo".casefold()))
"""Words that join others and have no step of their own: "to last 3 sts", "you should have 24 sts", "Size M only"."""


def _spans(node: object) -> Iterator[Span]:
    """Every stretch of the text that a part of a row was read from."""
    if isinstance(node, Span):
        yield from () if node == NOWHERE else (node,)
    elif isinstance(node, tuple):
        for inner in node:
            yield from _spans(inner)
    elif isinstance(node, Struct):
        for name in node.__struct_fields__:
            yield from _spans(getattr(node, name))


@pytest.mark.parametrize("start", range(0, len(real_rows()), 50))
def test_every_word_of_a_real_row_has_been_read_as_something(start: int) -> None:
    """It lies within a label, a step, a stated count or a finding, or stands in a remark; only joining words do not."""
    lost: dict[str, list[str]] = {}
    for text in real_rows()[start : start + 50]:
        found = read(text)
        aside = _OF_CHAIN.search(text)
        parts = (found.row.label, found.row.steps, found.row.stated, found.findings)
        read_from = {at for part in parts for span in _spans(part) for at in range(span.column, span.end_column)}
        read_from |= set(range(*aside.span())) if aside else set()
        remark = write_prose(found.row.before, TermSystem.US)
        unread = [m.group() for m in re.finditer(r"[^\W_]+", text) if read_from.isdisjoint(range(*m.span()))]
        missing = [word for word in unread if word.casefold() not in JOINING and word not in remark]
        if missing and text not in OPEN:
            lost[text] = missing
    assert {} == lost


def test_there_are_rows_to_edit() -> None:
    """The fixtures hold a few hundred rows."""
    assert len(real_rows()) > 300
